import { describe, expect, it } from 'vitest';
import { applyScale } from '../../src/exchange/drawing/applyScale';
import { readSvg } from '../../src/exchange/svg/readSvg';
import { pathLength } from '../../src/geometry/path';
import { fixture, read, readScaled } from './svgFixture';

const square = '<path d="M10 10H90V90H10z"/>';
const drawing = (attributes: string, inside = square) =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${inside}</svg>`;
const scaleOf = (attributes: string) => read(drawing(attributes)).scale;

describe('a scale that is certain', () => {
  // CSS Values and Units 3, section 6.2: 1 in = 2.54 cm = 25.4 mm = 72 pt = 6 pc = 101.6 Q.
  it.each([
    ['210mm', '297mm', '0 0 210 297', 1],
    ['21cm', '29.7cm', '0 0 210 297', 1],
    ['8.5in', '11in', '0 0 8.5 11', 25.4],
    ['612pt', '792pt', '0 0 612 792', 25.4 / 72],
    ['51pc', '66pc', '0 0 612 792', 25.4 / 72],
    ['840Q', '1188Q', '0 0 210 297', 1],
    [' 210MM ', '297mm', ' -5, -7 , 210 , 297 ', 1],
    ['2.1e2mm', '+297mm', '0 0 793.7008 1122.5197', 25.4 / 96],
  ])('width %s, height %s, view box %s', (width, height, box, mmPerUnit) => {
    const scale = scaleOf(`width="${width}" height="${height}" viewBox="${box}"`);
    expect(scale.kind).toBe('certain');
    expect(scale.kind === 'certain' && scale.mmPerUnit / mmPerUnit).toBeCloseTo(1, 6);
  });

  it('says what it was read from, and how well the axes agree when they are rounded', () => {
    const scale = scaleOf('width="210mm" height="297mm" viewBox="0 0 794 1123"');
    expect(scale).toMatchObject({ kind: 'certain', mmPerUnit: 297 / 1123 });
    expect(scale.kind === 'certain' && scale.source).toMatch(
      /210 mm by 297 mm for 794 by 1123 units.*agreeing within 0\.0051 %/,
    );
  });

  it('cautions where points may be picture dots', () => {
    const scale = scaleOf('width="612pt" height="792pt" viewBox="0 0 612 792"');
    expect(scale.kind === 'certain' && scale.source).toMatch(/check one length/);
  });
});

describe('R23 a scale that has to be asked', () => {
  it.each([
    ['', 'does not say'],
    ['viewBox="0 0 100 100"', 'does not say'],
    ['width="100" height="100" viewBox="0 0 100 100"', 'screen units'],
    ['width="100px" height="100px" viewBox="0 0 100 100"', 'screen units'],
    ['width="100" height="100"', 'screen units'],
    ['width="100%" height="100%" viewBox="0 0 100 100"', 'share of the window'],
    ['width="100mm" height="100mm"', 'how many units'],
    ['width="100mm" viewBox="0 0 100 100"', 'one direction only'],
    ['width="100mm" height="100px" viewBox="0 0 100 100"', 'one direction only'],
    ['width="100em" height="100em" viewBox="0 0 100 100"', 'does not say'],
    ['width="100mm" height="100mm" viewBox="0 0 0 100"', 'how many units'],
    ['width="0mm" height="100mm" viewBox="0 0 100 100"', 'cannot be'],
    ['width="-100mm" height="-100mm" viewBox="0 0 100 100"', 'cannot be'],
    ['width="1e8mm" height="1e8mm" viewBox="0 0 100 100"', 'not a believable size'],
    ['style="width:500px" width="100mm" height="100mm" viewBox="0 0 100 100"', 'in a style'],
    ['width="300mm" height="600mm" viewBox="0 0 300 640"', '6.3 % apart'],
  ])('%s', (attributes, why) => {
    const scale = scaleOf(attributes);
    expect(scale.kind).toBe('ask');
    if (scale.kind !== 'ask') return;
    expect(scale.sentence).toContain(why);
    expect(scale.sentence).toContain('Give one length you know.');
    expect(scale.suggestions.length).toBeGreaterThan(0);
  });

  it('suggests what 96, 90 and 72 units to the inch would mean, counting the view box', () => {
    const scale = read(fixture('screen-units.svg')).scale;
    // 1200 px shown for 300 units: 4 px to the unit.
    expect(scale.kind === 'ask' && scale.suggestions.slice(0, 3).map(({ mmPerUnit }) => mmPerUnit)).toEqual([
      expect.closeTo((4 * 25.4) / 96, 12),
      expect.closeTo((4 * 25.4) / 90, 12),
      expect.closeTo((4 * 25.4) / 72, 12),
    ]);
  });

  it('refuses a page stretched more one way than the other', () => {
    const outcome = readSvg(drawing('width="300mm" height="600mm" viewBox="0 0 300 640" preserveAspectRatio="none"'));
    expect(outcome).toMatchObject({ ok: false, code: 'svg-stretched' });
  });
});

describe('answers about scale', () => {
  const asked = read(fixture('screen-units.svg'));
  const side = { x: 20, y: 20 };
  const hem = { x: 20, y: 620 };

  it('takes a known length between two points', () => {
    const { shapes, mmPerUnit, source } = readScaled(fixture('screen-units.svg'), {
      kind: 'points',
      from: side,
      to: hem,
      length: 600,
    });
    expect(mmPerUnit).toBe(1);
    expect(source).toContain('600 mm');
    expect(pathLength(shapes[0]!.path)).toBeCloseTo(pathLength(readScaled(fixture('skirt-mm.svg')).shapes[0]!.path), 9);
  });

  it('takes a known length along a side of a shape, over its start too', () => {
    const whole = pathLength(asked.shapes[0]!.path);
    const down = applyScale(asked, { kind: 'side', shape: 'shape-1', from: 0, to: 600, length: 450 });
    expect(down.ok && down.value.mmPerUnit).toBeCloseTo(0.75, 12);
    // The last 200 units are the waist; 200 + 600 round the start.
    const round = applyScale(asked, { kind: 'side', shape: 'shape-1', from: whole - 200, to: 600, length: 400 });
    expect(round.ok && round.value.mmPerUnit).toBeCloseTo(0.5, 9);
  });

  it('takes a suggestion only when it is chosen, and the file at its word only when it gave it', () => {
    expect(applyScale(asked, { kind: 'stated' })).toMatchObject({ ok: false, code: 'scale-not-stated' });
    expect(applyScale(asked, { kind: 'suggestion', index: 1 })).toMatchObject({
      ok: true,
      value: { mmPerUnit: (4 * 25.4) / 90, source: 'You chose: 90 units to the inch.' },
    });
    expect(applyScale(asked, { kind: 'suggestion', index: 99 })).toMatchObject({
      ok: false,
      code: 'scale-suggestion-unknown',
    });
  });

  it('checks a second length, reports its error and refuses beyond 0.5 %', () => {
    const answer = { kind: 'points', from: side, to: hem, length: 600 } as const;
    const across = (length: number) =>
      applyScale(asked, answer, { kind: 'points', from: hem, to: { x: 280, y: 620 }, length });
    expect(across(259)).toMatchObject({
      ok: true,
      value: { check: { measured: 260, known: 259, error: expect.closeTo(1 / 259, 12) } },
    });
    expect(across(261.2)).toMatchObject({
      ok: true,
      value: { check: { sentence: expect.stringContaining('-0.46 % off') } },
    });
    expect(across(258)).toMatchObject({
      ok: false,
      code: 'second-length-off',
      sentence: expect.stringContaining('0.78 %'),
    });
    expect(across(261.5)).toMatchObject({ ok: false, code: 'second-length-off' });
  });

  it('does not let a length check itself', () => {
    const answer = { kind: 'points', from: side, to: hem, length: 600 } as const;
    expect(applyScale(asked, answer, { ...answer, from: hem, to: { x: 21, y: 21 } })).toMatchObject({
      ok: false,
      code: 'check-same-length',
    });
  });

  it.each([
    ['known-length-unusable', { kind: 'points', from: side, to: hem, length: 0 }],
    ['known-length-unusable', { kind: 'points', from: side, to: hem, length: Number.NaN }],
    ['known-length-unusable', { kind: 'points', from: side, to: hem, length: 1e9 }],
    ['known-length-too-near', { kind: 'points', from: side, to: side, length: 600 }],
    ['known-length-too-near', { kind: 'points', from: side, to: { x: Number.NaN, y: 0 }, length: 600 }],
    ['scale-unbelievable', { kind: 'points', from: side, to: { x: 20, y: 21 }, length: 600 }],
    ['shape-unknown', { kind: 'side', shape: 'shape-9', from: 0, to: 5, length: 600 }],
    ['side-off-shape', { kind: 'side', shape: 'shape-1', from: 0, to: 1e6, length: 600 }],
  ] as const)('refuses with %s: %j', (code, answer) => {
    const outcome = applyScale(asked, answer);
    expect(outcome).toMatchObject({ ok: false, code });
    expect(!outcome.ok && outcome.sentence).toMatch(/[A-Z].*\.$/);
  });

  it('warns when the maker and the file disagree, and when the known length is short', () => {
    const stated = read(fixture('skirt-mm.svg'));
    const scaled = applyScale(stated, { kind: 'points', from: side, to: { x: 20, y: 60 }, length: 41 });
    expect(scaled.ok && scaled.value.warnings).toEqual([
      expect.stringContaining('under 50 mm'),
      expect.stringContaining('2.50 % different from what the file states'),
    ]);
  });
});
