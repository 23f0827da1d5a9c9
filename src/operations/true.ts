import { enclosedArea } from '../geometry/area';
import { selfIntersections } from '../geometry/intersect';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import { endTangent, pathLength, startTangent } from '../geometry/path';
import { angleBetween, scale } from '../geometry/point';
import type { Segment } from '../geometry/segment';
import type { Piece } from '../pattern/piece';
import type { FanStep, TrueStep } from '../pattern/recipe';
import { type TrueCentre, trueCentre } from './trueing/centreLine';
import { type DartEdge, smoothDartEdges } from './trueing/dartEdges';
import { type TrueHem, trueHem } from './trueing/hemCurve';
import { hemRun } from './trueing/hemRun';
import { type OpenedSides, readSides } from './trueing/openedSides';
import { restorePiece } from './trueing/restorePiece';
import { type TrueSide, trueSide } from './trueing/sideBlend';
import { pathOf, reverseTraced } from './trueing/tracedPath';
import type { FannedPiece, TracedSegment, TrueReport, WorkedEdge } from './worked';

/**
 * Blend 6 cm up and 8 cm down, handles at 0.8 of the way to the meeting point; one hem span, square corners, fairness
 * 3e-7. Ours; see docs/maths/trueing.md.
 */
export function defaultTrue(): TrueStep {
  return {
    kind: 'true',
    side: { up: 60, down: 80, fullness: 0.8 },
    hem: {
      level: 'follow-strips',
      corners: 'square',
      spans: 1,
      fairness: 3e-7,
      handles: { centre: null, side: null },
      drop: { centre: 0, side: 0 },
    },
    dartEdges: 'smooth',
  };
}

export interface TruedPiece {
  readonly piece: Piece;
  readonly edges: readonly WorkedEdge[];
  readonly report: TrueReport;
}

/**
 * Redraws a fanned piece so that it can be sewn: centre line straight, side seam blended at the hinge with its length
 * held, hem one fair curve, edges that lost darts smooth where the step says so. Lengths in mm. Method and sources: docs/maths/trueing.md.
 *
 * Refused: edges that do not meet at the hem corners, a hem without cloth, and a result that crosses itself.
 */
export function trueFanned(fanned: FannedPiece, step: TrueStep, fanStep: FanStep): Outcome<TruedPiece> {
  const sides = readSides(fanned, fanStep);
  if (!sides.ok) return sides;
  const { outward, hem } = sides.value;
  const guards = fanned.marks.darts.filter(({ edge }) => edge === fanStep.side).flatMap(({ legs }) => legs);
  const centre = trueCentre(sides.value, step.hem, fanStep.centre);
  const side = trueSide(sides.value, {
    blend: step.side,
    drop: step.hem.drop.side,
    edge: fanStep.side,
    closeTears: fanStep.fullness !== null,
    guards,
  });
  if (centre === null || side === null) {
    return fail('drop-too-far', 'The hem is taken up further than the edge is long. Take it up less.');
  }
  const run = hemRun(hem, fanned.cuts, { outward, centre: centre.shift, side: side.shift });
  if (run.arcs.length === 0) {
    return fail('hem-lost', `Nothing is left of the hem of “${fanned.source.name}”. Open the slash lines less.`);
  }
  const curve = trueHem(
    sides.value,
    { centre: centre.corner, down: centre.down, side: side.corner, up: side.up },
    step.hem,
    run,
  );
  const smoothed = step.dartEdges === 'smooth' ? smoothDartEdges(fanned, fanStep) : new Map<string, DartEdge>();
  const edges = replaceEdges(fanned, fanStep, sides.value, centre, curve, side).map((edge) => {
    const redrawn = smoothed.get(edge.id);
    return redrawn === undefined ? edge : { ...edge, segments: redrawn.segments };
  });
  const outline: Segment[] = edges.flatMap(({ segments }) => pathOf(segments));
  if (selfIntersections(outline).length > 0) {
    return fail(
      'trued-outline-crosses',
      `Trued like this, the outline of “${fanned.source.name}” crosses itself. Open the slash lines less, or shorten the blend and the hem drops.`,
    );
  }
  const seam = { edge: fanStep.side, upperEndFirst: outward < 0 };
  return succeed({
    piece: restorePiece(fanned, edges, seam, smoothed),
    edges,
    report: {
      ...report(centre, curve, side, enclosedArea(outline)),
      smoothed: [...smoothed.values()].map((redrawn) => redrawn.report),
    },
  });
}

/** The worked edges with the three redrawn ones in place, each in the outline's own direction. */
function replaceEdges(
  fanned: FannedPiece,
  fanStep: FanStep,
  { outward }: OpenedSides,
  centre: TrueCentre,
  hem: TrueHem,
  side: TrueSide,
): WorkedEdge[] {
  const hemTraced = hem.segments.map(
    (segment): TracedSegment => ({ segment, origin: { kind: 'trued', edges: [fanStep.hem] } }),
  );
  const redrawn = new Map<string, readonly TracedSegment[]>([
    [fanStep.centre, centre.segments],
    [fanStep.hem, hemTraced],
    [fanStep.side, side.segments],
  ]);
  return fanned.edges.map((edge) => {
    const segments = redrawn.get(edge.id);
    if (segments === undefined) return edge;
    return { ...edge, segments: outward > 0 ? segments : reverseTraced(segments) };
  });
}

function report(centre: TrueCentre, hem: TrueHem, side: TrueSide, area: number): Omit<TrueReport, 'smoothed'> {
  const { deviation, bend } = hem;
  const hemStart = startTangent(hem.segments);
  const hemEnd = endTangent(hem.segments);
  return {
    sweep: pathLength(hem.segments),
    hemDeviation: deviation.target,
    hemDeviationStrips: deviation.strips,
    hemRms: deviation.rms,
    handles: hem.handles,
    spans: hem.segments.length,
    curvatureSignChanges: bend.signChanges,
    unwantedInflections: bend.unwanted,
    blendLoss: side.loss,
    centreFillAtHem: centre.fillAtHem,
    cornerCentre: Math.abs(angleBetween(scale(endTangent(pathOf(centre.segments)), -1), hemStart)),
    cornerSide: Math.abs(angleBetween(startTangent(pathOf(side.segments)), scale(hemEnd, -1))),
    area,
    hemTurning: bend.turning,
    hemCurvatureMax: bend.strongest,
    warnings: [...centre.warnings, ...hem.warnings],
  };
}
