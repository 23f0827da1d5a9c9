import { describe, expect, it } from 'vitest';
import { usualFan, usualFinish, usualTrue } from '../../src/store/usualSteps';
import { formatLength } from '../../src/units/length';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { must } from '../support/testStore';

const front = draftSleevelessTop().blocks[0]!;

/** What is left over beyond the nearest mark, mm. */
function offMark(length: number, mark: number): number {
  return Math.abs(length - Math.round(length / mark) * mark);
}

describe('the steps a piece starts with', () => {
  it('R20 allowances: 15 and 20 mm, on an inch tape 5/8 in (home seam: Wikipedia, Seam allowance) and 3/4 in (ours)', () => {
    for (const unit of ['cm', 'mm'] as const)
      expect(usualFinish(unit)).toMatchObject({ seam: 15, hem: 20, byEdge: {} });
    expect(usualFinish('in').seam).toBeCloseTo(15.875, 9);
    expect(usualFinish('in').hem).toBeCloseTo(19.05, 9);
    expect(formatLength(usualFinish('in').seam, 'in')).toBe('5/8 in');
  });

  it('fan and trueing stand on half centimetres, or on eighths of an inch', () => {
    for (const [unit, mark] of [
      ['cm', 5],
      ['mm', 5],
      ['in', 25.4 / 8],
    ] as const) {
      const fan = must(usualFan(front, unit));
      const { side } = usualTrue(unit);
      const openings = fan.slashes.map(({ opening }) => (opening.measure === 'chord' ? opening.hem : Number.NaN));
      for (const length of [fan.fullness!.downSide, side.up, side.down, ...openings]) {
        expect(length).toBeGreaterThan(0);
        expect(offMark(length, mark)).toBeLessThan(1e-9);
      }
    }
  });
});
