import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatLength, type InchParts, type LengthUnit, parseLength } from '../../src/units/length';

function mm(text: string, unit: LengthUnit = 'in'): number {
  const read = parseLength(text, unit);
  if (!read.ok) throw new Error(`${text}: ${read.sentence}`);
  return read.value;
}

function refusal(text: string, unit: LengthUnit = 'in'): string {
  const read = parseLength(text, unit);
  if (read.ok) throw new Error(`${text} was read as ${read.value} mm`);
  expect(read.sentence).toMatch(/^.{10,160}[.]$/u);
  return read.code;
}

describe('parseLength', () => {
  // The inch is exactly 25.4 mm (international yard and pound agreement, 1959): 1 3/8 in = 34.925 mm.
  it.each([
    '1 3/8',
    '1-3/8',
    '1⅜',
    '1 ⅜',
    '1.375',
    '1,375',
    '1 3/8"',
    '1 3/8 in',
    '1 3⁄8',
    '1³⁄₈',
    '1–3/8',
    ' 1  3/8 ″',
    '1 3/8 inches',
  ])('R6 reads %s as 34.925 mm', (text) => expect(mm(text)).toBeCloseTo(34.925, 12));

  it('R6 reads 4 1/2 as four and a half, never as 41/2', () => {
    expect(mm('4 1/2')).toBeCloseTo(114.3, 12);
    expect(mm('4½')).toBeCloseTo(114.3, 12);
    expect(mm('4 1/2', 'cm')).toBeCloseTo(45, 12);
  });

  it.each([
    ['3/8', 'in', 9.525],
    ['4cm', 'in', 40],
    ['4 cm', 'in', 40],
    ['35mm', 'in', 35],
    ['35 mm', 'cm', 35],
    ['1 1/2"', 'cm', 38.1],
    ['1 1/2 in', 'mm', 38.1],
    ['2 ft', 'in', 609.6],
    ["2'", 'in', 609.6],
    ['1 ft 3 1/2 in', 'cm', 393.7],
    ['1\' 3 1/2"', 'cm', 393.7],
    ['4 cm 5 mm', 'in', 45],
    ['.5', 'cm', 5],
    [',5', 'cm', 5],
    ['5.', 'cm', 50],
    ['-3/8', 'in', -9.525],
    ['−1 1/2', 'in', -38.1],
    ['1 1/2 + 1/4', 'in', 44.45],
    ['1 1/2 + 1/4 in', 'cm', 44.45],
    ['2 cm + 3 mm', 'in', 23],
    ['3/2', 'in', 38.1],
    ['10/4', 'in', 63.5],
    ['0', 'cm', 0],
    ['-0', 'cm', 0],
  ] as const)('reads %s typed in %s as %d mm', (text, unit, expected) => {
    expect(mm(text, unit)).toBeCloseTo(expected, 10);
    expect(Object.is(mm(text, unit), -0)).toBe(false);
  });

  it('refuses a fraction that can be read two ways instead of guessing', () => {
    expect(refusal('11/2')).toBe('number-two-ways');
    expect(refusal('41/2')).toBe('number-two-ways');
    expect(refusal('1 - 3/8')).toBe('number-two-ways');
    expect(refusal('-1 + 2')).toBe('length-two-ways');
    expect(refusal('1 cm + 2 in + 3')).toBe('length-unit-missing');
  });

  it.each([
    ['', 'length-empty'],
    ['   ', 'length-empty'],
    ['abc', 'length-unreadable'],
    ['cm', 'length-unreadable'],
    ['1 2', 'length-unreadable'],
    ['1 1/2 1/4', 'length-unreadable'],
    ['1/2/3', 'length-unreadable'],
    ['1.234,5', 'length-unreadable'],
    ['1,234.5', 'length-unreadable'],
    ['1.5/8', 'length-unreadable'],
    ['--5', 'length-unreadable'],
    ['5 +', 'length-unreadable'],
    ['+', 'length-unreadable'],
    ['1 ft 3', 'length-unreadable'],
    ['3 in 1 ft', 'length-unreadable'],
    ['in 5', 'length-unreadable'],
    ['1e3', 'length-unit-unknown'],
    ['5 px', 'length-unit-unknown'],
    ['5 m', 'length-unit-unknown'],
    ['1/0', 'number-over-zero'],
    ['1 8/8', 'number-fraction-too-big'],
    ['101 ft + 300 ft', 'length-too-long'],
    ['9'.repeat(400), 'length-too-long'],
    ['NaN', 'length-unreadable'],
    ['Infinity', 'length-unreadable'],
  ])('refuses “%s” with a sentence (%s)', (text, code) => expect(refusal(text)).toBe(code));

  it('answers a finite length or a sentence for any text at all', () => {
    const characters = fc.constantFrom(...'0123456789 .,/-+½⅜⁄²₈"\'′″cmintf−x'.split(''));
    fc.assert(
      fc.property(
        fc.string({ unit: characters, maxLength: 14 }),
        fc.constantFrom<LengthUnit>('in', 'cm', 'mm'),
        (text, unit) => {
          const read = parseLength(text, unit);
          expect(read.ok ? Number.isFinite(read.value) : read.sentence.length > 10).toBe(true);
        },
      ),
      { numRuns: 5000 },
    );
  });
});

describe('formatLength', () => {
  it.each([
    [38.1, 'in', '1 1/2 in'],
    [34.925, 'in', '1 3/8 in'],
    [9.525, 'in', '3/8 in'],
    [50.8, 'in', '2 in'],
    [0, 'in', '0 in'],
    [-0.2, 'in', '0 in'],
    [-38.1, 'in', '-1 1/2 in'],
    [25.39, 'in', '1 in'],
    [1.5875, 'in', '1/16 in'],
    [40, 'cm', '4.0 cm'],
    [42.5, 'cm', '4.25 cm'],
    [-0.01, 'cm', '0.0 cm'],
    [35, 'mm', '35.0 mm'],
    [34.925, 'mm', '34.9 mm'],
    [-0.04, 'mm', '0.0 mm'],
  ] as const)('writes %d mm in %s as %s', (length, unit, text) => expect(formatLength(length, unit)).toBe(text));

  it('takes other fractions, decimals and no unit', () => {
    expect(formatLength(25.4 * (1 + 3 / 32), 'in', { inchParts: 32 })).toBe('1 3/32 in');
    expect(formatLength(25.4 * (1 + 3 / 32), 'in', { inchParts: 8 })).toBe('1 1/8 in');
    expect(formatLength(42.5, 'cm', { decimals: 1, bare: true })).toBe('4.3');
    expect(formatLength(40, 'cm', { decimals: 0 })).toBe('4 cm');
  });

  it('is read back within half a step, for any length, unit and step', () => {
    const shape = fc.record({
      length: fc.double({ min: -20_000, max: 20_000, noNaN: true }),
      unit: fc.constantFrom<LengthUnit>('in', 'cm', 'mm'),
      shown: fc.constantFrom<LengthUnit>('in', 'cm', 'mm'),
      inchParts: fc.constantFrom<InchParts>(8, 16, 32),
      bare: fc.boolean(),
    });
    fc.assert(
      fc.property(shape, ({ length, unit, shown, inchParts, bare }) => {
        const step = unit === 'in' ? 25.4 / inchParts : 0.1;
        const text = formatLength(length, unit, { inchParts, bare });
        const back = mm(text, bare ? unit : shown);
        expect(Math.abs(back - length)).toBeLessThanOrEqual(step / 2 + 1e-9);
        // What was rounded once does not move again.
        expect(formatLength(back, unit, { inchParts, bare })).toBe(text);
      }),
      { numRuns: 2000 },
    );
  });
});
