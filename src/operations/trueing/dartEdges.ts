import { curveOfLength } from '../../geometry/curveOfLength';
import { nearestOnPath } from '../../geometry/nearest';
import { endTangent, pathEnd, pathPointAt, pathStart, startTangent } from '../../geometry/path';
import type { Point } from '../../geometry/point';
import { dartEdgeMoves, samePoint } from '../../geometry/tolerance';
import type { FanStep } from '../../pattern/recipe';
import type { FannedPiece, SmoothedEdge, TracedSegment, WorkedEdge } from '../worked';
import { pathOf, splitTraced, type TracedPath, tracedLength } from './tracedPath';

/** An edge on which darts were closed, drawn anew. */
export interface DartEdge {
  readonly segments: TracedPath;
  readonly report: SmoothedEdge;
  /** Where a place on the edge as it was lies now, both mm along it: at the same part of its stretch. */
  readonly placeOf: (along: number) => number;
}

/**
 * Redraws each edge that lost darts as one smooth line through its ends, its directions there kept; between darts that are
 * still open, each stretch by itself. The length is kept where `curveOfLength` can; what it changed is in the report. Not the
 * three edges of the fan, which are trued by themselves, and not an edge that would move by more than `dartEdgeMoves`.
 */
export function smoothDartEdges(fanned: FannedPiece, { centre, hem, side }: FanStep): ReadonlyMap<string, DartEdge> {
  const smoothed = new Map<string, DartEdge>();
  for (const edge of fanned.closed === null ? [] : fanned.edges) {
    if (edge.id === centre || edge.id === hem || edge.id === side) continue;
    const redrawn = smoothEdge(fanned, edge);
    if (redrawn !== null) smoothed.set(edge.id, redrawn);
  }
  return smoothed;
}

interface Stretch {
  readonly before: TracedPath;
  readonly after: TracedPath;
}

function smoothEdge(fanned: FannedPiece, edge: WorkedEdge): DartEdge | null {
  const stretches = betweenOpenDarts(fanned, edge).map(
    (before): Stretch => ({
      before,
      after: lostDart(before, fanned.panels.length) ? [smoothLine(before, edge.id, fanned)] : before,
    }),
  );
  const redrawn = stretches.filter(({ before, after }) => before !== after);
  if (redrawn.length === 0) return null;
  const moved = Math.max(...redrawn.map(furthest));
  if (moved > dartEdgeMoves) return null;
  const lengths = stretches.map(({ before, after }) => [tracedLength(before), tracedLength(after)] as const);
  return {
    segments: stretches.flatMap(({ after }) => after),
    report: {
      edge: edge.id,
      moved,
      longer: redrawn.reduce((sum, { before, after }) => sum + tracedLength(after) - clothLength(before, fanned), 0),
    },
    placeOf(along) {
      let [left, passed] = [along, 0];
      for (const [before, after] of lengths) {
        if (left <= before) return passed + (left * after) / before;
        left -= before;
        passed += after;
      }
      return passed;
    },
  };
}

/** The stretches of an edge, parted at both ends of every dart mouth on it. */
function betweenOpenDarts({ marks }: FannedPiece, { id, segments }: WorkedEdge): TracedPath[] {
  const places = marks.darts
    .filter(({ edge }) => edge === id)
    .flatMap(({ legs }) => legs.map((leg) => nearestOnPath(pathOf(segments), leg).along))
    .sort((a, b) => a - b);
  const stretches: TracedPath[] = [];
  let rest: TracedPath = segments;
  let passed = 0;
  for (const place of places) {
    const [head, tail] = splitTraced(rest, place - passed);
    stretches.push(head);
    [rest, passed] = [tail, place];
  }
  return [...stretches, rest].filter((stretch) => tracedLength(stretch) > samePoint);
}

/** Whether parts that the closing of darts brought together meet on a stretch. */
function lostDart(stretch: TracedPath, strips: number): boolean {
  const parts = stretch.flatMap(({ origin }) => (origin.kind === 'own' ? [Math.floor(origin.panel / strips)] : []));
  return new Set(parts).size > 1;
}

function smoothLine(stretch: TracedPath, edge: string, fanned: FannedPiece): TracedSegment {
  const path = pathOf(stretch);
  const length = clothLength(stretch, fanned);
  const segment = curveOfLength(pathStart(path), startTangent(path), pathEnd(path), endTangent(path), length);
  return { segment, origin: { kind: 'trued', edges: [edge] } };
}

/** Length of a stretch without the steps that uneven legs left, mm; what slash lines opened on it is cloth. */
function clothLength(stretch: TracedPath, { closed }: FannedPiece): number {
  const steps = closed?.cuts.map(({ id }) => id) ?? [];
  const isStep = ({ origin }: TracedSegment) => 'cut' in origin && steps.includes(origin.cut);
  return tracedLength(stretch.filter((traced) => !isStep(traced)));
}

/** Places looked at on a stretch, besides its joints. */
const looks = 32;

/** Largest distance from a stretch as it was to the line drawn anew, mm. */
function furthest({ before, after }: Stretch): number {
  const [path, line] = [pathOf(before), pathOf(after)];
  const length = tracedLength(before);
  const places: Point[] = path.map(({ end }) => end);
  for (let look = 1; look < looks; look++) places.push(pathPointAt(path, (look / looks) * length).point);
  return places.reduce((most, p) => Math.max(most, nearestOnPath(line, p).distance), 0);
}
