import { flattenPath } from '../geometry/flatten';
import { nearestOnSegment } from '../geometry/nearest';
import { distance, type Point } from '../geometry/point';
import { line, type Path, type Segment } from '../geometry/segment';
import { cornerSnap, traceDeviation } from '../geometry/tolerance';
import type { OutlineCorner } from './cornerProposal';
import { beginningOf, crossing, distanceTo, pointOn } from './oneSided';
import { closestSteps, redraw, spaced } from './traceFit';

export interface SmoothedOutline {
  readonly path: Path;
  /** The same corners on the new path, which begins at the first of them. */
  readonly corners: readonly OutlineCorner[];
  /** Largest distance of any point of the old outline from the new one, mm; and of the new from the old, away from rebuilt corners. */
  readonly deviation: number;
  /** How far the farthest rebuilt corner stands out where the trace cut across it, mm; 0 when none was rebuilt. */
  readonly cornerGain: number;
  readonly segmentsBefore: number;
  readonly segmentsAfter: number;
  /** Edges that could not be drawn with few curves within the deviation and were left as they are. */
  readonly roughEdges: number;
  /** What was done, for the maker. */
  readonly sentence: string;
}

/** Segments in an edge from which on it counts as a trace of many small steps, to be drawn with fewer. */
const traceSteps = 12;

/** A redrawn edge must have at most this share of the segments it had, or the trace is too rough to be worth it. */
const worthwhile = 1 / 4;

/**
 * Redraws the traced edges of a closed outline (many small steps between two corners) with few lines and smooth cubics,
 * no further than `maxDeviation` mm from every traced point; edges with few segments are left exactly as they are.
 * A trace seldom has a point exactly on a corner: where both sides, carried on, meet just beyond it, the corner is
 * rebuilt there. Outlines without corners are begun at their start and smooth everywhere but there.
 */
export function smoothOutline(
  closedPath: Path,
  corners: readonly OutlineCorner[],
  maxDeviation = traceDeviation,
): SmoothedOutline {
  const starts = corners.length > 0 ? corners.map((corner) => corner.segment) : [0];
  const edges = starts.map((start, i) => wrapped(closedPath, start, starts[(i + 1) % starts.length]!));
  const traces = edges.map((edge) => (edge.length < traceSteps ? null : flattenPath(edge, maxDeviation / 10)));
  const turns = corners.map((corner, i) => {
    const before = traces.at(i - 1);
    const after = traces[i];
    return before && after ? rebuilt(before, after, maxDeviation) : keptCorner(corner.point);
  });
  const redrawn = edges.map((edge, i) => {
    const trace = traces[i];
    const drawn = trace ? redraw(betweenTurns(trace, turns[i], turns[(i + 1) % turns.length]), maxDeviation) : null;
    return drawn && drawn.path.length <= edge.length * worthwhile ? drawn : null;
  });
  // A corner between two edges that stay as they are stays too.
  const settled = turns.map((turn, i) => (redrawn[i] || redrawn.at(i - 1) ? turn : keptCorner(corners[i]!.point)));
  const path: Segment[] = [];
  const moved: OutlineCorner[] = [];
  edges.forEach((edge, i) => {
    const turn = settled[i];
    if (turn) moved.push({ ...corners[i]!, segment: path.length, point: turn.point });
    const drawn = redrawn[i]?.path ?? keptEdge(edge, turn, settled[(i + 1) % settled.length]);
    for (const segment of drawn) path.push(segment);
  });
  const smoothed = {
    path,
    corners: moved,
    deviation: Math.max(0, ...redrawn.map((drawn) => drawn?.deviation ?? 0)),
    cornerGain: Math.max(0, ...settled.map((turn) => turn.gain)),
    segmentsBefore: closedPath.length,
    segmentsAfter: path.length,
    roughEdges: traces.filter((trace, i) => trace && !redrawn[i]).length,
  };
  return { ...smoothed, sentence: sentenceFor(smoothed, edges.length, maxDeviation) };
}

function sentenceFor(smoothed: Omit<SmoothedOutline, 'sentence'>, edges: number, maxDeviation: number): string {
  const { segmentsBefore, segmentsAfter, roughEdges, cornerGain, deviation } = smoothed;
  const rough =
    roughEdges > 0
      ? ` ${roughEdges} of its ${edges} edges ${roughEdges === 1 ? 'is' : 'are'} too rough to be drawn smoothly within ${maxDeviation} mm; allow more, or draw ${roughEdges === 1 ? 'it' : 'them'} by hand.`
      : '';
  if (segmentsAfter >= segmentsBefore) return `The outline is kept exactly as it is.${rough}`;
  const gain =
    cornerGain > 0 ? ` Corners the trace cut across were rebuilt, by ${cornerGain.toFixed(2)} mm at most.` : '';
  return `${segmentsBefore} small steps were drawn as ${segmentsAfter} lines and curves, nowhere more than ${deviation.toFixed(3)} mm from them.${gain}${rough}`;
}

/** A corner as it will be drawn: where, and how much of the traces on both sides to leave out next to it. */
interface Turn {
  readonly point: Point;
  readonly gain: number;
  /** The traced corner point belongs to the edge before, the edge after, or (unmoved) both. */
  readonly traced: 'before' | 'after' | 'both';
}

function keptCorner(point: Point): Turn {
  return { point, gain: 0, traced: 'both' };
}

/**
 * The corner between two traces whose common point lies somewhere near it. Both sides are carried on without that point;
 * their crossing is taken when the point lies on one of them and no more than a step away.
 */
function rebuilt(before: readonly Point[], after: readonly Point[], maxDeviation: number): Turn {
  const traced = after[0]!;
  const back = before.slice(0, -1).reverse();
  const ahead = after.slice(1);
  const incoming = beginningOf(spaced(back, maxDeviation));
  const outgoing = beginningOf(spaced(ahead, maxDeviation));
  const meeting = incoming && outgoing ? crossing(incoming, outgoing) : null;
  if (!incoming || !outgoing || !meeting) return keptCorner(traced);
  const point = pointOn(outgoing, meeting.ub);
  // In a trace finer than its own error the corner may be found a little before or beyond where its steps turn.
  const slack = closestSteps * maxDeviation;
  const step = Math.max(slack, distance(traced, back[0]!), distance(traced, ahead[0]!));
  const gain = distance(point, traced);
  // A side carried on from steps this long is itself only known so well.
  const near = Math.max(maxDeviation, step / 20);
  const offBefore = distanceTo(incoming, traced);
  const offAfter = distanceTo(outgoing, traced);
  // Both sides must be carried on, not back: the corner lies beyond what was traced of either.
  const beyond = meeting.ua <= slack && meeting.ub <= slack;
  if (gain <= cornerSnap || gain > step || !beyond || Math.min(offBefore, offAfter) > near) {
    return keptCorner(traced);
  }
  const cut = offBefore < offAfter ? [traced, ahead[0]!] : [back[0]!, traced];
  return {
    point,
    gain: nearestOnSegment(line(cut[0]!, cut[1]!), point).distance,
    traced: offBefore < offAfter ? 'before' : 'after',
  };
}

/** Segments from `start` up to `end`, round the joint where the path closes; the whole path when both are the same. */
function wrapped(path: Path, start: number, end: number): Path {
  return start < end ? path.slice(start, end) : [...path.slice(start), ...path.slice(0, end)];
}

/** The points of an edge's trace from one drawn corner to the next; a traced corner point stays with the edge it lies on. */
function betweenTurns(trace: readonly Point[], from: Turn | undefined, to: Turn | undefined): Point[] {
  const first = from ? (from.traced === 'after' ? [from.point, trace[0]!] : [from.point]) : [trace[0]!];
  const last = to ? (to.traced === 'before' ? [trace.at(-1)!, to.point] : [to.point]) : [trace.at(-1)!];
  return [...first, ...trace.slice(1, -1), ...last];
}

/** An edge left as it is, reaching to the corners its neighbours may have moved. */
function keptEdge(edge: Path, from: Turn | undefined, to: Turn | undefined): Path {
  const kept = [...edge];
  if (from?.traced === 'before') kept[0] = { ...kept[0]!, start: from.point };
  if (to?.traced === 'after') kept[kept.length - 1] = { ...kept.at(-1)!, end: to.point };
  const head = from?.traced === 'after' ? [line(from.point, edge[0]!.start)] : [];
  const tail = to?.traced === 'before' ? [line(edge.at(-1)!.end, to.point)] : [];
  return [...head, ...kept, ...tail];
}
