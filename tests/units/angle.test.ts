import { describe, expect, it } from 'vitest';
import { formatAngle, parseAngle } from '../../src/units/angle';

describe('angles', () => {
  it.each([
    ['180', Math.PI],
    ['90°', Math.PI / 2],
    ['-45 deg', -Math.PI / 4],
    ['4,5 degrees', Math.PI / 40],
    ['22 1/2', Math.PI / 8],
    ['0', 0],
  ])('reads %s degrees', (text, radians) =>
    expect(parseAngle(text)).toEqual({ ok: true, value: expect.closeTo(radians, 14) }),
  );

  it.each([
    ['', 'angle-unreadable'],
    ['steep', 'angle-unreadable'],
    ['360', 'angle-too-large'],
    ['1/0', 'number-over-zero'],
  ])('refuses “%s”', (text, code) => expect(parseAngle(text)).toMatchObject({ ok: false, code }));

  it('writes degrees', () => {
    // 2 in opened at 24 in is 4.776 degrees: 2 asin(1/24) (arithmetic anyone can redo).
    expect(formatAngle(2 * Math.asin(1 / 24), 3)).toBe('4.776°');
    expect(formatAngle(-0.0001)).toBe('0.0°');
    expect(formatAngle(-Math.PI / 6)).toBe('-30.0°');
  });
});
