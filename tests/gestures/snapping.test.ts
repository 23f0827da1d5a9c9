import { describe, expect, it } from 'vitest';
import { point } from '../../src/geometry/point';
import { cubic, line } from '../../src/geometry/segment';
import { tablePoint } from '../../src/gestures/frames';
import { type SnapTargets, snapPoint } from '../../src/gestures/snapping';

const origin = tablePoint(0, 0);
const slanted = line(point(0, 100), point(300, 400));
const targets: SnapTargets = {
  points: [
    { at: tablePoint(0, 100), word: 'corner' },
    { at: tablePoint(200, 50), word: 'notch' },
  ],
  paths: [
    { path: [slanted], offset: origin, word: 'side seam' },
    {
      path: [cubic(point(400, 0), point(450, 0), point(500, 50), point(500, 100))],
      offset: tablePoint(0, 200),
      word: 'hem',
    },
  ],
};
const base = { targets, reach: 8, from: null, step: 5, free: false };

describe('snapping', () => {
  it('meets a point before the edge it lies on', () => {
    const met = snapPoint(tablePoint(3, 104), base);
    expect(met.word).toBe('corner');
    expect(met.at).toEqual(tablePoint(0, 100));
    expect(met.marks).toContainEqual({ kind: 'snap', at: tablePoint(0, 100), word: 'corner' });
  });

  it('meets an edge at its nearest place, pieces lying anywhere on the table', () => {
    const met = snapPoint(tablePoint(104, 200), base);
    expect(met.word).toBe('on side seam');
    // Foot of the perpendicular on the line y = x + 100.
    expect(met.at.across).toBeCloseTo(102, 9);
    expect(met.at.down).toBeCloseTo(202, 9);
    const curve = snapPoint(tablePoint(503, 297), base);
    expect(curve.word).toBe('on hem');
    expect(Math.hypot(curve.at.across - 503, curve.at.down - 297)).toBeLessThan(8);
  });

  it('meets an edge at a right angle to where the line comes from', () => {
    const from = tablePoint(200, 100);
    const met = snapPoint(tablePoint(103, 204), { ...base, from });
    expect(met.word).toBe('square to the edge');
    // (200, 100) projected on y = x + 100 is (100, 200).
    expect(met.at.across).toBeCloseTo(100, 9);
    expect(met.at.down).toBeCloseTo(200, 9);
    expect(met.marks.some((mark) => mark.kind === 'guide')).toBe(true);
  });

  it('runs level, upright, parallel to an edge and square to it', () => {
    const from = tablePoint(600, 600);
    expect(snapPoint(tablePoint(701, 603), { ...base, from })).toMatchObject({
      word: 'level',
      at: tablePoint(700, 600),
    });
    expect(snapPoint(tablePoint(597, 500), { ...base, from })).toMatchObject({
      word: 'upright',
      at: tablePoint(600, 500),
    });
    const parallel = snapPoint(tablePoint(702, 699), { ...base, from });
    expect(parallel.word).toBe('parallel to side seam');
    expect(parallel.at.down - 600).toBeCloseTo(parallel.at.across - 600, 9);
    const square = snapPoint(tablePoint(702, 499), { ...base, from });
    expect(square.word).toBe('square to side seam');
    expect(square.at.down - 600).toBeCloseTo(-(square.at.across - 600), 9);
  });

  it('takes whole lengths where there is nothing to meet', () => {
    const from = tablePoint(600, 600);
    const met = snapPoint(tablePoint(660, 631), { ...base, from });
    expect(met.word).toBeNull();
    const length = Math.hypot(met.at.across - 600, met.at.down - 600);
    expect(length / 5).toBeCloseTo(Math.round(length / 5), 9);
  });

  it('Alt suspends all of it', () => {
    const p = tablePoint(1, 101);
    expect(snapPoint(p, { ...base, free: true })).toEqual({ at: p, word: null, marks: [] });
  });

  it('nothing within reach leaves the point alone', () => {
    const p = tablePoint(-400, -400);
    expect(snapPoint(p, base)).toEqual({ at: p, word: null, marks: [] });
  });
});
