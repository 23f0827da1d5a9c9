import { intersectPaths } from '../geometry/intersect';
import { nearestOnPath } from '../geometry/nearest';
import { pathLength, pathPointAt } from '../geometry/path';
import { add, distance, type Point, quarterTurn, scale } from '../geometry/point';
import { line, type Path } from '../geometry/segment';
import type { Piece } from '../pattern/piece';
import { strokeLine } from './draw';
import type { DrawnItem } from './drawing';
import { markStyle } from './styles';

/** Half the distance between the two ticks of a double notch, mm. */
const doubleHalfGap = 3;
/** Length of a notch on an edge without allowance, drawn inward, mm. */
const inwardTick = 6;
/** How far outside the stitching line a cut line is looked for, mm; beyond the widest allowance taken. */
const searchReach = 600;

/** A notch as ticks: from the cut line to the stitching line, or inward from an edge that has no allowance. */
export function notchItems(piece: Piece, cutLine: Path | null): DrawnItem[] {
  return piece.notches.flatMap((notch) => {
    const edge = piece.edges.find((e) => e.id === notch.edge);
    if (!edge) return [];
    const length = pathLength(edge.path);
    const offsets = notch.style === 'double' ? [-doubleHalfGap, doubleHalfGap] : [0];
    return offsets.map((offset) => {
      const distanceAlong = Math.min(length, Math.max(0, notch.distance + offset));
      return tick(edge.path, distanceAlong, cutLine);
    });
  });
}

/** Ticks where the legs of a dart leave the edge. */
export function dartTicks(piece: Piece, cutLine: Path | null): DrawnItem[] {
  return piece.darts.flatMap((dart) => {
    const edge = piece.edges.find((e) => e.id === dart.edge);
    if (!edge) return [];
    return dart.legs.map((leg) => tick(edge.path, nearestOnPath(edge.path, leg).along, cutLine));
  });
}

function tick(path: Path, along: number, cutLine: Path | null): DrawnItem {
  const { point: at, tangent } = pathPointAt(path, along);
  const out = quarterTurn(tangent);
  const onCut = cutLine ? outwardMeeting(at, out, cutLine) : null;
  return onCut && distance(at, onCut) > 1
    ? strokeLine(onCut, at, markStyle)
    : strokeLine(onCut ?? at, add(onCut ?? at, scale(out, -inwardTick)), markStyle);
}

/** The first point of the cut line straight out from a point of the stitching line. */
function outwardMeeting(at: Point, out: Point, cutLine: Path): Point | null {
  const ray = line(add(at, scale(out, -1e-3)), add(at, scale(out, searchReach)));
  return intersectPaths([ray], cutLine)[0]?.point ?? null;
}
