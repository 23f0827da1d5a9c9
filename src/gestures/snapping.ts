import { boundsMeet, pathBounds } from '../geometry/bounds';
import { nearestOnPath } from '../geometry/nearest';
import { endTangent, pathEnd, pathPointAt, pathStart, startTangent } from '../geometry/path';
import { cross, dot, type Point, point, quarterTurn } from '../geometry/point';
import type { Path } from '../geometry/segment';
import { nameInSentence } from '../pattern/nameInSentence';
import { onTable, type TablePoint, tablePoint } from './frames';
import type { Mark } from './gesture';
import type { TableScene } from './scene';

/** Things a point may snap to, in table mm. */
export interface SnapTargets {
  readonly points: readonly { readonly at: TablePoint; readonly word: string }[];
  readonly paths: readonly { readonly path: Path; readonly offset: TablePoint; readonly word: string }[];
}

export interface SnapOptions {
  readonly targets: SnapTargets;
  /** How near is near enough, mm. */
  readonly reach: number;
  /** Where the line being drawn starts; lengths, right angles and parallels are taken from here. */
  readonly from: TablePoint | null;
  /** Whole step of length from `from`, mm. */
  readonly step: number;
  /** Alt held: nothing snaps. */
  readonly free: boolean;
}

export interface Snapped {
  readonly at: TablePoint;
  readonly word: string | null;
  readonly marks: readonly Mark[];
}

/** Every corner, notch, hole and edge that is on the table; `except` leaves out what is being dragged itself. */
export function snapTargets(scene: TableScene, except: readonly TablePoint[] = []): SnapTargets {
  const points: { at: TablePoint; word: string }[] = [];
  const paths: { path: Path; offset: TablePoint; word: string }[] = [];
  for (const { worked, offset } of scene.pieces) {
    const { piece } = worked;
    for (const edge of piece.edges) {
      paths.push({ path: edge.path, offset, word: nameInSentence(edge.name) || 'edge' });
      edge.path.forEach((segment, index) => {
        points.push({ at: onTable(segment.start, offset), word: index === 0 ? 'corner' : 'node' });
      });
    }
    for (const notch of piece.notches) {
      const edge = piece.edges.find((candidate) => candidate.id === notch.edge);
      if (edge) points.push({ at: onTable(pathPointAt(edge.path, notch.distance).point, offset), word: 'notch' });
    }
    for (const hole of piece.drillHoles) points.push({ at: onTable(hole.at, offset), word: 'drill hole' });
    for (const dart of piece.darts) points.push({ at: onTable(dart.apex, offset), word: 'dart point' });
  }
  for (const shape of scene.draft?.shapes ?? []) {
    const offset = tablePoint(0, 0);
    paths.push({ path: shape.path, offset, word: 'edge' });
    for (const segment of shape.path) points.push({ at: onTable(segment.start, offset), word: 'node' });
    if (!shape.closed) points.push({ at: onTable(pathEnd(shape.path), offset), word: 'end' });
  }
  for (const node of scene.pen.nodes) points.push({ at: onTable(node.at, tablePoint(0, 0)), word: 'point' });
  const free = points.filter(({ at }) => !except.some((other) => apart(at, other) === 0));
  return { points: free, paths };
}

/**
 * Moves a point to the nearest thing worth meeting, and says what it met: first points, then edges (their square foot
 * from `from` before any other place on them), then directions square or parallel to the nearest edge and to the
 * sheet, then whole lengths from `from`.
 */
export function snapPoint(p: TablePoint, options: SnapOptions): Snapped {
  const { targets, reach, from, free } = options;
  if (free) return { at: p, word: null, marks: [] };

  const met = nearestPoint(p, targets, reach);
  if (met !== null) return answer(met.at, met.word);

  const edge = nearestEdge(p, targets, reach);
  if (edge !== null) {
    if (from !== null) {
      const foot = squareFoot(from, edge.path, edge.offset, p, reach);
      if (foot !== null) return answer(foot, 'square to the edge', [{ kind: 'guide', from, to: foot }]);
    }
    return answer(edge.at, `on ${edge.word}`);
  }

  if (from === null) return { at: p, word: null, marks: [] };
  const line = alignedDirection(p, from, targets, reach);
  if (line !== null) {
    const length = wholeLength(line.length, options.step);
    const at = tablePoint(from.across + line.direction.x * length, from.down + line.direction.y * length);
    return answer(at, line.word, [{ kind: 'guide', from, to: at }]);
  }
  const length = apart(p, from);
  if (length === 0) return { at: p, word: null, marks: [] };
  const factor = wholeLength(length, options.step) / length;
  const at = tablePoint(from.across + (p.across - from.across) * factor, from.down + (p.down - from.down) * factor);
  return { at, word: null, marks: [] };
}

function answer(at: TablePoint, word: string, more: readonly Mark[] = []): Snapped {
  return { at, word, marks: [{ kind: 'snap', at, word }, ...more] };
}

function wholeLength(length: number, step: number): number {
  return Math.max(step, Math.round(length / step) * step);
}

function apart(a: TablePoint, b: TablePoint): number {
  return Math.hypot(b.across - a.across, b.down - a.down);
}

function nearestPoint(p: TablePoint, targets: SnapTargets, reach: number) {
  let best: { at: TablePoint; word: string } | null = null;
  let nearest = reach;
  for (const target of targets.points) {
    const away = apart(p, target.at);
    // A later point at the same distance does not replace an earlier one, so corners win over nodes laid on them.
    if (away < nearest || (away === nearest && best === null)) {
      best = target;
      nearest = away;
    }
  }
  return best;
}

function nearestEdge(p: TablePoint, targets: SnapTargets, reach: number) {
  let best: { at: TablePoint; word: string; path: Path; offset: TablePoint } | null = null;
  let nearest = reach;
  for (const { path, offset, word } of targets.paths) {
    const q = point(p.across - offset.across, p.down - offset.down);
    if (path.length === 0 || !boundsMeet(pathBounds(path), { minX: q.x, maxX: q.x, minY: q.y, maxY: q.y }, nearest))
      continue;
    const place = nearestOnPath(path, q);
    if (place.distance <= nearest) {
      nearest = place.distance;
      best = { at: onTable(place.point, offset), word, path, offset };
    }
  }
  return best;
}

/** The place on an edge near p where a line from `from` meets it at a right angle. */
function squareFoot(from: TablePoint, path: Path, offset: TablePoint, p: TablePoint, reach: number): TablePoint | null {
  const place = nearestOnPath(path, point(from.across - offset.across, from.down - offset.down));
  const foot = onTable(place.point, offset);
  const tangent = pathPointAt(path, place.along).tangent;
  const arm = point(foot.across - from.across, foot.down - from.down);
  const isSquare = Math.abs(dot(arm, tangent)) <= 1e-6 * Math.max(1, Math.hypot(arm.x, arm.y));
  return isSquare && apart(foot, from) > 0 && apart(foot, p) <= reach ? foot : null;
}

interface Direction {
  readonly direction: Point;
  readonly word: string;
}

/** The line through `from`, level, upright, or along or square to an edge that starts or ends there, nearest to p. */
function alignedDirection(p: TablePoint, from: TablePoint, targets: SnapTargets, reach: number) {
  const arm = point(p.across - from.across, p.down - from.down);
  const candidates: Direction[] = [
    { direction: point(1, 0), word: 'level' },
    { direction: point(0, 1), word: 'upright' },
    ...edgeDirections(targets),
  ];
  let best: { direction: Point; length: number; word: string } | null = null;
  let nearest = reach;
  for (const { direction, word } of candidates) {
    const away = Math.abs(cross(direction, arm));
    const along = dot(direction, arm);
    if (away >= nearest || Math.abs(along) <= reach) continue;
    nearest = away;
    best = { direction: along < 0 ? point(-direction.x, -direction.y) : direction, length: Math.abs(along), word };
  }
  return best;
}

/** Directions of the straight edges on the table, each with its square. */
function edgeDirections(targets: SnapTargets): Direction[] {
  return targets.paths.flatMap(({ path, word }) => {
    if (path.length === 0) return [];
    const tangent = startTangent(path);
    const straight = path.length === 1 && path[0]!.kind === 'line' && Math.abs(cross(tangent, endTangent(path))) < 1e-9;
    if (!straight || pathStart(path) === pathEnd(path)) return [];
    return [
      { direction: tangent, word: `parallel to ${word}` },
      { direction: quarterTurn(tangent), word: `square to ${word}` },
    ];
  });
}
