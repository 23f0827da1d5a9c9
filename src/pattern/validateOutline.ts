import { enclosedArea } from '../geometry/area';
import { selfIntersections } from '../geometry/intersect';
import type { Point } from '../geometry/point';
import type { Path, Segment } from '../geometry/segment';
import type { Edge, Piece } from './piece';
import { type Problem, problem, repeated, usableId } from './problem';

/** Farthest a point may lie from the origin, mm. Beyond it a piece was brought in at a wrong scale. */
const farthestPoint = 50_000;

/** The corner points and handles of a segment. */
export function segmentPoints(segment: Segment): Point[] {
  return segment.kind === 'line'
    ? [segment.start, segment.end]
    : [segment.start, segment.control1, segment.control2, segment.end];
}

/** Whether a point is a pair of finite numbers within reach of any real piece. */
export function plausiblePoint(p: Point): boolean {
  return Math.abs(p.x) <= farthestPoint && Math.abs(p.y) <= farthestPoint;
}

/**
 * Rules of an outline: named edges without repeats, every number finite, each segment and edge starting exactly where
 * the one before ends, closed, running the agreed way round, never crossing itself, and a fold that is one straight line.
 * Later rules need the earlier ones, so the check stops at the first group that finds something.
 */
export function validateOutline(piece: Piece): Problem[] {
  const naming = validateEdgeNames(piece);
  if (naming.length > 0) return naming;
  const drawing = piece.edges.flatMap((edge) => validateSegments(piece, edge));
  if (drawing.length > 0) return drawing;
  const joints = validateJoints(piece);
  if (joints.length > 0) return joints;
  return [...validateShape(piece), ...validateFold(piece)];
}

function validateEdgeNames(piece: Piece): Problem[] {
  const where = { piece: piece.id };
  if (piece.edges.length < 2) {
    return [problem('outline-too-few-edges', `“${piece.name}” needs an outline of at least two edges.`, where)];
  }
  const found: Problem[] = [];
  for (const id of repeated(piece.edges.map((edge) => edge.id))) {
    found.push(problem('edge-twice', `“${piece.name}” has two edges with the same id, ${id}.`, { ...where, edge: id }));
  }
  for (const edge of piece.edges) {
    if (!usableId(edge.id) || edge.name.trim() === '') {
      found.push(problem('edge-unnamed', `An edge of “${piece.name}” has no name.`, { ...where, edge: edge.id }));
    }
  }
  return found;
}

function validateSegments(piece: Piece, edge: Edge): Problem[] {
  const where = { piece: piece.id, edge: edge.id };
  if (edge.path.length === 0) {
    return [problem('edge-empty', `The edge “${edge.name}” of “${piece.name}” has no line.`, where)];
  }
  const points = edge.path.flatMap(segmentPoints);
  if (!points.every((p) => Number.isFinite(p.x) && Number.isFinite(p.y))) {
    return [problem('number-missing', `A point of “${edge.name}” on “${piece.name}” is not a number.`, where)];
  }
  if (!points.every(plausiblePoint)) {
    return [problem('piece-too-large', `“${piece.name}” is more than 50 m across. Check its scale.`, where)];
  }
  if (edge.path.some((segment) => segmentPoints(segment).every((p) => samePoint(p, segment.start)))) {
    return [
      problem('point-twice', `“${edge.name}” of “${piece.name}” has the same point twice in a row. Remove one.`, where),
    ];
  }
  return [];
}

function validateJoints(piece: Piece): Problem[] {
  const found: Problem[] = [];
  const last = piece.edges.at(-1)!;
  let before = { edge: last, segment: last.path.at(-1)! };
  for (const edge of piece.edges) {
    for (const segment of edge.path) {
      if (!samePoint(before.segment.end, segment.start)) {
        const place =
          before.edge === edge ? `inside “${edge.name}”` : `between “${before.edge.name}” and “${edge.name}”`;
        found.push(
          problem('outline-gap', `The outline of “${piece.name}” has a gap ${place}. Join the two ends.`, {
            piece: piece.id,
            edge: edge.id,
          }),
        );
      }
      before = { edge, segment };
    }
  }
  return found;
}

function validateShape(piece: Piece): Problem[] {
  const outline: Path = piece.edges.flatMap((edge) => edge.path);
  const where = { piece: piece.id };
  if (selfIntersections(outline).length > 0) {
    return [
      problem('outline-crosses', `The outline of “${piece.name}” crosses itself. Draw it as one simple loop.`, where),
    ];
  }
  const area = enclosedArea(outline);
  if (area < 0) {
    return [
      problem(
        'outline-wrong-way',
        `The outline of “${piece.name}” runs clockwise; it must run the other way round.`,
        where,
      ),
    ];
  }
  if (area === 0) return [problem('outline-flat', `The outline of “${piece.name}” encloses nothing.`, where)];
  return [];
}

function validateFold(piece: Piece): Problem[] {
  if (piece.fold === null) return [];
  const where = { piece: piece.id, edge: piece.fold };
  const edge = piece.edges.find((candidate) => candidate.id === piece.fold);
  if (!edge) return [problem('fold-unknown', `The fold of “${piece.name}” is not one of its edges.`, where)];
  if (edge.path.length !== 1 || edge.path[0]!.kind !== 'line') {
    return [
      problem(
        'fold-not-straight',
        `“${edge.name}” of “${piece.name}” lies on the fold, so it must be one straight line.`,
        where,
      ),
    ];
  }
  return [];
}

function samePoint(a: Point, b: Point): boolean {
  return a.x === b.x && a.y === b.y;
}
