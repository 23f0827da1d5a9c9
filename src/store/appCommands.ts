import type { StoreApi } from 'zustand/vanilla';
import type { Outcome } from '../geometry/outcome';
import type { BlockPiece, Garment, LengthUnit, SeamEnd } from '../pattern/garment';
import type { CentreRule, FanStep, FinishStep, FullnessLine, Opening, TrueStep } from '../pattern/recipe';
import type { AppActions, AppState } from './appState';

/** `preview` shows the change live and makes no undo step; `commit` makes one. A drag and a typed number share one path. */
export type Mode = 'preview' | 'commit';

/**
 * What a maker can do to the document, each one undo step with a label in the maker's words. Every command answers
 * the document it made, or a failure whose sentence is also set as the notice; the last good state stays.
 *
 * Commands that change a recipe work on the active version. With the block on the table they start a new version first
 * (in the same undo step, locking the block), so the block itself never changes. Lengths in mm, angles in radians;
 * `mode` is 'commit' unless given.
 */
export interface AppCommands {
  newGarment(name: string, unit: LengthUnit): void;
  renameGarment(name: string): Outcome<Garment>;
  setUnit(unit: LengthUnit): Outcome<Garment>;

  /** Hangs a new, still unlocked piece on the rack and puts it on the table. */
  addPiece(piece: BlockPiece): Outcome<Garment>;
  /** Redraws a piece that is not locked yet: outline, edges, fold, grainline and marks. */
  changeBlock(label: string, piece: string, change: (block: BlockPiece) => BlockPiece, mode?: Mode): Outcome<Garment>;
  /** Locks every block piece; from then on none of them changes. */
  lockBlocks(): Outcome<Garment>;
  linkSeams(first: SeamEnd, second: SeamEnd, ease?: number): Outcome<Garment>;
  unlinkSeams(link: string): Outcome<Garment>;

  /** A new version from the block with no recipe, taken down at once. Without a name it is called Version 1, 2, ... */
  startVersion(name?: string): Outcome<Garment>;
  /** Keeps what is on the table under a new name and takes that down; the version it came from stays as it was. */
  saveVersionAs(name: string): Outcome<Garment>;
  renameVersion(version: string, name: string): Outcome<Garment>;
  noteVersion(version: string, note: string): Outcome<Garment>;
  duplicateVersion(version: string): Outcome<Garment>;
  deleteVersion(version: string): Outcome<Garment>;

  /** The fan step of a piece in the active version, or the default one it would start from. */
  fanOf(piece: string): Outcome<FanStep>;
  /** null takes the fan away. */
  setFan(piece: string, step: FanStep | null, mode?: Mode): Outcome<Garment>;
  /** Spaces `count` slash lines evenly; openings are kept in order, further ones take the last. */
  setSlashCount(piece: string, count: number, mode?: Mode): Outcome<Garment>;
  /** Opening at the hem for every slash line; negative overlaps. */
  setOpeningForAll(piece: string, hem: number, mode?: Mode): Outcome<Garment>;
  setOpening(piece: string, slash: string, hem: number, mode?: Mode): Outcome<Garment>;
  /** Opens a slash line, or with null every one, by a turn about its hinge, radians; negative overlaps. */
  setTurn(piece: string, slash: string | null, angle: number, mode?: Mode): Outcome<Garment>;
  /** Gives every opening in another measure; the piece stays as it is. */
  setOpeningMeasure(piece: string, measure: Opening['measure'], mode?: Mode): Outcome<Garment>;
  /** `across` as in SlashLine: 0 at the centre line, 1 at the side. */
  moveSlash(piece: string, slash: string, across: number, mode?: Mode): Outcome<Garment>;
  tiltSlash(piece: string, slash: string, tilt: number, mode?: Mode): Outcome<Garment>;
  moveFullnessLine(piece: string, downSide: number, mode?: Mode): Outcome<Garment>;
  /** null lets the slash lines run right through to the far edge. */
  setFullnessLine(piece: string, line: FullnessLine | null, mode?: Mode): Outcome<Garment>;
  setCentreRule(piece: string, rule: CentreRule, mode?: Mode): Outcome<Garment>;
  setSideTurn(piece: string, hem: number, mode?: Mode): Outcome<Garment>;
  /** Closes a share of a dart (0 to 1) into the hem; 0 leaves it open. */
  closeDart(piece: string, dart: string, share: number, mode?: Mode): Outcome<Garment>;
  /** Where the slash of a closed dart leaves the hem: fraction of the hem from the centre line; null: straight down. */
  setDartFoot(piece: string, dart: string, foot: number | null, mode?: Mode): Outcome<Garment>;
  /** Opens all slash lines in their present proportion until the hem of the piece measures `target` mm. */
  fanToSweep(piece: string, target: number, mode?: Mode): Outcome<Garment>;

  /** null leaves the fanned piece untrued. */
  setTrue(piece: string, step: TrueStep | null, mode?: Mode): Outcome<Garment>;
  /** Replays the recipe of `fromPiece` on the pieces sewn to its side seam. */
  matchPartner(fromPiece: string): Outcome<Garment>;
  /** null takes the allowances away. */
  setFinish(piece: string, step: FinishStep | null, mode?: Mode): Outcome<Garment>;
}

/** The app's one store: state to subscribe to, actions that keep its rules, commands in the maker's words. */
export type AppStore = StoreApi<AppState> & { readonly actions: AppActions; readonly commands: AppCommands };
