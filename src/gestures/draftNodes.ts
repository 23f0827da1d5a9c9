import type { Point } from '../geometry/point';
import type { Piece } from '../pattern/piece';
import type { BringInDraft, DraftNode } from '../store/bringIn';
import { withStep } from '../store/draftHistory';
import { letGo } from './drag';
import { type ScreenPoint, screenDistance, tableAt, tablePoint } from './frames';
import type { Effects, Mark, PointerSample, Step, TableEvent } from './gesture';
import { moveHandle, moveNode, outlineNodes } from './outlineEdit';
import { reachMm, reachPixels } from './reach';
import type { TableScene } from './scene';

/** A point or curve handle of an outline that is not a piece yet, being dragged. */
export interface DraftNodeDrag {
  readonly kind: 'draft-node';
  readonly pointer: number;
  readonly pressedAt: ScreenPoint;
  readonly pressed: Point;
  readonly spot: DraftSpot;
  /** The draft as it was when the press began. */
  readonly before: BringInDraft;
  readonly began: boolean;
}

/** Something on the outline that can be taken hold of, mm on the table. */
export interface DraftSpot {
  readonly node: DraftNode;
  readonly at: Point;
  /** The node a curve handle belongs to. */
  readonly stem: Point | null;
  readonly name: string;
}

/** The outline whose points can be moved now; null while another tool is in hand, or none is chosen. */
export function openOutline(scene: TableScene): BringInDraft | null {
  const { draft, tool, place } = scene;
  const ready = draft !== null && draft.path !== null && draft.scale.kind === 'certain';
  return ready && tool === 'hand' && place === 'bring-in' ? draft : null;
}

const known = new WeakMap<BringInDraft, readonly DraftSpot[]>();

/** The points of the outline in order, and the curve handles of the chosen one. */
export function draftSpots(draft: BringInDraft): readonly DraftSpot[] {
  const before = known.get(draft);
  if (before !== undefined) return before;
  const chosen = draft.node ?? null;
  const spots = outlineNodes(asPiece(draft)).flatMap(({ segment, at, handleIn, handleOut }): DraftSpot[] => {
    const own: DraftSpot = { node: { segment, handle: null }, at, stem: null, name: `Point ${segment + 1}` };
    if (chosen?.segment !== segment) return [own];
    const handle = (which: 'in' | 'out', end: Point | null): DraftSpot[] =>
      end === null
        ? []
        : [{ node: { segment, handle: which }, at: end, stem: at, name: `Curve handle of point ${segment + 1}` }];
    return [own, ...handle('in', handleIn), ...handle('out', handleOut)];
  });
  known.set(draft, spots);
  return spots;
}

export function pressOnOutline(
  pointer: PointerSample,
  scene: TableScene,
): (Effects & { active: DraftNodeDrag }) | null {
  const draft = openOutline(scene);
  const spot = draft === null ? null : spotUnder(pointer, scene, draft);
  if (draft === null || spot === null) return null;
  const active: DraftNodeDrag = {
    kind: 'draft-node',
    pointer: pointer.id,
    pressedAt: pointer.at,
    pressed: placeOf(pointer.at, scene),
    spot,
    before: draft,
    began: false,
  };
  return { active, layDraft: { ...draft, node: spot.node }, hint: saysOfSpot(spot), marks: [], cursor: 'move' };
}

export function hoverOutline(pointer: PointerSample, scene: TableScene): Effects | null {
  const draft = openOutline(scene);
  const spot = draft === null ? null : spotUnder(pointer, scene, draft);
  return spot === null ? null : { marks: [], hint: saysOfSpot(spot), cursor: 'move' };
}

/** Moves the point with the pointer; over a picture it is caught by the drawn line or the paper's edge, unless Alt is held. */
export function dragDraftNode(state: DraftNodeDrag, event: TableEvent, scene: TableScene): Step<DraftNodeDrag> {
  const chosen = { ...state.before, node: state.spot.node };
  const drop = { ...letGo, layDraft: chosen };
  if (event.type === 'key' && event.key === 'Escape') return drop;
  if (!('pointer' in event) || event.pointer.id !== state.pointer) return { state };
  if (event.type === 'cancel') return drop;
  if (event.type !== 'move' && event.type !== 'release') return { state };
  const { pointer } = event;
  const began = state.began || screenDistance(pointer.at, state.pressedAt) >= reachPixels('drag', pointer.kind);
  if (!began) return { state: event.type === 'release' ? null : state, cursor: 'move' };
  const at = placeOf(pointer.at, scene);
  const to = { x: state.spot.at.x + at.x - state.pressed.x, y: state.spot.at.y + at.y - state.pressed.y };
  const seen =
    scene.seeLine === null || pointer.alt || state.spot.node.handle !== null
      ? null
      : scene.seeLine(to, reachMm('snap', pointer.kind, scene.camera));
  const marks: Mark[] = seen === null ? [] : [{ kind: 'snap', at: tablePoint(seen.at.x, seen.at.y), word: seen.word }];
  const layDraft = moveDraftNode(chosen, state.spot.node, seen?.at ?? to, pointer.shift);
  if (event.type === 'release') {
    return { state: null, layDraft: remembering(state.before, layDraft), marks: [], hint: null };
  }
  return { state: { ...state, began }, layDraft, marks, cursor: 'move' };
}

/** The outline with a point, or one handle of its curves, elsewhere. Its corners and names stay. */
export function moveDraftNode(
  draft: BringInDraft,
  { segment, handle }: DraftNode,
  to: Point,
  alone: boolean,
): BringInDraft {
  const piece = asPiece(draft);
  const place = { edge: outlineEdge, segment };
  const moved = handle === null ? moveNode(piece, place, to) : moveHandle(piece, place, handle, to, alone);
  return { ...draft, path: moved.edges[0]!.path };
}

export function chosenDraftSpot(draft: BringInDraft): DraftSpot | null {
  return draftSpots(draft).find(({ node }) => sameNode(node, draft.node ?? null)) ?? null;
}

/** The draft with the next point chosen; null past the last one. */
export function nextDraftSpot(draft: BringInDraft, backwards: boolean): DraftSpot | null {
  const spots = draftSpots(draft);
  const at = spots.findIndex(({ node }) => sameNode(node, draft.node ?? null));
  if (at < 0) return (backwards ? spots.at(-1) : spots[0]) ?? null;
  return spots[at + (backwards ? -1 : 1)] ?? null;
}

/** mm that one arrow press moves a point; ten times that with Shift. */
const nudge = 0.1;

export function nudgeDraftNode(draft: BringInDraft, right: number, down: number, large: boolean): BringInDraft {
  const spot = chosenDraftSpot(draft);
  if (spot === null) return draft;
  const step = nudge * (large ? 10 : 1);
  const to = { x: spot.at.x + right * step, y: spot.at.y + down * step };
  return remembering(draft, moveDraftNode(draft, spot.node, to, false));
}

export function saysOfSpot({ name }: DraftSpot): string {
  return `${name}: drag it, or move it with the arrow keys`;
}

/** The moved outline, with the way it ran before to go back to. */
function remembering(before: BringInDraft, moved: BringInDraft): BringInDraft {
  return withStep(before, moved, 'the last move of a point');
}

const outlineEdge = 'outline';

/** The outline as a piece of one edge, so that it is edited by the same rules as every piece. */
function asPiece({ path, name }: BringInDraft): Piece {
  return {
    id: '',
    name,
    size: null,
    edges: [{ id: outlineEdge, name: '', role: 'other', path: path ?? [] }],
    notches: [],
    grainline: null,
    fold: null,
    drillHoles: [],
    darts: [],
    internalLines: [],
    labelAt: null,
    cutCount: 1,
  };
}

function sameNode(a: DraftNode, b: DraftNode | null): boolean {
  return b !== null && a.segment === b.segment && a.handle === b.handle;
}

function spotUnder(pointer: PointerSample, scene: TableScene, draft: BringInDraft): DraftSpot | null {
  const at = placeOf(pointer.at, scene);
  let best: DraftSpot | null = null;
  let nearest = reachMm('handle', pointer.kind, scene.camera);
  for (const spot of draftSpots(draft)) {
    const away = Math.hypot(spot.at.x - at.x, spot.at.y - at.y);
    // Curve handles lie over the point they belong to.
    if (away > nearest) continue;
    nearest = away;
    best = spot;
  }
  return best;
}

function placeOf(at: ScreenPoint, scene: TableScene): Point {
  const { across, down } = tableAt(scene.camera, scene.view, at);
  return { x: across, y: down };
}
