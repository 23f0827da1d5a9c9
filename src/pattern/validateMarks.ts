import { containsPoint } from '../geometry/area';
import { nearestOnPath } from '../geometry/nearest';
import { pathLength, subPath } from '../geometry/path';
import type { Point } from '../geometry/point';
import { dartMouthBow, markOnEdge } from '../geometry/tolerance';
import { mouthBow } from './addDart';
import { findEdge } from './lookUp';
import type { Dart, Piece } from './piece';
import { type Problem, problem, repeated, usableId } from './problem';
import { plausiblePoint, segmentPoints } from './validateOutline';

/** Rules of the marks of a piece whose outline is sound: each on an edge it names and within it, or inside the piece. */
export function validateMarks(piece: Piece): Problem[] {
  const marks = [...piece.notches, ...piece.drillHoles, ...piece.darts, ...piece.internalLines];
  const found: Problem[] = [];
  for (const id of repeated(marks.map((mark) => mark.id))) {
    found.push(
      problem('mark-twice', `“${piece.name}” has two marks with the same id, ${id}.`, { piece: piece.id, mark: id }),
    );
  }
  if (marks.some((mark) => !usableId(mark.id))) {
    found.push(problem('mark-unnamed', `A mark of “${piece.name}” has no id.`, { piece: piece.id }));
  }
  const loose = pointsOfMarks(piece);
  if (!loose.every(plausiblePoint)) {
    return [
      ...found,
      problem('number-missing', `A mark of “${piece.name}” has no proper position.`, { piece: piece.id }),
    ];
  }
  found.push(...validateNotches(piece), ...validateHoles(piece));
  found.push(...piece.darts.flatMap((dart) => validateDart(piece, dart)));
  const grain = piece.grainline;
  if (grain && grain.start.x === grain.end.x && grain.start.y === grain.end.y) {
    found.push(
      problem('grainline-empty', `The grainline of “${piece.name}” has no length. Draw it longer.`, {
        piece: piece.id,
      }),
    );
  }
  for (const line of piece.internalLines) {
    if (line.path.length === 0) {
      found.push(
        problem('line-empty', `The line “${line.name}” of “${piece.name}” is empty.`, {
          piece: piece.id,
          mark: line.id,
        }),
      );
    }
  }
  return found;
}

function pointsOfMarks(piece: Piece): Point[] {
  return [
    ...piece.drillHoles.map((hole) => hole.at),
    ...piece.darts.flatMap((dart) => [dart.apex, ...dart.legs]),
    ...piece.internalLines.flatMap((line) => line.path.flatMap(segmentPoints)),
    ...(piece.grainline ? [piece.grainline.start, piece.grainline.end] : []),
    ...(piece.labelAt ? [piece.labelAt] : []),
  ];
}

function validateNotches(piece: Piece): Problem[] {
  const found: Problem[] = [];
  for (const notch of piece.notches) {
    const where = { piece: piece.id, edge: notch.edge, mark: notch.id };
    const edge = findEdge(piece, notch.edge);
    if (!edge) {
      found.push(problem('notch-edge-unknown', `A notch of “${piece.name}” sits on an edge that is not there.`, where));
    } else if (!(notch.distance >= 0 && notch.distance <= pathLength(edge.path) + markOnEdge)) {
      found.push(
        problem('notch-off-edge', `A notch of “${piece.name}” lies beyond the end of “${edge.name}”. Move it.`, where),
      );
    }
  }
  return found;
}

function validateHoles(piece: Piece): Problem[] {
  const outline = piece.edges.flatMap((edge) => edge.path);
  return piece.drillHoles
    .filter((hole) => !containsPoint(outline, hole.at))
    .map((hole) =>
      problem('hole-outside', `A drill hole of “${piece.name}” lies outside the piece. Move it inside.`, {
        piece: piece.id,
        mark: hole.id,
      }),
    );
}

function validateDart(piece: Piece, dart: Dart): Problem[] {
  const where = { piece: piece.id, edge: dart.edge, mark: dart.id };
  const edge = findEdge(piece, dart.edge);
  if (!edge)
    return [problem('dart-edge-unknown', `A dart of “${piece.name}” opens on an edge that is not there.`, where)];
  const [first, second] = dart.legs.map((leg) => nearestOnPath(edge.path, leg));
  if (first!.distance > markOnEdge || second!.distance > markOnEdge) {
    return [problem('dart-off-edge', `The legs of a dart of “${piece.name}” do not end on “${edge.name}”.`, where)];
  }
  if (!(first!.along < second!.along)) {
    return [
      problem('dart-legs-swapped', `The legs of a dart of “${piece.name}” run against its outline. Swap them.`, where),
    ];
  }
  if (mouthBow(subPath(edge.path, first!.along, second!.along), dart.legs) > dartMouthBow) {
    return [
      problem(
        'dart-mouth-bent',
        `“${edge.name}” of “${piece.name}” bends too much between the legs of a dart. Draw it straight there, or move the legs nearer together.`,
        where,
      ),
    ];
  }
  const outline = piece.edges.flatMap((other) => other.path);
  if (!containsPoint(outline, dart.apex)) {
    return [problem('dart-apex-outside', `The point of a dart of “${piece.name}” lies outside the piece.`, where)];
  }
  return [];
}
