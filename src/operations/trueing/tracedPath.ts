import { segmentLength, segmentParameterAtLength } from '../../geometry/arcLength';
import { pathLength } from '../../geometry/path';
import { type Path, reverseSegment, splitSegment } from '../../geometry/segment';
import { samePoint } from '../../geometry/tolerance';
import type { Provenance, TracedSegment } from '../worked';

export type TracedPath = readonly TracedSegment[];

export function pathOf(traced: TracedPath): Path {
  return traced.map(({ segment }) => segment);
}

/** Length of a traced path, mm; accurate to a ten-thousandth of a nanometre for each segment. */
export function tracedLength(traced: TracedPath): number {
  return pathLength(pathOf(traced), 1e-10);
}

/** The same path travelled the other way; doing it twice gives the path back. */
export function reverseTraced(traced: TracedPath): TracedSegment[] {
  return traced
    .map(({ segment, origin }): TracedSegment => ({ segment: reverseSegment(segment), origin: reverseOrigin(origin) }))
    .reverse();
}

function reverseOrigin(origin: Provenance): Provenance {
  return origin.kind === 'own' ? { ...origin, from: origin.to, to: origin.from } : origin;
}

/** The parts before and after `distance` mm along; curves keep their shape and both parts know where they came from. */
export function splitTraced(traced: TracedPath, distance: number): readonly [TracedSegment[], TracedSegment[]] {
  let left = distance;
  for (const [index, { segment, origin }] of traced.entries()) {
    if (left <= samePoint) return [traced.slice(0, index), traced.slice(index)];
    const length = segmentLength(segment, 1e-10);
    if (left < length - samePoint) {
      const t = segmentParameterAtLength(segment, left, 1e-10);
      const [head, tail] = splitSegment(segment, t);
      return [
        [...traced.slice(0, index), { segment: head, origin: partOf(origin, 0, t) }],
        [{ segment: tail, origin: partOf(origin, t, 1) }, ...traced.slice(index + 1)],
      ];
    }
    left -= length;
  }
  return [[...traced], []];
}

function partOf(origin: Provenance, t0: number, t1: number): Provenance {
  if (origin.kind !== 'own') return origin;
  const { from, to } = origin;
  return { ...origin, from: t0 === 0 ? from : from + (to - from) * t0, to: t1 === 1 ? to : from + (to - from) * t1 };
}
