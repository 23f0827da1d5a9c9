import { endTangent, pathEnd, pathLength, pathStart } from '../../geometry/path';
import { add, distance, dot, type Point, scale, subtract, unit } from '../../geometry/point';
import { line, type Path } from '../../geometry/segment';
import { centreFillAdvice, centreOvershoot, straightEdge } from '../../geometry/tolerance';
import type { HemCurve } from '../../pattern/recipe';
import type { TracedSegment } from '../worked';
import { bothUnits } from './bothUnits';
import { type OpenedSides, towardsSide } from './openedSides';
import { pathOf, splitTraced, tracedLength } from './tracedPath';

/** The redrawn centre line, travelled down to the hem. */
export interface TrueCentre {
  readonly segments: readonly TracedSegment[];
  /** The hem corner, and the direction of the centre line there. */
  readonly corner: Point;
  readonly down: Point;
  /** Width of cloth filled in between centre strip and centre line at the hem, mm; negative where width is cut off. */
  readonly fillAtHem: number;
  /** How far the corner lies below the hem of the centre strip, mm. */
  readonly shift: number;
  readonly warnings: readonly string[];
}

/**
 * Draws the centre line straight from its fixed upper end to the foot of the centre strip's hem corner on the old line;
 * the strip between is filled with cloth. Where no fullness line was cut the centre line is as it was and only its hem
 * end is moved by the maker's drop. Null when the hem is taken up past the whole line.
 */
export function trueCentre(sides: OpenedSides, hem: HemCurve, edge: string): TrueCentre | null {
  const { centre, block, outward } = sides;
  const upper = partAbove(sides);
  if (upper.length === centre.length) return lowered(centre, hem.drop.centre, edge);

  const start = pathStart(pathOf(centre));
  const straight = isStraight(block.centre);
  const breakAt = pathEnd(pathOf(upper));
  const down = straight ? unit(subtract(breakAt, start)) : endTangent(pathOf(upper));
  const inward = towardsSide(down, outward);
  const strip = centre.slice(upper.length).filter(({ origin }) => origin.kind === 'own');
  const stripTop = strip[0]!.segment.start;
  const stripCorner = pathEnd(pathOf(centre));
  const inside = (p: Point) => dot(subtract(p, start), inward);
  const fillAtHem = inside(stripCorner);
  const foot = add(start, scale(down, dot(subtract(stripCorner, start), down)));
  const keptLength =
    hem.level === 'keep-centre-length' ? pathLength(block.centre) - lengthTo(foot, start, upper, straight) : 0;
  const shift = keptLength + hem.drop.centre;
  const corner = add(foot, scale(down, shift));

  const warnings: string[] = [];
  const overshoot = -Math.min(inside(stripTop), fillAtHem);
  if (overshoot > centreOvershoot) {
    warnings.push(
      `The centre strip swings ${bothUnits(overshoot)} over the centre line and that width would be cut off. Slide the strips instead, or lean the fullness line less.`,
    );
  }
  if (fillAtHem > centreFillAdvice) {
    warnings.push(
      `A strip ${bothUnits(fillAtHem)} wide is filled in down the centre line. More slash lines or smaller openings make it narrower.`,
    );
  }
  if (!straight) warnings.push('Below the fullness line the curved centre line was redrawn straight.');
  const from = straight ? start : breakAt;
  if (dot(subtract(corner, from), down) <= 0) return null;
  return {
    segments: [...(straight ? [] : upper), { segment: line(from, corner), origin: { kind: 'trued', edges: [edge] } }],
    corner,
    down: unit(subtract(corner, from)),
    fillAtHem,
    shift,
    warnings,
  };
}

/** The part of the centre line that stays with the piece above the fullness line. */
function partAbove({ centre }: OpenedSides): TracedSegment[] {
  const first = centre[0]!.origin;
  const end = centre.findIndex(
    ({ origin }) => origin.kind !== 'own' || (first.kind === 'own' && origin.panel !== first.panel),
  );
  return end < 0 ? [...centre] : centre.slice(0, end);
}

function lengthTo(foot: Point, start: Point, upper: readonly TracedSegment[], straight: boolean): number {
  return straight ? distance(start, foot) : tracedLength(upper) + distance(pathEnd(pathOf(upper)), foot);
}

/** The centre line lengthened (or shortened) at its hem end. */
function lowered(centre: readonly TracedSegment[], drop: number, edge: string): TrueCentre | null {
  const corner = pathEnd(pathOf(centre));
  const down = endTangent(pathOf(centre));
  const rest = { fillAtHem: 0, shift: drop, warnings: [] };
  if (drop === 0) return { segments: centre, corner, down, ...rest };
  if (drop < 0) {
    const kept = splitTraced(centre, tracedLength(centre) + drop)[0];
    if (kept.length === 0) return null;
    return { segments: kept, corner: pathEnd(pathOf(kept)), down: endTangent(pathOf(kept)), ...rest };
  }
  const lower = add(corner, scale(down, drop));
  const last = centre[centre.length - 1]!;
  // A straight end is made longer rather than given a second piece, so that a fold stays one line.
  const segments: TracedSegment[] =
    last.segment.kind === 'line'
      ? [...centre.slice(0, -1), { segment: line(last.segment.start, lower), origin: { kind: 'trued', edges: [edge] } }]
      : [...centre, { segment: line(corner, lower), origin: { kind: 'trued', edges: [edge] } }];
  return { segments, corner: lower, down, ...rest };
}

/** Whether every point and handle of a path lies on the line between its ends. */
export function isStraight(path: Path): boolean {
  const start = pathStart(path);
  const along = unit(subtract(pathEnd(path), start));
  const off = (p: Point) => Math.abs((p.x - start.x) * along.y - (p.y - start.y) * along.x);
  return path.every(
    (segment) =>
      off(segment.start) <= straightEdge &&
      off(segment.end) <= straightEdge &&
      (segment.kind === 'line' || (off(segment.control1) <= straightEdge && off(segment.control2) <= straightEdge)),
  );
}
