import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { selfIntersections } from '../../src/geometry/intersect';
import { pathLength } from '../../src/geometry/path';
import { defaultFan } from '../../src/operations/fan';
import { defaultFinish } from '../../src/operations/finish';
import { workPiece } from '../../src/operations/recipe';
import { defaultTrue } from '../../src/operations/true';
import type { Piece } from '../../src/pattern/piece';
import type { Recipe, RecipeStep } from '../../src/pattern/recipe';
import { validatePiece } from '../../src/pattern/validate';
import { loadCase } from '../support/caseFile';
import { granted, refusalOf } from '../support/outcomes';
import { withoutNegativeZero } from '../support/plainData';
import { rectangle } from '../support/rectangle';

const skirt: Piece = { ...loadCase('O06').piece, fold: 'centre-front', cutCount: 1 };
const fanStep = granted(defaultFan(skirt, { slashes: 3, opening: 30 }));
const trueStep = defaultTrue();
const finishStep = defaultFinish();

describe('working a piece by its recipe', () => {
  it('an empty recipe gives the block itself', () => {
    const worked = granted(workPiece(skirt, []));
    expect(worked.piece).toBe(skirt);
    expect(worked.sweepAfter).toBe(worked.sweepBefore);
    expect(worked.areaAfter).toBe(worked.areaBefore);
    expect(worked.fanned).toBeNull();
    expect(worked.cutLine).toBeNull();
    expect(worked.warnings).toEqual([]);
    expect(worked.edges.map(({ id }) => id)).toEqual(skirt.edges.map(({ id }) => id));
    for (const { before, after } of worked.lengths) expect(after).toBe(before);
  });

  const steps: readonly RecipeStep[] = [fanStep, trueStep, finishStep];
  const combinations = Array.from({ length: 8 }, (_, mask) => steps.filter((_, i) => (mask >> i) & 1));

  it.each(combinations.map((recipe) => [recipe.map(({ kind }) => kind).join(', ') || 'nothing', recipe] as const))(
    'works with %s',
    (_, recipe: Recipe) => {
      const worked = granted(workPiece(skirt, recipe));
      const kinds = recipe.map(({ kind }) => kind);
      const fanned = kinds.includes('fan');
      expect(worked.fanned !== null).toBe(fanned);
      expect(worked.trued !== null).toBe(fanned && kinds.includes('true'));
      expect(worked.cutLine !== null).toBe(kinds.includes('finish'));
      expect(worked.sweepAfter! > worked.sweepBefore! + 80).toBe(fanned);
      const outline = worked.piece.edges.flatMap(({ path }) => path);
      expect(enclosedArea(outline)).toBeCloseTo(worked.areaAfter, 6);
      expect(selfIntersections(outline)).toEqual([]);
      expect(validatePiece(worked.piece)).toEqual([]);
      for (const { id, after } of worked.lengths) {
        expect(after).toBeCloseTo(pathLength(worked.piece.edges.find((edge) => edge.id === id)!.path), 9);
      }
      if (worked.cutLine !== null) expect(enclosedArea(worked.cutLine.path)).toBeGreaterThan(worked.areaAfter);
    },
  );

  it('does the steps in the order of the job, whatever the order in the list', () => {
    const inOrder = granted(workPiece(skirt, [fanStep, trueStep, finishStep]));
    const shuffled = granted(workPiece(skirt, [finishStep, trueStep, fanStep]));
    expect(shuffled.piece).toEqual(inOrder.piece);
    expect(shuffled.cutLine).toEqual(inOrder.cutLine);
  });

  it('R12 fanned but not trued is bridged by straight lines: sweep is the block hem plus the openings', () => {
    const worked = granted(workPiece(skirt, [fanStep]));
    expect(worked.sweepAfter!).toBeCloseTo(worked.sweepBefore! + 3 * 30, 8);
    expect(worked.areaAfter).toBe(worked.fanned!.areaAfter);
  });

  it('fanned but not trued has no straight fold, and says so; trued it has', () => {
    const open = granted(workPiece(skirt, [fanStep]));
    expect(open.piece.fold).toBeNull();
    expect(open.warnings.join(' ')).toContain('fold line is not straight');
    const trued = granted(workPiece(skirt, [fanStep, trueStep]));
    expect(trued.piece.fold).toBe('centre-front');
    expect(trued.warnings.join(' ')).not.toContain('fold line');
  });

  it('R7 keeps every uncut edge at its length', () => {
    const worked = granted(workPiece(skirt, [fanStep, trueStep]));
    for (const id of ['waist', 'side']) {
      const { before, after } = worked.lengths.find((length) => length.id === id)!;
      expect(Math.abs(after - before)).toBeLessThan(1e-9);
    }
  });

  it('keeps the fullness line on the piece, and the grainline where it was', () => {
    const bodice = loadCase('O03').piece;
    const step = granted(defaultFan(bodice, { slashes: 3, opening: 30, downSide: 60 }));
    const worked = granted(workPiece(bodice, [step, trueStep]));
    const fullness = worked.piece.internalLines.find(({ name }) => name.includes('fullness line'))!;
    expect(pathLength(fullness.path)).toBeCloseTo(worked.fanned!.cuts[0]!.length, 9);
    expect(worked.piece.grainline).toEqual(bodice.grainline);
    expect(worked.piece.drillHoles).toEqual(bodice.drillHoles);
  });

  it('warns of a line that a cut took apart', () => {
    const marked: Piece = {
      ...rectangle(300, 500),
      internalLines: [
        {
          id: 'pocket',
          name: 'pocket line',
          path: [{ kind: 'line', start: { x: 30, y: -60 }, end: { x: 270, y: -60 } }],
        },
      ],
    };
    const step = granted(defaultFan(marked, { slashes: 2, opening: 30 }));
    const worked = granted(workPiece(marked, [step, trueStep]));
    expect(worked.warnings).toContain('The line “pocket line” is crossed by a cut and came apart into 3 pieces.');
    expect(worked.piece.internalLines.filter(({ name }) => name === 'pocket line')).toHaveLength(3);
    expect(validatePiece(worked.piece)).toEqual([]);
  });

  it('R13 says what the centre rules cost', () => {
    const bodice = loadCase('O03').piece;
    const step = granted(defaultFan(bodice, { slashes: 3, opening: 40, downSide: 68 }));
    const warningsOf = (rule: 'parallel' | 'slide' | 'corner') =>
      granted(workPiece(bodice, [{ ...step, centreRule: rule }, trueStep])).warnings.join(' ');
    expect(warningsOf('parallel')).toBe('');
    expect(warningsOf('slide')).toContain('tears the side hinge');
    expect(warningsOf('corner')).toContain('leans 0.9°');
  });

  it('says which far edge bends when slashes run right through', () => {
    const through = { ...fanStep, fullness: null };
    expect(granted(workPiece(skirt, [through, trueStep])).warnings.join(' ')).toContain('waist now bends');
  });

  it('says that there is nothing to true before the fan', () => {
    const worked = granted(workPiece(skirt, [trueStep]));
    expect(worked.piece).toBe(skirt);
    expect(worked.warnings).toEqual(['Nothing has been opened yet, so there is nothing to true.']);
  });

  it('refuses a repeated step, and passes on what a step refuses', () => {
    expect(refusalOf(workPiece(skirt, [fanStep, fanStep]))).toBe('step-twice');
    expect(refusalOf(workPiece(skirt, [{ ...fanStep, hem: 'gone' }, trueStep]))).not.toBe('accepted');
  });

  it('refuses a trued outline that crosses itself, with a reason', () => {
    const hem = { ...trueStep.hem, handles: { centre: 4000, side: 4000 } };
    const outcome = workPiece(skirt, [fanStep, { ...trueStep, hem }]);
    expect(refusalOf(outcome)).toBe('trued-outline-crosses');
    expect(outcome.ok ? '' : outcome.sentence).toMatch(/crosses itself/);
  });

  it('refuses a hem taken up further than the edge is long', () => {
    const hem = { ...trueStep.hem, drop: { centre: 0, side: -5000 } };
    expect(refusalOf(workPiece(skirt, [fanStep, { ...trueStep, hem }]))).toBe('drop-too-far');
  });

  it('is plain data: the result survives being written down and read back', () => {
    const worked = granted(workPiece(skirt, [fanStep, trueStep, finishStep]));
    expect(JSON.parse(JSON.stringify(worked))).toStrictEqual(withoutNegativeZero(worked));
  });
});
