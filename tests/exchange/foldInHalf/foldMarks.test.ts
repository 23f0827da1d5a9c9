import { describe, expect, it } from 'vitest';
import type { DrawnMark } from '../../../src/exchange/drawing/drawingReading';
import { foldMarks } from '../../../src/exchange/foldInHalf/foldMarks';
import { upright } from './wholePieces';

const spot = (kind: 'notch' | 'drill', x: number, y: number): DrawnMark => ({ kind, at: { x, y }, shape: 's' });
const grain = (x1: number, y1: number, x2: number, y2: number): DrawnMark => ({
  kind: 'grain',
  from: { x: x1, y: y1 },
  to: { x: x2, y: y2 },
  shape: 's',
});

/** Folded onto the right, whose `sideOf` counts negative with a line that runs down. */
const onRight = (marks: readonly DrawnMark[], kept: 'mean' | 'one' = 'mean') => foldMarks(marks, upright, -1, kept);

describe('the marks of a piece folded in half', () => {
  it('R34 two that meet become one, halfway between; without the mean it is that of the half kept', () => {
    const pair = [spot('notch', 200, 300), spot('notch', -204, 302)];
    expect(onRight(pair)).toEqual({ marks: [spot('notch', 202, 301)], notes: [] });
    expect(onRight(pair, 'one').marks).toEqual([spot('notch', 200, 300)]);
  });

  it('R34 one that only one side has is kept and said, whichever side it is on', () => {
    const { marks, notes } = onRight([spot('drill', -80, 100), spot('notch', 190, 420)]);
    expect(marks).toEqual([spot('notch', 190, 420), spot('drill', 80, 100)]);
    expect(notes).toEqual(['2 marks were only on one side; they are kept and now hold for both.']);
    // Two notches too far apart to be one.
    expect(onRight([spot('notch', 200, 100), spot('notch', -204, 150)]).marks).toHaveLength(2);
    // A notch and a hole are no pair, however near they lie.
    expect(onRight([spot('drill', -80, 100), spot('notch', 80, 100)]).marks).toHaveLength(2);
  });

  it('R34 a mark on the fold stays there once; a hole there counts as inside', () => {
    const { marks, notes } = onRight([spot('notch', 0.6, 440), spot('drill', -0.4, 200)]);
    expect(notes).toEqual([]);
    expect(marks).toEqual([spot('notch', 0, 440), spot('drill', 0.001, 200)]);
  });

  it('R34 a grainline comes along from either side; one on the fold is laid anew, one askew is said', () => {
    expect(onRight([grain(-60, 400, -60, 100)]).marks).toEqual([grain(60, 400, 60, 100)]);
    expect(onRight([grain(60, 400, 60, 100)]).marks).toEqual([grain(60, 400, 60, 100)]);
    expect(onRight([grain(0, 400, 0, 100)])).toEqual({ marks: [], notes: [] });
    const bias = onRight([grain(-100, 300, 100, 100)]);
    expect(bias.marks).toEqual([]);
    expect(bias.notes[0]).toMatch(/does not run along the fold/);
  });
});
