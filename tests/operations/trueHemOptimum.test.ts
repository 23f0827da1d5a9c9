import { describe, expect, it } from 'vitest';
import { nearestOnPath } from '../../src/geometry/nearest';
import { endTangent, pathEnd, pathLength, pathStart, startTangent } from '../../src/geometry/path';
import { segmentPointAt } from '../../src/geometry/segment';
import { evenSlashes, fan } from '../../src/operations/fan';
import { openCuts } from '../../src/operations/linkage/spread';
import { defaultTrue, trueFanned } from '../../src/operations/true';
import { hemBend } from '../../src/operations/trueing/hemBend';
import { fitHem } from '../../src/operations/trueing/hemFit';
import { hemRun } from '../../src/operations/trueing/hemRun';
import { readSides } from '../../src/operations/trueing/openedSides';
import { pathOf } from '../../src/operations/trueing/tracedPath';
import type { FanStep, TrueStep } from '../../src/pattern/recipe';
import { hemCubic, hemFunctional, nelderMead } from '../support/hemFunctional';
import { granted } from '../support/outcomes';
import { rectangle } from '../support/rectangle';
import { loadTruedCase } from '../support/truedCase';

/** The hem problem of a reference case as the true step sets it up, rebuilt from the trued piece. */
function hemProblem(id: string) {
  const { piece, plan, fanStep, trueStep } = loadTruedCase(id);
  const fanned = granted(openCuts(piece, plan));
  const trued = granted(trueFanned(fanned, trueStep, fanStep));
  const hem = pathOf(trued.edges.find((edge) => edge.id === 'hem')!.segments);
  const run = hemRun(granted(readSides(fanned, fanStep)).hem, fanned.cuts, {
    outward: 1,
    centre: 0,
    side: trued.report.blendLoss,
  });
  const frame = {
    start: pathStart(hem),
    end: pathEnd(hem),
    startTangent: startTangent(hem),
    endTangent: endTangent(hem),
    spans: 1 as const,
    fairness: 3e-7,
    length: run.length,
  };
  return { frame, run, handles: trued.report.handles };
}

describe('the hem curve is the best by its own measure', () => {
  it.each(['O01', 'O03', 'O06'])(
    'downhill simplex on the same functional finds no other hem (%s)',
    (id) => {
      const { frame, run, handles } = hemProblem(id);
      const functional = hemFunctional(frame, run);
      const value = (x: readonly number[]) => functional(x[0]!, x[1]!);
      const third = frame.length / 3;
      const starts = [
        [third, third],
        [0.5 * third, 1.5 * third],
        [1.5 * third, 0.5 * third],
      ];
      const found = starts.map((start) => nelderMead(value, start, 20)).sort((a, b) => a.value - b.value)[0]!;
      expect(Math.abs(found.x[0]! - handles.centre)).toBeLessThan(2e-2);
      expect(Math.abs(found.x[1]! - handles.side)).toBeLessThan(2e-2);
      const ours = value([handles.centre, handles.side]);
      expect(ours).toBeLessThanOrEqual(found.value * (1 + 1e-9));
      const other = pathLength([hemCubic(frame, found.x[0]!, found.x[1]!)]);
      expect(Math.abs(other - pathLength([hemCubic(frame, handles.centre, handles.side)]))).toBeLessThan(1e-5);
    },
    60_000,
  );

  it('its own value of the functional is the one written independently', () => {
    const { frame, run } = hemProblem('O03');
    const fit = fitHem({ frame, run, handles: { start: null, end: null } });
    const independent = hemFunctional(frame, run)(fit.handles.start, fit.handles.end);
    expect(Math.abs(fit.objective / independent - 1)).toBeLessThan(1e-9);
    // The case file gives it too, in cm3.
    expect(Math.abs(fit.objective / 63.62211375011549 - 1)).toBeLessThan(1e-9);
  });

  it.each([1, 2, 3] as const)('no nearby curve with %i spans is better', (spans) => {
    const { frame, run } = hemProblem('O08');
    const free = fitHem({ frame: { ...frame, spans }, run, handles: { start: null, end: null } });
    for (const [start, end] of [
      [1.001, 1],
      [0.999, 1],
      [1, 1.001],
      [1, 0.999],
      [1.01, 0.99],
    ] as const) {
      const held = fitHem({
        frame: { ...frame, spans },
        run,
        handles: { start: free.handles.start * start, end: free.handles.end * end },
      });
      expect(held.objective).toBeGreaterThan(free.objective);
    }
  });

  it('more spans come nearer to the strips', () => {
    const { frame, run } = hemProblem('O08');
    const [one, two, three] = ([1, 2, 3] as const).map(
      (spans) => fitHem({ frame: { ...frame, spans }, run, handles: { start: null, end: null } }).objective,
    );
    expect(two!).toBeLessThan(one!);
    expect(three!).toBeLessThan(two!);
  });
});

describe('a fan of many strips', () => {
  const slashes = 24;
  const step: FanStep = {
    kind: 'fan',
    centre: 'centre',
    hem: 'hem',
    side: 'side',
    fullness: null,
    slashes: evenSlashes(slashes, 12),
    centreRule: 'parallel',
    sideTurn: 6,
  };
  const fanned = granted(fan(rectangle(400, 600), step));
  const trued = granted(trueFanned(fanned, defaultTrue(), step));

  it('tends to the annular sector: sweep W + L angle (closed form, docs/maths/trueing.md)', () => {
    // The half opening at the side belongs to the sector too.
    const angle = fanned.cuts.reduce((sum, cut) => sum + cut.angle, 0);
    expect(Math.abs(trued.report.sweep - (400 + 600 * angle))).toBeLessThan(0.05);
    expect(Math.abs(trued.report.hemTurning - angle)).toBeLessThan(1e-9);
  });

  it('reports the largest deviation that brute force finds', () => {
    const hem = pathOf(trued.edges.find((edge) => edge.id === 'hem')!.segments);
    let largest = 0;
    for (const { segment, origin } of fanned.edges.find((edge) => edge.id === 'hem')!.segments) {
      if (origin.kind !== 'own') continue;
      for (let i = 0; i <= 100; i++) {
        largest = Math.max(largest, nearestOnPath(hem, segmentPointAt(segment, i / 100)).distance);
      }
    }
    expect(Math.abs(trued.report.hemDeviationStrips - largest)).toBeLessThan(1e-9);
  });

  it('is drawn by the sums of the reference quadrature to a hundred-thousandth of a mm', () => {
    const hem = pathOf(trued.edges.find((edge) => edge.id === 'hem')!.segments);
    const sides = granted(readSides(fanned, step));
    const run = hemRun(sides.hem, fanned.cuts, { outward: sides.outward, centre: 0, side: 0 });
    const frame = {
      start: pathStart(hem),
      end: pathEnd(hem),
      startTangent: startTangent(hem),
      endTangent: endTangent(hem),
      spans: 1 as const,
      fairness: 3e-7,
      length: run.length,
    };
    const functional = hemFunctional(frame, run);
    const { centre, side } = trued.report.handles;
    const found = nelderMead((x) => functional(x[0]!, x[1]!), [centre + 3, side - 3], 5);
    const difference = pathLength([hemCubic(frame, found.x[0]!, found.x[1]!)]) - trued.report.sweep;
    expect(Math.abs(difference)).toBeLessThan(1e-5);
  }, 60_000);
});

describe('what the maker sets', () => {
  const { piece, plan, fanStep, trueStep } = loadTruedCase('O03');
  const fanned = granted(openCuts(piece, plan));
  const hemStep = (hem: Partial<TrueStep['hem']>): TrueStep => ({ ...trueStep, hem: { ...trueStep.hem, ...hem } });
  const run = (hem: Partial<TrueStep['hem']>) => granted(trueFanned(fanned, hemStep(hem), fanStep));
  const lengthOf = (trued: ReturnType<typeof run>, edge: string) =>
    pathLength(trued.piece.edges.find(({ id }) => id === edge)!.path);

  it('a handle length typed in is the handle length drawn, the other one is fitted to it', () => {
    const { report, edges } = run({ handles: { centre: 100, side: null } });
    expect(report.handles.centre).toBe(100);
    expect(Math.abs(report.handles.side - 157.1337)).toBeGreaterThan(10);
    const [segment] = pathOf(edges.find(({ id }) => id === 'hem')!.segments);
    if (segment?.kind !== 'cubic') throw new Error('the hem is one cubic');
    expect(Math.hypot(segment.control1.x - segment.start.x, segment.control1.y - segment.start.y)).toBeCloseTo(100, 9);
    expect(run({ handles: { centre: 120, side: 130 } }).report.handles).toEqual({ centre: 120, side: 130 });
  });

  it('drops lengthen centre line and side seam by what was typed', () => {
    const plain = run({});
    const dropped = run({ drop: { centre: 15, side: 8 } });
    expect(lengthOf(dropped, 'centre-front') - lengthOf(plain, 'centre-front')).toBeCloseTo(15, 9);
    expect(lengthOf(dropped, 'side') - lengthOf(plain, 'side')).toBeCloseTo(8, 9);
    expect(dropped.report.cornerCentre).toBeCloseTo(Math.PI / 2, 9);
    const raised = run({ drop: { centre: -15, side: -8 } });
    expect(lengthOf(raised, 'centre-front') - lengthOf(plain, 'centre-front')).toBeCloseTo(-15, 9);
    expect(lengthOf(raised, 'side') - lengthOf(plain, 'side')).toBeCloseTo(-8, 9);
    expect(raised.report.cornerSide).toBeCloseTo(Math.PI / 2, 6);
  });

  it('keep-centre-length keeps the centre line of the block', () => {
    const kept = run({ level: 'keep-centre-length' });
    expect(lengthOf(kept, 'centre-front')).toBeCloseTo(556, 9);
    expect(lengthOf(run({ level: 'follow-strips' }), 'centre-front')).toBeCloseTo(598.697038779284, 9);
  });

  it('keep leaves the corners at the angles of the block', () => {
    const { report } = run({ corners: 'keep' });
    // Block: hem and centre front square; hem (8, 0.2) against side (-1, 40): 90 deg exactly by slope 1/40 each.
    expect(report.cornerCentre).toBeCloseTo(Math.PI / 2, 9);
    expect(report.cornerSide).toBeCloseTo(Math.PI / 2, 9);
    const skirt = loadTruedCase('O08');
    const opened = granted(openCuts(skirt.piece, skirt.plan));
    const blockCorner = Math.atan2(55, 7);
    const keep: TrueStep = { ...skirt.trueStep, hem: { ...skirt.trueStep.hem, corners: 'keep' } };
    const kept = granted(trueFanned(opened, keep, skirt.fanStep));
    expect(kept.report.cornerSide).toBeCloseTo(blockCorner, 9);
  });

  it('fairness is raised against an unwanted change of bend as long as the hem stays near the strips', () => {
    const rectangular = loadTruedCase('O01');
    const opened = granted(openCuts(rectangular.piece, rectangular.plan));
    const hem = { ...rectangular.trueStep.hem, spans: 3 as const, fairness: 1e-8 };
    const { frame, run: target } = hemProblem('O01');
    const asTyped = fitHem({ frame: { ...frame, ...hem }, run: target, handles: { start: null, end: null } });
    expect(hemBend(asTyped.segments, target, { ...frame, ...hem }).unwanted).toBeGreaterThan(0);
    const { report } = granted(trueFanned(opened, { ...rectangular.trueStep, hem }, rectangular.fanStep));
    expect(report.unwantedInflections).toBe(0);
    expect(report.hemDeviation).toBeLessThan(3);
  });

  it('an unwanted change of bend that fairness cannot cure within 3 mm is reported with what to do', () => {
    const skirt = loadTruedCase('O08');
    const opened = granted(openCuts(skirt.piece, skirt.plan));
    const hem = { ...skirt.trueStep.hem, spans: 2 as const };
    const { report } = granted(trueFanned(opened, { ...skirt.trueStep, hem }, skirt.fanStep));
    expect(report.unwantedInflections).toBe(2);
    expect(report.warnings.join(' ')).toContain('changes its bend where the strips do not');
  });

  it('a hem more than 3 mm off the strips is reported, with the advice to allow more spans', () => {
    const skirt = loadTruedCase('O08');
    const opened = granted(openCuts(skirt.piece, skirt.plan));
    const { report } = granted(trueFanned(opened, skirt.trueStep, skirt.fanStep));
    expect(report.hemDeviation).toBeGreaterThan(3);
    expect(report.warnings.join(' ')).toContain('Allow the curve more spans');
  });
});
