import { pathLength } from './path';
import { add, cross, distance, type Point, scale, subtract } from './point';
import { type CubicSegment, cubic } from './segment';

/** Where the tangents meet further away than this many chords they are all but parallel. */
const longestMeeting = 3;

/**
 * The cubic from `start` to `end` that leaves and arrives along two unit directions, both in the direction of travel, and
 * is as long as wanted, mm. Its handles point at the meeting of the two tangents and reach the same part of the way, two
 * thirds (nearly an arc) to all of it (no curvature at the ends); where the tangents do not meet so, they are of equal
 * length, a third to half of the chord. Where no such curve has that length, it is the nearest one. Reversed input gives
 * the reversed curve.
 */
export function curveOfLength(
  start: Point,
  startDirection: Point,
  end: Point,
  endDirection: Point,
  length: number,
): CubicSegment {
  const chord = subtract(end, start);
  const reach = distance(start, end);
  const turn = cross(startDirection, endDirection);
  const first = cross(chord, endDirection) / turn;
  const second = cross(startDirection, chord) / turn;
  const meet = first > 0 && second > 0 && first + second < longestMeeting * reach;
  const [a, b] = meet ? [first, second] : [reach / 2, reach / 2];
  const withFullness = (f: number) =>
    cubic(start, add(start, scale(startDirection, f * a)), add(end, scale(endDirection, -f * b)), end);
  const tooLong = (f: number) => pathLength([withFullness(f)], 1e-10) > length;
  // Longer handles make a longer curve.
  let [low, high] = [2 / 3, 1];
  if (tooLong(low)) return withFullness(low);
  if (!tooLong(high)) return withFullness(high);
  for (let round = 0; round < 50 && high - low > 1e-15; round++) {
    const middle = (low + high) / 2;
    if (tooLong(middle)) high = middle;
    else low = middle;
  }
  return withFullness(low);
}
