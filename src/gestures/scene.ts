import type { Point } from '../geometry/point';
import type { Path } from '../geometry/segment';
import type { FannedPiece, WorkedPiece } from '../operations/worked';
import type { BlockPiece, LengthUnit } from '../pattern/garment';
import type { Piece } from '../pattern/piece';
import type { FanStep, FinishStep, TrueStep } from '../pattern/recipe';
import type { Camera, Place, Selection, Tool } from '../store/appState';
import type { BringInDraft, PenDraft } from '../store/bringIn';
import type { PageSnap, PagesDraft } from '../store/pagesDraft';
import type { PictureDraft, Underlay } from '../store/pictureDraft';
import { inPiece, onTable, type TablePoint, type ViewSize } from './frames';
import type { TableLayout } from './layout';

/** A piece as it lies on the table: the untouched block, the shown result, and where its origin is. */
export interface ScenePiece {
  readonly id: string;
  readonly block: BlockPiece;
  /** The active version's result, with a preview already worked in. */
  readonly worked: WorkedPiece;
  readonly offset: TablePoint;
  readonly active: boolean;
  readonly fan: FanStep | null;
  /** The piece cut and opened by `fan`; null when there is no fan. */
  readonly fanned: FannedPiece | null;
  /** True while `fan` is only what Hingeline would start with: nothing is cut yet. */
  readonly proposed: boolean;
  readonly trueing: TrueStep | null;
  readonly finish: FinishStep | null;
  /** The same piece of the ghost version, drawn faintly under it. */
  readonly ghost: Piece | null;
}

/** Everything the gestures and the drawing need to know, as plain data. */
export interface TableScene {
  readonly place: Place;
  readonly tool: Tool;
  readonly unit: LengthUnit;
  readonly pieces: readonly ScenePiece[];
  readonly layout: TableLayout;
  /** null: the block itself is on the table. */
  readonly activeVersion: string | null;
  readonly selection: Selection | null;
  readonly camera: Camera;
  readonly view: ViewSize;
  readonly draft: BringInDraft | null;
  readonly pen: PenDraft;
  /** Where the stitching line runs inside the draft's cut line, mm; null when the outline is no cut line. */
  readonly inset: Path | null;
  readonly pages: PagesDraft | null;
  /** Finds where a page laid by hand meets its neighbours; null where that cannot be told. */
  readonly snapPage: SnapPage | null;
  readonly picture: PictureDraft | null;
  readonly underlay: Underlay | null;
  /** Finds a dark line or an edge on the picture under the outline; null where there is no picture to look at. */
  readonly seeLine: SeeLine | null;
}

/** Where page `page`, its corner laid at `at` (table mm), meets the others no further than `reach` mm away; null where it does not. */
export type SnapPage = (pages: PagesDraft, page: number, at: Point, reach: number) => PageSnap | null;

/** The drawn line or paper edge nearest to a place (mm in the picture's frame: the table's, or the piece's it lies under), no further than `reach` mm; null where there is none. */
export type SeeLine = (at: Point, reach: number) => { readonly at: Point; readonly word: string } | null;

export function activePieceOf(scene: TableScene): ScenePiece | null {
  return scene.pieces.find((piece) => piece.active) ?? null;
}

export function pieceOf(scene: TableScene, id: string): ScenePiece | null {
  return scene.pieces.find((piece) => piece.id === id) ?? null;
}

/** Whether the block itself may be redrawn here: only before it is locked, and only while it is what lies on the table. */
export function isRedrawable(scene: TableScene, piece: ScenePiece): boolean {
  return !piece.block.locked && scene.activeVersion === null;
}

/** Whether the picture a piece was taken from still lies under it. */
export function isOverPicture(scene: TableScene, piece: ScenePiece): boolean {
  const { underlay, place } = scene;
  return underlay?.piece === piece.id && (place === 'mark' || place === 'bring-in') && isRedrawable(scene, piece);
}

/** A piece's own point on the table. */
export function placed(piece: ScenePiece, p: Point): TablePoint {
  return onTable(p, piece.offset);
}

/** A table point in the piece's own frame. */
export function own(piece: ScenePiece, p: TablePoint): Point {
  return inPiece(p, piece.offset);
}
