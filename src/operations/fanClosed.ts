import { segmentLength } from '../geometry/arcLength';
import { type Outcome, succeed } from '../geometry/outcome';
import { distance } from '../geometry/point';
import type { Piece } from '../pattern/piece';
import type { CloseDartStep, FanStep } from '../pattern/recipe';
import { closeDarts } from './closedDarts';
import { fan } from './fan';
import type { DartsClosed, FannedPiece, Provenance, TracedSegment, WorkedEdge } from './worked';

/** Closes darts of a block, then fans it. Without darts to close it is the fan alone, bit for bit. */
export function fanClosed(block: Piece, closings: readonly CloseDartStep[], step: FanStep): Outcome<FannedPiece> {
  const closed = closeDarts(block, closings);
  if (!closed.ok) return closed;
  if (closed.value === null) return fan(block, step);
  const fanned = fan(closed.value.piece, step);
  return fanned.ok ? succeed(traceToBlock(fanned.value, closed.value, step.hem)) : fanned;
}

/** The fan of a piece with closed darts, every segment traced back to the block, lengths before taken from the block. */
function traceToBlock(fanned: FannedPiece, closed: DartsClosed, hem: string): FannedPiece {
  const edges = fanned.edges.map((edge, index): WorkedEdge => {
    const before = closed.edges[index]!.segments;
    return {
      ...edge,
      segments: edge.segments.map(
        ({ segment, origin }): TracedSegment => ({ segment, origin: through(before, origin, fanned.panels.length) }),
      ),
    };
  });
  const cuts = [...fanned.cuts, ...closed.cuts];
  return {
    ...fanned,
    closed,
    edges,
    cuts,
    totalTurn: fanned.totalTurn + closed.darts.reduce((sum, { angle }) => sum + angle, 0),
    areaBefore: closed.areaBefore,
    sweepBefore: closed.block.edges
      .find(({ id }) => id === hem)!
      .path.reduce((sum, segment) => sum + segmentLength(segment), 0),
    sweepArc: arcSweep(edges.find(({ id }) => id === hem)!.segments, cuts),
  };
}

function through(before: readonly TracedSegment[], origin: Provenance, strips: number): Provenance {
  if (origin.kind !== 'own') return origin;
  const first = before[origin.segment]!.origin;
  if (first.kind !== 'own') return first;
  const span = first.to - first.from;
  return {
    ...first,
    from: first.from + span * origin.from,
    to: first.from + span * origin.to,
    panel: origin.panel + strips * first.panel,
  };
}

/** Hem length with its gaps bridged by arcs. A wedge that slash lines cut up counts as one arc about its point. */
function arcSweep(hem: readonly TracedSegment[], cuts: FannedPiece['cuts']): number {
  return hem.reduce((sum, { segment, origin }) => {
    const cut = origin.kind === 'gap' ? cuts.find(({ id }) => id === origin.cut) : undefined;
    if (cut?.radius == null || cut.angle === 0) return sum + segmentLength(segment);
    const half = Math.abs(cut.angle) / 2;
    return sum + (distance(segment.start, segment.end) * half) / Math.sin(half);
  }, 0);
}

/** How far the cloth of a panel was turned from the block's grain, radians; `panel` as in a segment's origin. */
export function panelTurn({ panels, closed }: FannedPiece, panel: number): number {
  const strips = panels.length;
  const turnOf = (of: FannedPiece['panels'], index: number) => of.find((one) => one.index === index)?.move.angle ?? 0;
  return turnOf(panels, panel % strips) + (closed === null ? 0 : turnOf(closed.panels, Math.floor(panel / strips)));
}
