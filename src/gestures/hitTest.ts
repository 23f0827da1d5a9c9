import { containsPoint } from '../geometry/area';
import { type Bounds, boundsMeet, pathBounds } from '../geometry/bounds';
import { nearestOnPath } from '../geometry/nearest';
import { pathLength } from '../geometry/path';
import type { Point } from '../geometry/point';
import type { Path } from '../geometry/segment';
import type { Selection } from '../store/appState';
import { formatLength } from '../units/length';
import { fanView } from './fanView';
import { type ScreenPoint, type TablePoint, tableAt } from './frames';
import type { Cursor } from './gesture';
import { type Handle, handlesOf } from './handles';
import { type PointerKind, reachMm } from './reach';
import { own, type ScenePiece, type TableScene } from './scene';

/** What lies under the pointer, uppermost first: handles, lines that slide, edges, the inside of pieces, drafts. */
export type Hit =
  | { readonly kind: 'handle'; readonly piece: string; readonly handle: Handle }
  | {
      readonly kind: 'line';
      readonly piece: string;
      readonly selection: Selection;
      readonly cursor: Cursor;
      readonly sentence: string;
    }
  | { readonly kind: 'edge'; readonly piece: string; readonly edge: string; readonly sentence: string }
  | { readonly kind: 'piece'; readonly piece: string; readonly sentence: string }
  | { readonly kind: 'shape'; readonly shape: string; readonly sentence: string };

export function hitTest(scene: TableScene, at: ScreenPoint, pointer: PointerKind): Hit | null {
  const table = tableAt(scene.camera, scene.view, at);
  const active = scene.pieces.find((piece) => piece.active);
  if (active !== undefined) {
    const p = own(active, table);
    const handle = nearestHandle(handlesOf(scene), p, reachMm('handle', pointer, scene.camera));
    if (handle !== null) return { kind: 'handle', piece: active.id, handle };
    const line = slidingLine(scene, active, p, reachMm('line', pointer, scene.camera));
    if (line !== null) return line;
  }
  return edgeUnder(scene, table, pointer) ?? pieceUnder(scene, table) ?? shapeUnder(scene, table, pointer);
}

function nearestHandle(handles: readonly Handle[], p: Point, reach: number): Handle | null {
  let best: Handle | null = null;
  let nearest = reach;
  for (const handle of handles) {
    const away = Math.hypot(handle.at.x - p.x, handle.at.y - p.y);
    // Where two lie on one spot the later one wins: curve handles lie over nodes, openings over slash lines.
    if (away > nearest) continue;
    nearest = away;
    best = handle;
  }
  return best;
}

/** The fullness line or a side of a slash under the point. */
function slidingLine(scene: TableScene, piece: ScenePiece, p: Point, reach: number): Hit | null {
  if (scene.place !== 'fan' || piece.fan === null || piece.fanned === null) return null;
  const view = fanView(piece.fanned, piece.fan);
  for (const [index, slash] of view.slashes.entries()) {
    if (!isNear(slash.centreSide, p, reach) && !isNear(slash.sideSide, p, reach)) continue;
    const selection: Selection = { kind: 'slash', piece: piece.id, slash: slash.id };
    return {
      kind: 'line',
      piece: piece.id,
      selection,
      cursor: 'ew-resize',
      sentence: `Drag slash line ${index + 1} sideways`,
    };
  }
  if (view.fullness !== null && isNear(view.fullness, p, reach)) {
    return {
      kind: 'line',
      piece: piece.id,
      selection: { kind: 'fullness-line', piece: piece.id },
      cursor: 'ns-resize',
      sentence: 'Drag the fullness line up or down',
    };
  }
  return null;
}

function isNear(path: Path, p: Point, reach: number): boolean {
  const spot = { minX: p.x, maxX: p.x, minY: p.y, maxY: p.y };
  const bounds = knownBounds.get(path) ?? pathBounds(path);
  knownBounds.set(path, bounds);
  return boundsMeet(bounds, spot, reach) && nearestOnPath(path, p).distance <= reach;
}

const knownBounds = new WeakMap<Path, Bounds>();

/** The outline shown for a piece in the present place, edge by edge. */
export function shownEdges(
  scene: TableScene,
  piece: ScenePiece,
): readonly { readonly id: string; readonly name: string; readonly path: Path }[] {
  if (scene.place === 'fan' && piece.fanned !== null) {
    return piece.fanned.edges.map((edge) => ({
      id: edge.id,
      name: edge.name,
      path: edge.segments.map((traced) => traced.segment),
    }));
  }
  return piece.worked.piece.edges;
}

function edgeUnder(scene: TableScene, table: TablePoint, pointer: PointerKind): Hit | null {
  let best: Hit | null = null;
  let nearest = reachMm('line', pointer, scene.camera);
  // The active piece is asked last, so that it wins where two pieces lie on one another.
  for (const piece of inOrder(scene)) {
    const p = own(piece, table);
    for (const edge of shownEdges(scene, piece)) {
      if (edge.path.length === 0 || !isNear(edge.path, p, nearest)) continue;
      nearest = nearestOnPath(edge.path, p).distance;
      const length = formatLength(pathLength(edge.path), scene.unit);
      best = { kind: 'edge', piece: piece.id, edge: edge.id, sentence: `${edge.name}, ${length}` };
    }
  }
  return best;
}

function pieceUnder(scene: TableScene, table: TablePoint): Hit | null {
  for (const piece of inOrder(scene).reverse()) {
    const outline = shownEdges(scene, piece).flatMap((edge) => edge.path);
    if (!containsPoint(outline, own(piece, table))) continue;
    const sentence = piece.active ? piece.block.name : `Click to work on ${piece.block.name}`;
    return { kind: 'piece', piece: piece.id, sentence };
  }
  return null;
}

function inOrder(scene: TableScene): ScenePiece[] {
  return [...scene.pieces].sort((a, b) => Number(a.active) - Number(b.active));
}

function shapeUnder(scene: TableScene, table: TablePoint, pointer: PointerKind): Hit | null {
  const p = { x: table.across, y: table.down };
  const reach = reachMm('line', pointer, scene.camera);
  for (const shape of scene.draft?.shapes ?? []) {
    if (!shape.closed || shape.id === scene.draft?.outline || !isNear(shape.path, p, reach)) continue;
    return { kind: 'shape', shape: shape.id, sentence: `Click to take ${shape.name} as the outline` };
  }
  return null;
}
