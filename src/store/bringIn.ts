import { createStore, type StoreApi } from 'zustand/vanilla';
import type { DrawnMark, DrawnShape } from '../exchange/drawing/drawingReading';
import type { LineGroup } from '../exchange/drawing/lineGroups';
import type { Point } from '../geometry/point';
import type { Path } from '../geometry/segment';
import type { EdgeRole } from '../pattern/piece';
import { type DraftStep, stepTakenBack, withStep } from './draftHistory';
import type { PagesDraft } from './pagesDraft';
import type { PictureDraft, Underlay } from './pictureDraft';

/**
 * What lies on the table before it is a pattern piece: shapes read from a file or drawn with the pen, the corners
 * that will part the outline into edges, and the question of scale. None of it is in the document and none of it is
 * undone; naming the edges turns it into a block piece by one ordinary commit.
 */
export interface BringInState {
  readonly draft: BringInDraft | null;
  /** The outline being drawn with the pen; no nodes when nothing is under way. */
  readonly pen: PenDraft;
  /** Pages of a file that are still to be laid together; null when there are none. */
  readonly pages: PagesDraft | null;
  /** What is being worked on in the background; null when nothing is. */
  readonly work: Work | null;
  /** Pictures on their way to an outline; null when there are none. They stay while an outline is taken from them. */
  readonly picture: PictureDraft | null;
  /** The picture a piece was taken from, left under it until it is locked. */
  readonly underlay: Underlay | null;
  /** Where the stitching line would run inside a chosen cut line, mm; null when the outline is no cut line. */
  readonly inset: Path | null;
  /** What the maker is asked before what lies here is put away; null when nothing is asked. */
  readonly question: PutAwayQuestion | null;
}

/** Work that would be lost is put away only when the maker says so. */
export interface PutAwayQuestion {
  readonly title: string;
  /** What would be lost. */
  readonly warning: string;
  /** What is done when it may: `Open the other file`. */
  readonly instead: string;
  readonly answer: (putAway: boolean) => void;
}

/** A long piece of work under way, so that it can be watched and stopped. */
export interface Work {
  /** What is being done, for the maker: `Reading the pages`. */
  readonly doing: string;
  /** 0 to 1; null while that is not known. */
  readonly share: number | null;
  /** Stops it; what lies on the table stays as it was. */
  readonly stop: () => void;
  /** Shown from the first moment, not only once it takes a while; absent for false. */
  readonly atOnce?: boolean;
}

export interface BringInDraft {
  /** File name, or a few words such as `drawn by hand`. */
  readonly source: string;
  /** Name the piece will get. */
  readonly name: string;
  /** Everything that was read, mm (file units as mm while the scale is still asked for), y down. */
  readonly shapes: readonly DraftShape[];
  /** Id of the shape that is the outline; null until one is chosen. */
  readonly outline: string | null;
  /** The chosen outline, closed, counter-clockwise as seen on screen; null until one is chosen. */
  readonly path: Path | null;
  /** In order along `path`. Each says where an edge starts and what that edge is. */
  readonly corners: readonly DraftCorner[];
  readonly scale: DraftScale;
  /** What was done to the lines of its pages when they were laid together, for the maker. */
  readonly pageNotes?: readonly string[];
  /** What was joined and left out of the file's lines, for the maker. */
  readonly notes?: readonly string[];
  /** What to look at before it becomes a piece, for the maker; absent where nothing is in doubt. */
  readonly heed?: readonly string[];
  /** Stretches of the outline where the picture leaves its place in doubt, mm; absent where there are none. */
  readonly doubtful?: readonly Path[];
  /** What the maker did to it, oldest first, to be taken back; absent where nothing was done. */
  readonly earlier?: readonly DraftStep<BringInDraft>[];
  /** The point or curve handle of the outline that keys move; null or absent for none. */
  readonly node?: DraftNode | null;
  /** The end of the fold that keys move while no point is chosen; null or absent for none. */
  readonly foldEnd?: 'from' | 'to' | null;
  /** Id of the straightened picture that the outline was taken from; absent for everything else. */
  readonly takenFrom?: string;
  /** How the chosen outline was redrawn, for the maker; null when it is as it was read. */
  readonly outlineNote?: string | null;
  /** Every line of the file at its true size, mm, before any were joined; absent for an outline drawn by hand. */
  readonly lines?: readonly DrawnShape[];
  /** How the lines fall into groups by look and layer, and which groups are wanted; absent where there is but one. */
  readonly groups?: LineChoice;
  /** Ends of lines this near are joined, mm. */
  readonly gap?: number;
  /** What the outline is; null until the maker has said. */
  readonly outlineIs?: OutlineIs | null;
  /** Size the maker gives it, as written. */
  readonly size?: string;
  /** How the piece lies on the paper; null or absent until the maker has said. */
  readonly lie?: DraftLie | null;
  /** How many to cut; 1 unless the maker says otherwise. */
  readonly cutCount?: number;
  /** Marks the file gives beside its lines, mm. */
  readonly marks?: readonly DrawnMark[];
  /** Seam allowance that a cut line includes wherever an edge has none of its own, mm. */
  readonly allowance?: number;
}

/** The point an outline's segment starts at, or one of the curve handles there. */
export interface DraftNode {
  readonly segment: number;
  readonly handle: 'in' | 'out' | null;
}

/** How a piece lies on the paper. */
export interface DraftLie {
  /** `half`: one edge is the fold. `both-sides`: drawn whole, to be folded in half. `as-it-lies`: cut as it is drawn. */
  readonly is: 'half' | 'both-sides' | 'as-it-lies';
  /** Where a piece drawn whole is folded; null while no line is chosen. */
  readonly line: FoldLine | null;
  /** Which half is drawn: the mean of both, or the one that `sideOf` the line counts positive or negative. */
  readonly kept: 'mean' | 'plus' | 'minus';
  /** The piece as it lay before it was folded in half; null while it is not. */
  readonly whole: Pick<BringInDraft, 'path' | 'corners' | 'marks'> | null;
  /** What folding did, for the maker. */
  readonly said: readonly string[];
}

/** A line to fold at, from edge to edge, mm: its ends, and how far both sides are apart about it at most, and where. */
export interface FoldLine {
  readonly from: Point;
  readonly to: Point;
  readonly apart: number;
  readonly apartAt: Point;
}

/** Whether an outline is sewn along or cut along. */
export type OutlineIs = 'stitching-line' | 'cut-line';

export interface LineChoice {
  readonly all: readonly LineGroup[];
  /** Keys of the groups that are wanted. */
  readonly kept: readonly string[];
  /** Whether the maker has said so. */
  readonly settled: boolean;
}

export interface DraftShape {
  readonly id: string;
  readonly name: string;
  readonly path: Path;
  readonly closed: boolean;
  /** What else tells it from its neighbours: layer, dashes; sizes are often kept apart by them. */
  readonly told?: string;
  /** Lengths of its dashes and gaps, mm; absent where it is solid. */
  readonly dash?: readonly number[];
  /** Ids of the lines of the file it was joined from. */
  readonly from?: readonly string[];
  /** Words that stand inside it or close by, to be offered as the piece's name; absent where there are none. */
  readonly nearText?: string;
}

/** A corner of an outline, and the edge that starts there (running on to the next corner). */
export interface DraftCorner {
  /** Index of the outline's segment. */
  readonly segment: number;
  /** Parameter on that segment, 0 up to but not including 1. */
  readonly t: number;
  readonly name: string;
  readonly role: EdgeRole;
  /** True for the edge that lies on the fabric fold. */
  readonly onFold?: boolean;
  /** Allowance that this edge of a cut line includes, mm; absent where it is the same as all round. */
  readonly allowance?: number;
}

export type DraftScale =
  /** `unchecked` while nothing in the file confirms what it states; a check is then offered. */
  | { readonly kind: 'certain'; readonly sentence: string; readonly unchecked?: boolean }
  /** One known length is needed. `from` and `to` are the two points measured on the table, null until measured. */
  | {
      readonly kind: 'ask';
      readonly sentence: string;
      readonly from: Point | null;
      readonly to: Point | null;
      /** Usual scales, offered and never chosen for the maker. */
      readonly suggestions?: readonly { readonly label: string; readonly mmPerUnit: number }[];
      /** The scale the file states, while the length given only checks it; absent while there is none. */
      readonly checks?: Extract<DraftScale, { kind: 'certain' }>;
    };

/** A point set with the pen, with its curve handles (absolute points, mm); null handles make a plain corner. */
export interface PenNode {
  readonly at: Point;
  readonly handleIn: Point | null;
  readonly handleOut: Point | null;
}

export interface PenDraft {
  readonly nodes: readonly PenNode[];
  /** Where the next point would go; null while the pointer is away. */
  readonly next: Point | null;
}

export interface BringInActions {
  /** Lays a draft on the table, or takes it off with null. */
  layDraft(draft: BringInDraft | null): void;
  /** Lays the corners elsewhere; with `what` as one step to take back from `before`, from how they lie now unless given. */
  setCorners(corners: readonly DraftCorner[], what?: string, before?: readonly DraftCorner[]): void;
  /** Shows where the stitching line would run, or nothing with null. */
  showInset(inset: Path | null): void;
  /** Shows what is being worked on, or with null that nothing is. */
  showWork(work: Work | null): void;
  /** Asks whether what lies here may be put away, or with null asks nothing any more. */
  ask(question: PutAwayQuestion | null): void;
  /** Lays the whole table as it was left. */
  layAgain(table: Pick<BringInState, 'draft' | 'pen' | 'pages' | 'picture' | 'underlay'>): void;
  /** Takes everything off: drawings, pages, pictures, and what the pen has drawn. */
  clearAway(): void;
  /** The two ends of the known length, mm on the table. Nothing happens when no length is asked for. */
  measureScale(from: Point, to: Point): void;
  drawPen(pen: PenDraft): void;
  /** Lays a picture on the table, or takes it off with null. */
  layPicture(picture: PictureDraft | null): void;
  /** Changes the picture on the table; nothing happens when there is none. */
  changePicture(change: (picture: PictureDraft) => PictureDraft): void;
  /** The outline has become a piece: its picture, if it came from one, stays under it. */
  leaveUnder(piece: string): void;
  /** Takes up the picture that lies under the last piece again, for a further piece on it. */
  takeUpAgain(): void;
  /** Lays pages on the table, or takes them off with null. */
  layPages(pages: PagesDraft | null): void;
  /** Takes back one point of the pen, or one change of the draft; true when there was one to take back. */
  takeBackPoint(): boolean;
}

export type BringInStore = StoreApi<BringInState> & { readonly actions: BringInActions };

export const noPen: PenDraft = { nodes: [], next: null };

export function createBringInStore(): BringInStore {
  const store = createStore<BringInState>(() => ({
    draft: null,
    pen: noPen,
    pages: null,
    work: null,
    inset: null,
    picture: null,
    underlay: null,
    question: null,
  }));
  const actions: BringInActions = {
    layDraft: (draft) => store.setState({ draft }),
    layPages: (pages) => store.setState({ pages }),
    showInset: (inset) => store.setState({ inset }),
    showWork: (work) => store.setState({ work }),
    ask: (question) => store.setState({ question }),
    layAgain: (table) => store.setState(table),
    clearAway: () => store.setState({ draft: null, pen: noPen, pages: null, picture: null, underlay: null }),
    setCorners: (corners, what, before) => {
      const { draft } = store.getState();
      if (draft === null) return;
      const laid = { ...draft, corners };
      const was = { ...draft, corners: before ?? draft.corners };
      store.setState({ draft: what === undefined ? laid : withStep(was, laid, what) });
    },
    measureScale: (from, to) => {
      const { draft } = store.getState();
      if (draft?.scale.kind !== 'ask') return;
      store.setState({ draft: { ...draft, scale: { ...draft.scale, from, to } } });
    },
    drawPen: (pen) => store.setState({ pen }),
    layPicture: (picture) => store.setState({ picture, underlay: null }),
    changePicture: (change) => {
      const { picture } = store.getState();
      if (picture !== null) store.setState({ picture: change(picture) });
    },
    takeUpAgain: () => {
      const { underlay } = store.getState();
      if (underlay !== null) store.setState({ picture: underlay.picture });
    },
    leaveUnder: (piece) => {
      const { draft, picture } = store.getState();
      const flat = picture?.flat ?? null;
      if (picture === null || flat === null || draft?.takenFrom !== flat.id) return;
      store.setState({ picture: null, underlay: { flat, piece, picture: { ...picture, inside: null } } });
    },
    takeBackPoint: () => {
      const { pen, draft } = store.getState();
      if (pen.nodes.length === 0) {
        const before = draft === null ? null : stepTakenBack(draft);
        if (before === null) return false;
        store.setState({ draft: before });
        return true;
      }
      store.setState({ pen: { ...pen, nodes: pen.nodes.slice(0, -1) } });
      return true;
    },
  };
  return Object.assign(store, { actions });
}
