import { enclosedArea } from '../geometry/area';
import { add, distance, type Point, point, subtract } from '../geometry/point';
import { cubic, line, type Path, reversePath, type Segment } from '../geometry/segment';
import { type BringInDraft, noPen, type PenDraft, type PenNode } from '../store/bringIn';
import { type PictureDraft, saidOf } from '../store/pictureDraft';
import { formatLength } from '../units/length';
import { type ScreenPoint, screenAt, screenDistance, type TablePoint, tableAt, tablePoint } from './frames';
import type { Effects, Mark, PointerSample, Step, TableEvent } from './gesture';
import { reachMm, reachPixels } from './reach';
import type { SeeLine, TableScene } from './scene';
import { snapPoint, snapTargets } from './snapping';
import { wholeStep } from './wholeUnits';

/** A press of the pen: a point is set at once, and dragging on pulls its curve handles out. */
export interface PenPress {
  readonly kind: 'pen';
  readonly pointer: number;
  readonly pressedAt: ScreenPoint;
  /** What was drawn before this press. */
  readonly before: PenDraft;
  readonly node: PenNode;
  readonly closing: boolean;
}

/** Where the next point would go, with what it snaps to. */
export function hoverPen(
  pointer: PointerSample,
  scene: TableScene,
): Pick<Effects, 'pen' | 'marks' | 'hint' | 'cursor'> {
  const { pen } = scene;
  if (closesHere(pointer, scene)) {
    const first = pen.nodes[0]!.at;
    return {
      pen: { ...pen, next: first },
      marks: [{ kind: 'snap', at: tablePoint(first.x, first.y), word: 'close' }],
      hint: 'Click the first point to close the outline',
      cursor: 'pointer',
    };
  }
  const snapped = snapTo(pointer, scene);
  const next = point(snapped.at.across, snapped.at.down);
  const last = pen.nodes.at(-1);
  const hint =
    last === undefined
      ? 'Click for a corner, drag for a curve'
      : `${formatLength(distance(last.at, next), scene.unit)} from the last point${snapped.word ? ` (${snapped.word})` : ''}`;
  return { pen: { ...pen, next }, marks: snapped.marks, hint, cursor: 'crosshair' };
}

export function startPen(pointer: PointerSample, scene: TableScene): Step<PenPress> {
  const before = { ...scene.pen, next: null };
  const closing = closesHere(pointer, scene);
  const snapped = snapTo(pointer, scene);
  const at = closing ? before.nodes[0]!.at : point(snapped.at.across, snapped.at.down);
  const node: PenNode = closing ? before.nodes[0]! : { at, handleIn: null, handleOut: null };
  const state: PenPress = { kind: 'pen', pointer: pointer.id, pressedAt: pointer.at, before, node, closing };
  if (closing) return { state };
  const last = before.nodes.at(-1);
  // A second point on top of the last one would make an edge without length.
  if (last !== undefined && distance(last.at, at) === 0) return { state: null };
  return { state, pen: { nodes: [...before.nodes, node], next: null }, marks: snapped.marks };
}

/** Pulls the handles of the point just set; release keeps it. Escape or cancel takes this point back, no more. */
export function drawPen(state: PenPress, event: TableEvent, scene: TableScene): Step<PenPress> {
  const drop = { state: null, pen: state.before, marks: [] as Mark[], hint: null };
  if (event.type === 'key' && event.key === 'Escape') return drop;
  if (!('pointer' in event) || event.pointer.id !== state.pointer) return { state };
  if (event.type === 'cancel') return drop;
  if (event.type !== 'move' && event.type !== 'release') return { state };
  const { pointer } = event;
  const pulled = screenDistance(pointer.at, state.pressedAt) >= reachPixels('drag', pointer.kind);
  const node = pulled ? withHandles(state.node, handleEnd(state, pointer, scene)) : state.node;
  const nodes = state.closing ? [node, ...state.before.nodes.slice(1)] : [...state.before.nodes, node];
  if (event.type === 'move') return { state, pen: { nodes, next: null }, marks: [], cursor: 'crosshair' };
  if (state.closing) return closePen(nodes, scene.picture);
  return { state: null, pen: { nodes, next: null }, marks: [] };
}

/** Keys while an outline is being drawn and no button is down. null for keys that mean nothing here. */
export function penKey(key: string, pen: PenDraft, picture: PictureDraft | null): Effects | null {
  if (pen.nodes.length === 0) return null;
  switch (key) {
    case 'Enter':
      return canClose(pen)
        ? closePen(pen.nodes, picture)
        : { hint: 'Set at least three points before closing the outline' };
    case 'Backspace':
      return { pen: { ...pen, nodes: pen.nodes.slice(0, -1) } };
    case 'Escape':
      return { pen: noPen, marks: [], hint: null };
    default:
      return null;
  }
}

/** Three points, or two with a curve between them, enclose something. */
function canClose(pen: PenDraft): boolean {
  return pen.nodes.length >= 3 || (pen.nodes.length === 2 && Math.abs(enclosedArea(penPath(pen.nodes, true))) > 1);
}

/** The path through the nodes, mm; closed back to the first node when asked. */
export function penPath(nodes: readonly PenNode[], closed: boolean): Path {
  const segments: Segment[] = [];
  nodes.forEach((node, index) => {
    const next = nodes[index + 1] ?? (closed ? nodes[0]! : null);
    if (next !== null && next !== node) segments.push(between(node, next));
  });
  return segments;
}

function between(from: PenNode, to: PenNode): Segment {
  if (from.handleOut === null && to.handleIn === null) return line(from.at, to.at);
  return cubic(from.at, from.handleOut ?? from.at, to.handleIn ?? to.at, to.at);
}

/** Lays the finished outline down as a draft. Points without handles are where its edges will part. */
function closePen(nodes: readonly PenNode[], picture: PictureDraft | null): Step<never> {
  const drawn = penPath(nodes, true);
  // Drawn the other way round, the path is turned; its first point stays first.
  const turned = enclosedArea(drawn) < 0;
  const path = turned ? reversePath(drawn) : drawn;
  const inOrder = turned ? [nodes[0]!, ...nodes.slice(1).reverse()] : nodes;
  const corners = inOrder
    .map((node, segment) => ({ node, segment }))
    .filter(({ node }) => node.handleIn === null || node.handleOut === null)
    .map(({ segment }, index) => ({ segment, t: 0, name: `Edge ${index + 1}`, role: 'other' as const }));
  const draft: BringInDraft = {
    source: 'drawn by hand',
    name: 'New piece',
    shapes: [{ id: 'drawn', name: 'Outline', path, closed: true }],
    outline: 'drawn',
    path,
    corners,
    scale: { kind: 'certain', sentence: 'Drawn on the table at true scale.' },
    ...traced(picture),
  };
  return { state: null, pen: noPen, layDraft: draft, marks: [], hint: null };
}

/** What is to be said of an outline traced over a picture. */
function traced(picture: PictureDraft | null): Partial<BringInDraft> {
  const [first] = picture?.parts ?? [];
  if (picture === null || picture.flat === null || first === undefined) return {};
  return {
    source: first.source,
    scale: { kind: 'certain', sentence: 'Traced by hand over a straightened picture.' },
    notes: saidOf(picture),
    takenFrom: picture.flat.id,
  };
}

function withHandles(node: PenNode, out: Point): PenNode {
  return { ...node, handleOut: out, handleIn: add(node.at, subtract(node.at, out)) };
}

function handleEnd(state: PenPress, pointer: PointerSample, scene: TableScene): Point {
  const from = tablePoint(state.node.at.x, state.node.at.y);
  const snapped = snapPoint(tableAt(scene.camera, scene.view, pointer.at), {
    targets: { points: [], paths: [] },
    reach: reachMm('snap', pointer.kind, scene.camera),
    from,
    step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
    free: pointer.alt,
  });
  return point(snapped.at.across, snapped.at.down);
}

/** Over a picture the drawn line or the paper's edge is followed, and nothing else: no whole lengths, no right angles. */
function snapToPicture(pointer: PointerSample, scene: TableScene, seeLine: SeeLine) {
  const at = tableAt(scene.camera, scene.view, pointer.at);
  const seen = pointer.alt ? null : seeLine(point(at.across, at.down), reachMm('snap', pointer.kind, scene.camera));
  if (seen === null) return { at, word: null, marks: [] };
  const there = tablePoint(seen.at.x, seen.at.y);
  const mark: Mark = { kind: 'snap', at: there, word: seen.word };
  return { at: there, word: seen.word, marks: [mark] };
}

function closesHere(pointer: PointerSample, scene: TableScene): boolean {
  const first = scene.pen.nodes[0];
  if (first === undefined || !canClose(scene.pen)) return false;
  const there = screenAt(scene.camera, scene.view, tablePoint(first.at.x, first.at.y));
  return screenDistance(pointer.at, there) <= reachPixels('handle', pointer.kind);
}

function snapTo(
  pointer: PointerSample,
  scene: TableScene,
): { readonly at: TablePoint; readonly word: string | null; readonly marks: readonly Mark[] } {
  const last = scene.pen.nodes.at(-1);
  if (scene.seeLine !== null) return snapToPicture(pointer, scene, scene.seeLine);
  return snapPoint(tableAt(scene.camera, scene.view, pointer.at), {
    targets: snapTargets(scene),
    reach: reachMm('snap', pointer.kind, scene.camera),
    from: last === undefined ? null : tablePoint(last.at.x, last.at.y),
    step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
    free: pointer.alt,
  });
}
