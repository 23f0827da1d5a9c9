import { describe, expect, it } from 'vitest';
import { defaultFan, fan } from '../../src/operations/fan';
import { openCuts } from '../../src/operations/linkage/spread';
import type { Piece } from '../../src/pattern/piece';
import type { FanStep } from '../../src/pattern/recipe';
import { loadCase } from '../support/caseFile';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { granted } from '../support/outcomes';

const front = draftStraightSkirt().blocks.find(({ id }) => id === 'front')!;
const start = granted(defaultFan(front, { slashes: 5, opening: 20 }));

function opened(step: FanStep, by: (index: number) => number): FanStep {
  return {
    ...step,
    slashes: step.slashes.map((slash, index) => ({ ...slash, opening: { measure: 'chord', hem: by(index), far: 0 } })),
  };
}

/** The same fan on a piece that was never cut before. */
function afresh(piece: Piece, step: FanStep) {
  return granted(fan({ ...piece }, step));
}

describe('a piece that is fanned again and again, as in a drag', () => {
  const drag: readonly (readonly [string, FanStep])[] = [
    ['other openings', opened(start, (index) => 10 + 7 * index)],
    ['openings back to nothing', opened(start, () => 0)],
    ['a moved slash line', { ...start, slashes: start.slashes.map((s, i) => (i === 2 ? { ...s, across: 0.47 } : s)) }],
    ['a leaning slash line', { ...start, slashes: start.slashes.map((s, i) => (i === 4 ? { ...s, tilt: 0.05 } : s)) }],
    ['a raised fullness line', { ...start, fullness: { downSide: 150, tilt: 0 } }],
    ['a leaning fullness line', { ...start, fullness: { downSide: 150, tilt: 0.1 } }],
    ['a slash line less', { ...start, slashes: start.slashes.slice(1) }],
    ['a renamed slash line', { ...start, slashes: start.slashes.map((s, i) => (i === 0 ? { ...s, id: 'other' } : s)) }],
    ['no fullness line', { ...start, fullness: null }],
    ['no fullness line and other openings', opened({ ...start, fullness: null }, (index) => 5 * index)],
  ];

  it.each(drag)('gives with %s what a fresh piece gives', (_, step) => {
    granted(fan(front, start));
    expect(granted(fan(front, step))).toEqual(afresh(front, step));
    expect(granted(fan(front, start))).toEqual(afresh(front, start));
  });

  it('refuses a cut that misses and then fans as before', () => {
    const before = granted(fan(front, start));
    expect(fan(front, { ...start, fullness: { downSide: 5000, tilt: 0 } }).ok).toBe(false);
    expect(granted(fan(front, start))).toEqual(before);
  });

  it.each(['O02', 'O06', 'O08', 'O09', 'O10'])('opens reference case %s twice alike, whatever it takes away', (id) => {
    const { piece, plan } = loadCase(id);
    const first = granted(openCuts(piece, plan));
    const keeping = { ...plan, cuts: plan.cuts.map((cut) => ({ ...cut, drop: null })) };
    const kept = openCuts(piece, keeping);
    expect(kept).toEqual(openCuts({ ...piece }, keeping));
    expect(granted(openCuts(piece, plan))).toEqual(first);
  });
});
