import { add, distance, dot, norm, type Point, scale, subtract } from '../../geometry/point';
import type { Path, Segment } from '../../geometry/segment';
import { unitTangentAt } from '../../geometry/tangent';
import { foldSquareWithin, straightEnough } from '../../geometry/tolerance';

/** How an edge comes in at the fold. */
export interface FoldEnd {
  readonly at: Point;
  /** How far it was from square to the fold, radians, 0 or more. */
  readonly off: number;
  /** `square`: it is square now; `kept`: it comes in as the paper has it; `corner`: the outline has a corner there. */
  readonly drawn: 'square' | 'kept' | 'corner';
}

/**
 * The line of a half with both its ends square to the fold, where they nearly are: a curve's handle is turned, a straight
 * line's end slid along the fold by `straightEnough` at most. Ends farther than `foldSquareWithin` from square, and
 * corners on the fold, stay as the paper has them. `along` runs along the fold, `inward` into the half; both unit.
 */
export function squaredAtFold(
  half: Path,
  along: Point,
  inward: Point,
  cornered: readonly [boolean, boolean],
): { readonly path: Path; readonly ends: readonly FoldEnd[] } {
  const path = [...half];
  const start = squaredStart(path[0]!, along, inward, cornered[0]);
  path[0] = start.segment;
  const last = path.at(-1)!;
  const end = squaredStart(turned(last), along, inward, cornered[1]);
  path[path.length - 1] = turned(end.segment);
  return { path, ends: [start.end, end.end] };
}

function squaredStart(segment: Segment, along: Point, inward: Point, cornered: boolean) {
  const leaving = unitTangentAt(segment, 0);
  const off = Math.abs(Math.atan2(dot(leaving, along), dot(leaving, inward)));
  const kept = (drawn: FoldEnd['drawn']) => ({ segment, end: { at: segment.start, off, drawn } });
  if (cornered) return kept('corner');
  if (off > foldSquareWithin) return kept('kept');
  if (segment.kind === 'cubic') {
    const handle = norm(subtract(segment.control1, segment.start));
    const control1 = add(segment.start, scale(inward, handle));
    return { segment: { ...segment, control1 }, end: { at: segment.start, off, drawn: 'square' as const } };
  }
  const foot = add(segment.start, scale(along, dot(along, subtract(segment.end, segment.start))));
  if (distance(foot, segment.start) > straightEnough) return kept('kept');
  return { segment: { ...segment, start: foot }, end: { at: foot, off, drawn: 'square' as const } };
}

function turned(segment: Segment): Segment {
  return segment.kind === 'line'
    ? { ...segment, start: segment.end, end: segment.start }
    : {
        ...segment,
        start: segment.end,
        control1: segment.control2,
        control2: segment.control1,
        end: segment.start,
      };
}
