import { pathLength, pathPointAt } from '../geometry/path';
import { add, distance, heading, mix, type Point, quarterTurn, scale, subtract, unit } from '../geometry/point';
import { line, type Path, type Segment } from '../geometry/segment';
import type { Piece } from '../pattern/piece';
import { arrowHead, circlePath, closedShape, stroke, strokeLine, words } from './draw';
import type { DrawnItem } from './drawing';
import { foldStyle, grainStyle, internalStyle, markStyle, seamStyle } from './styles';
import { textWidth } from './textWidth';

const arrowLength = 6;
const markWordSize = 3.4;

/** Turns a direction so that words along it can be read from below or from the right. */
function readableTurn(direction: Point): number {
  const angle = heading(direction);
  return angle > Math.PI / 2 - 1e-9 || angle < -Math.PI / 2 - 1e-9 ? heading(scale(direction, -1)) : angle;
}

/** The grainline with an arrow at each end and its name beside it. */
export function grainItems(piece: Piece): DrawnItem[] {
  const grain = piece.grainline;
  if (!grain) return [];
  const along = unit(subtract(grain.end, grain.start));
  const turn = readableTurn(along);
  const above = { x: Math.sin(turn), y: -Math.cos(turn) };
  const at = add(mix(grain.start, grain.end, 0.5), scale(above, 1.2));
  return [
    strokeLine(grain.start, grain.end, grainStyle),
    arrowHead(grain.start, scale(along, -1), arrowLength),
    arrowHead(grain.end, along, arrowLength),
    ...(distance(grain.start, grain.end) > textWidth('grain', markWordSize) + 2 * arrowLength
      ? [words('grain', at, markWordSize, { turn, align: 'middle' })]
      : []),
  ];
}

/** The fold line itself and, inside the piece, the mark that points at it: "place on the fold". */
export function foldItems(fold: Segment): DrawnItem[] {
  const length = distance(fold.start, fold.end);
  const along = unit(subtract(fold.end, fold.start));
  const inward = scale(quarterTurn(along), -1);
  const depth = Math.min(14, length / 8);
  const half = Math.min(length * 0.32, 130);
  const middle = mix(fold.start, fold.end, 0.5);
  const ends = [add(middle, scale(along, -half)), add(middle, scale(along, half))];
  const turns = ends.map((end) => add(end, scale(inward, depth)));
  const turn = readableTurn(along);
  const above = { x: Math.sin(turn), y: -Math.cos(turn) };
  const outside = above.x * inward.x + above.y * inward.y > 0 ? 1.2 : 1.2 + markWordSize * 0.72;
  const at = add(add(middle, scale(inward, depth)), scale(inward, outside));
  const text = 'place on the fold';
  return [
    stroke([fold], foldStyle),
    stroke([line(ends[0]!, turns[0]!), line(turns[0]!, turns[1]!), line(turns[1]!, ends[1]!)], markStyle),
    arrowHead(ends[0]!, scale(inward, -1), Math.min(arrowLength, depth)),
    arrowHead(ends[1]!, scale(inward, -1), Math.min(arrowLength, depth)),
    ...(textWidth(text, markWordSize) < 2 * half ? [words(text, at, markWordSize, { turn, align: 'middle' })] : []),
  ];
}

/** Cross in a ring. */
export function drillItems(piece: Piece): DrawnItem[] {
  return piece.drillHoles.flatMap(({ at }) => [
    closedShape(circlePath(at, 1.6), markStyle),
    strokeLine({ x: at.x - 4, y: at.y }, { x: at.x + 4, y: at.y }, markStyle),
    strokeLine({ x: at.x, y: at.y - 4 }, { x: at.x, y: at.y + 4 }, markStyle),
  ]);
}

/** The two legs, dashed like the stitching line they are, and a ring at the apex. */
export function dartItems(piece: Piece): DrawnItem[] {
  return piece.darts.flatMap((dart) => [
    strokeLine(dart.legs[0], dart.apex, seamStyle),
    strokeLine(dart.legs[1], dart.apex, seamStyle),
    closedShape(circlePath(dart.apex, 1), markStyle),
  ]);
}

/** Internal lines with their names. */
export function internalItems(piece: Piece): DrawnItem[] {
  return piece.internalLines.flatMap((inner) => [
    stroke(inner.path, internalStyle),
    ...nameAlong(inner.name, inner.path),
  ]);
}

/** A small name along a path, where it is long enough. */
export function nameAlong(name: string, path: Path): DrawnItem[] {
  const length = pathLength(path, 0.01);
  const size = 2.8;
  if (name === '' || textWidth(name, size) > length * 0.5) return [];
  const { point: at, tangent } = pathPointAt(path, length * 0.3);
  const turn = readableTurn(tangent);
  return [
    words(name, add(at, { x: Math.sin(turn), y: -Math.cos(turn) }), size, { turn, align: 'middle', tone: 'soft' }),
  ];
}
