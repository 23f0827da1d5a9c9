import { describe, expect, it } from 'vitest';
import { openingsForSweep } from '../../src/measure/targetSweep';
import { defaultFan } from '../../src/operations/fan';
import { workPiece } from '../../src/operations/recipe';
import { defaultTrue } from '../../src/operations/true';
import type { FanStep, Recipe } from '../../src/pattern/recipe';
import { loadCase } from '../support/caseFile';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { granted, refusalOf } from '../support/outcomes';
import { rectangle } from '../support/rectangle';

const front = draftStraightSkirt().blocks.find(({ id }) => id === 'front')!;
const step = granted(defaultFan(front, { slashes: 4, opening: 30 }));

function openings({ slashes }: FanStep): number[] {
  return slashes.map(({ opening }) => (opening.measure === 'angle' ? opening.angle : opening.hem));
}

function sweepOf(fanStep: FanStep, others: Recipe = [defaultTrue()]): number {
  return granted(workPiece(front, [fanStep, ...others])).sweepAfter!;
}

describe('openings for a typed sweep', () => {
  it.each([260, 300, 417.3, 520, 640])('the trued hem of the skirt front measures %f mm', (target) => {
    const found = granted(openingsForSweep(front, [step, defaultTrue()], step, target));
    expect(Math.abs(sweepOf(found) - target)).toBeLessThan(1e-6);
    const [first, ...rest] = openings(found);
    for (const other of rest) expect(other).toBeCloseTo(first!, 12);
  });

  it('without trueing the openings share what is missing exactly', () => {
    const block = sweepOf({ ...step, slashes: [] }, []);
    const found = granted(openingsForSweep(front, [step], step, block + 130));
    for (const opening of openings(found)) expect(opening).toBeCloseTo(130 / 4, 6);
  });

  it('keeps the proportions of unequal openings', () => {
    const uneven: FanStep = {
      ...step,
      slashes: step.slashes.map((slash, i) => ({
        ...slash,
        opening: { measure: 'chord', hem: 10 * (i + 1), far: 0 },
      })),
    };
    const found = openings(granted(openingsForSweep(front, [uneven, defaultTrue()], uneven, 450)));
    found.forEach((opening, i) => {
      expect(opening / found[0]!).toBeCloseTo(i + 1, 9);
    });
  });

  it.each(['angle', 'arc'] as const)('works for openings measured as %s', (measure) => {
    const measured: FanStep = {
      ...step,
      slashes: step.slashes.map((slash) => ({
        ...slash,
        opening: measure === 'angle' ? { measure, angle: 0.05 } : { measure, hem: 20 },
      })),
    };
    const found = granted(openingsForSweep(front, [measured, defaultTrue()], measured, 430));
    expect(Math.abs(sweepOf(found) - 430)).toBeLessThan(1e-6);
    expect(found.slashes[0]!.opening.measure).toBe(measure);
  });

  it('opens closed lines equally', () => {
    const closed = granted(defaultFan(front, { slashes: 3, opening: 0 }));
    const found = granted(openingsForSweep(front, [closed, defaultTrue()], closed, 400));
    expect(Math.abs(sweepOf(found) - 400)).toBeLessThan(1e-6);
    expect(new Set(openings(found)).size).toBe(1);
  });

  it('the sweep of the block asks for nothing', () => {
    const block = sweepOf({ ...step, slashes: [] }, []);
    const found = granted(openingsForSweep(front, [step], step, block));
    expect(openings(found).every((opening) => opening === 0)).toBe(true);
  });

  it('overlaps for less than the block has', () => {
    const piece = rectangle(300, 500);
    const through: FanStep = { ...granted(defaultFan(piece, { slashes: 2, opening: 20 })), fullness: null };
    const found = granted(openingsForSweep(piece, [through], through, 280));
    expect(openings(found).every((opening) => opening < 0)).toBe(true);
    expect(granted(workPiece(piece, [found])).sweepAfter!).toBeCloseTo(280, 5);
  });

  it('reaches a wide fan on the bodice of the reference case and refuses what would cross itself', () => {
    const { piece } = loadCase('O03');
    const bodice = granted(defaultFan(piece, { slashes: 3, opening: 40, downSide: 68 }));
    // Simple at openings of 330 mm each, crossing at 350 (docs/maths/trueing.md, section 5).
    const wide = granted(openingsForSweep(piece, [bodice], bodice, 260 + 3 * 320));
    expect(openings(wide)[0]!).toBeGreaterThan(310);
    expect(refusalOf(openingsForSweep(piece, [bodice], bodice, 260 + 3 * 380))).not.toBe('accepted');
  });

  it('refuses a sweep that is no length and a fan without slash lines', () => {
    expect(refusalOf(openingsForSweep(front, [step], step, Number.NaN))).toBe('sweep-wrong');
    expect(refusalOf(openingsForSweep(front, [step], step, 0))).toBe('sweep-wrong');
    expect(refusalOf(openingsForSweep(front, [step], { ...step, slashes: [] }, 500))).toBe('slash-missing');
  });
});
