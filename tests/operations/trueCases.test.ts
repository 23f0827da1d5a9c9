import { describe, expect, it } from 'vitest';
import { pathLength } from '../../src/geometry/path';
import { hemAllowance } from '../../src/measure/hemAllowance';
import { openCuts } from '../../src/operations/linkage/spread';
import { trueFanned } from '../../src/operations/true';
import { granted } from '../support/outcomes';
import { loadTruedCase, truedCaseIds } from '../support/truedCase';

/** 1e-5 cm, the agreed tolerance of the trued figures, in mm; areas in mm2 follow with the size of the piece. */
const close = 1e-4;

function truedBy(id: string) {
  const reference = loadTruedCase(id);
  const fanned = granted(openCuts(reference.piece, reference.plan));
  return { reference, fanned, ...granted(trueFanned(fanned, reference.trueStep, reference.fanStep)) };
}

function near(actual: number, expected: number, tolerance: number): void {
  expect(Math.abs(actual - expected), `${actual} against ${expected}`).toBeLessThan(tolerance);
}

describe.each(truedCaseIds())('trueing reference case %s', (id) => {
  const { reference, fanned, piece, report } = truedBy(id);
  const { trued } = reference;

  it('R16 gives the hem sweep, its deviations and the handle lengths', () => {
    near(report.sweep, trued.sweep, close);
    near(report.hemDeviation, trued.hemDeviation, close);
    near(report.hemDeviationStrips, trued.hemDeviationStrips, close);
    near(report.hemRms, trued.hemRms, close);
    near(report.handles.centre, trued.handles[0], close);
    near(report.handles.side, trued.handles[1], close);
    expect(report.spans).toBe(trued.spans);
    near(fanned.sweepArc, trued.arcBridged, close);
  });

  it('gives the area, the fill at the centre line and the loss in the blend', () => {
    near(report.area, trued.area, 1e-3);
    near(report.centreFillAtHem, trued.fillAtHem, close);
    near(report.blendLoss, trued.blendLoss, close);
  });

  it('gives the length of every edge', () => {
    for (const { id: edge, path } of piece.edges) near(pathLength(path), trued.lengths[edge]!, close);
  });

  it('R16 meets centre line and side seam square, turning and bending as expected', () => {
    near(report.cornerCentre, trued.corners[0], 1e-9);
    near(report.cornerSide, trued.corners[1], 1e-9);
    near(report.hemTurning, trued.turning, 1e-9);
    near(report.hemCurvatureMax, trued.curvatureMax, 1e-9);
    expect(report.curvatureSignChanges).toBe(trued.curvatureSignChanges);
    expect(report.unwantedInflections).toBe(0);
  });

  it('gives the hem allowance figures', () => {
    for (const { depth, cutEdge, garmentAtDepth, excess, worstEase } of trued.allowance) {
      const allowance = hemAllowance(report, depth);
      near(allowance.cutEdge, cutEdge, close);
      near(allowance.garmentAtDepth, garmentAtDepth, close);
      near(allowance.excess, excess, close);
      near(allowance.worstEase, worstEase, 1e-6);
    }
  });
});

describe('the centre rules on the bodice front', () => {
  it('parallel fills a strip down the centre line and leaves the centre strip in its direction', () => {
    const { report, piece } = truedBy('O03');
    near(report.centreFillAtHem, 5.833282670124191, 1e-9);
    const centre = piece.edges.find(({ id }) => id === 'centre-front')!;
    expect(centre.path).toHaveLength(1);
    near(centre.path[0]!.start.x, 0, 1e-9);
    near(centre.path[0]!.end.x, 0, 1e-9);
    near(pathLength(centre.path), 598.697038779284, 1e-9);
  });

  it('slide needs no fill and loses twice as much in the side blend', () => {
    const { report } = truedBy('O04');
    const parallel = truedBy('O03').report;
    near(report.centreFillAtHem, 0, 1e-9);
    expect(report.blendLoss / parallel.blendLoss).toBeGreaterThan(1.9);
    expect(report.blendLoss / parallel.blendLoss).toBeLessThan(2.1);
  });

  it('corner needs no fill at the hem and shortens the centre line', () => {
    const { report, piece } = truedBy('O05');
    near(report.centreFillAtHem, 0, 1e-9);
    near(pathLength(piece.edges.find(({ id }) => id === 'centre-front')!.path), 594.8859672526838, 1e-9);
  });

  it.each(['O03', 'O04', 'O05'])('R17 holds the side seam to the length of the block (%s)', (id) => {
    const { piece, reference } = truedBy(id);
    const block = reference.piece.edges.find((edge) => edge.id === 'side')!;
    near(pathLength(piece.edges.find((edge) => edge.id === 'side')!.path), pathLength(block.path), 1e-9);
  });
});
