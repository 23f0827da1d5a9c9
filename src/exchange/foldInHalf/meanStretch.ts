import { flattenPath } from '../../geometry/flatten';
import { distance, mix, type Point } from '../../geometry/point';
import { cubic, line, type Path, type Segment } from '../../geometry/segment';
import { traceDeviation } from '../../geometry/tolerance';
import { type KnownEnds, redraw } from '../traceFit';

/** mm. Stretches nowhere farther apart than this are the same line, however it is cut into segments. */
const sameStretch = 0.02;
/** mm. About how far apart the points of a mean are taken, and how many at least and at most. */
const pointStep = 3;
const pointsAtLeast = 24;
const pointsAtMost = 240;

/**
 * The mean of two stretches of line that run from corner to corner side by side. Stretches of the same lines and curves
 * give the same again, their points and handles halfway; others are halved point by point, each at the same share of its
 * own length, and redrawn with few lines and curves within `traceDeviation`, or through the middle of a rough trace. `ends` is how a line
 * that crosses the fold smoothly leaves and reaches it.
 */
export function meanStretch(one: Path, two: Path, ends: KnownEnds = {}): Path {
  if (drawnAlike(one, two)) {
    return one.map((segment, i) => meanSegment(segment, two[i]!));
  }
  const chains = [one, two].map((path) => flattenPath(path, sameStretch / 10));
  const lengths = chains.map(alongOf);
  const count = Math.min(pointsAtMost, Math.max(pointsAtLeast, Math.ceil(lengths[0]!.at(-1)! / pointStep)));
  const pairs = Array.from({ length: count + 1 }, (_, i) =>
    chains.map((chain, k) => pointAtShare(chain, lengths[k]!, i / count)),
  );
  if (pairs.every(([p, q]) => distance(p!, q!) < sameStretch)) return one;
  const means = pairs.map(([p, q]) => mix(p!, q!, 0.5));
  for (const within of deviationsTried(means)) {
    // Ends that may be as told are drawn so; otherwise as the points have them.
    for (const known of Object.keys(ends).length > 0 ? [ends, {}] : [{}]) {
      const drawn = redraw(means, within, known);
      if (drawn !== null && drawn.path.length <= Math.max(fewSegments, means.length / stepsToACurve)) return drawn.path;
    }
  }
  return means.slice(1).map((p, i) => line(means[i]!, p));
}

/** Curves are fewer than the points they replace by this much, or they only follow the roughness of the trace. */
const stepsToACurve = 12;
const fewSegments = 3;

/** mm. A trace rougher than this is not drawn smooth on its own. */
const roughestTrace = 1.5;

/**
 * Deviations within which the points are to be drawn, mm, the least first. Those of a rough trace are four and six times
 * the error of its points, told from their third differences, which a smooth line hardly has (20 times the variance of
 * points that err alone).
 */
function deviationsTried(points: readonly Point[]): number[] {
  const thirds = points.slice(3).map((d, i) => {
    const [a, b, c] = [points[i]!, points[i + 1]!, points[i + 2]!];
    return (d.x - 3 * c.x + 3 * b.x - a.x) ** 2 + (d.y - 3 * c.y + 3 * b.y - a.y) ** 2;
  });
  const error = Math.sqrt(thirds.reduce((sum, square) => sum + square, 0) / thirds.length / 20);
  const smooth = [traceDeviation, 3 * traceDeviation].filter((within) => within > 2 * error);
  const rough = [4 * error, 6 * error].filter((within) => within > 3 * traceDeviation && within <= roughestTrace);
  return [...smooth, ...rough];
}

/** Ratio. Joints at shares of the length this near to each other are the same joint. */
const sameJoint = 0.02;
/** Segments above which a stretch is a trace of small steps, to be drawn with fewer. */
const tracedSteps = 12;

function drawnAlike(one: Path, two: Path): boolean {
  if (one.length !== two.length || one.length > tracedSteps || one.some((segment, i) => segment.kind !== two[i]!.kind))
    return false;
  const [first, second] = [one, two].map((path) => {
    const lengths = path.map((segment) => distance(segment.start, segment.end));
    const whole = lengths.reduce((sum, length) => sum + length, 0);
    return lengths.map((length) => length / whole);
  });
  return first!.every((share, i) => Math.abs(share - second![i]!) < sameJoint);
}

function meanSegment(a: Segment, b: Segment): Segment {
  const half = (p: Point, q: Point) => mix(p, q, 0.5);
  if (a.kind === 'line' || b.kind === 'line') return line(half(a.start, b.start), half(a.end, b.end));
  return cubic(half(a.start, b.start), half(a.control1, b.control1), half(a.control2, b.control2), half(a.end, b.end));
}

function alongOf(chain: readonly Point[]): number[] {
  const along = [0];
  for (let i = 1; i < chain.length; i++) along.push(along[i - 1]! + distance(chain[i - 1]!, chain[i]!));
  return along;
}

function pointAtShare(chain: readonly Point[], along: readonly number[], share: number): Point {
  if (share >= 1) return chain.at(-1)!;
  const wanted = share * along.at(-1)!;
  let i = 0;
  while (i + 2 < along.length && along[i + 1]! <= wanted) i++;
  const step = along[i + 1]! - along[i]!;
  return mix(chain[i]!, chain[i + 1]!, step > 0 ? (wanted - along[i]!) / step : 0);
}
