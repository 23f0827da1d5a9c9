import { describe, expect, it } from 'vitest';
import type { Picture } from '../../../src/exchange/photo/picture';
import { type OutlineFound, proposeOutline } from '../../../src/exchange/photo/proposeOutline';
import { straighten } from '../../../src/exchange/photo/straighten';
import type { Outcome } from '../../../src/geometry/outcome';
import type { Point } from '../../../src/geometry/point';
import { granted } from '../../support/outcomes';
import { sheetOfSize } from '../../support/photo/measurePhoto';
import { type FlatShape, flatPicture } from './flatScene';

const slate = [0.1, 0.12, 0.16] as const;
const kraft = [0.45, 0.3, 0.16] as const;
const white = [0.85, 0.85, 0.83] as const;
const optics = { blur: 0.8, noise: 0.01 };
const told = { width: 297, height: 210, kind: 'edge-of-paper' } as const;

/** A rectangle, dots, turned a little about its middle. */
function slab(x: number, y: number, width: number, height: number, turned: number): Point[] {
  return [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([u, v]) => {
    const [a, b] = [(u! * width) / 2, (v! * height) / 2];
    return { x: x + a * Math.cos(turned) - b * Math.sin(turned), y: y + a * Math.sin(turned) + b * Math.cos(turned) };
  });
}

/** A sheet 297 by 210 mm, 1 mm to the dot, and a piece of kraft paper 280 by 360 mm. */
const sheetAt = (x: number, y: number): FlatShape => ({ loops: [slab(x, y, 297, 210, 0.03)], colour: white });
const pieceAt = (x: number, y: number, colour: FlatShape['colour'] = kraft): FlatShape => ({
  loops: [slab(x, y, 280, 360, -0.02)],
  colour,
});

const seen = (shapes: readonly FlatShape[], change = {}) =>
  flatPicture(900, 640, slate, shapes, { ...optics, ...change });

/** As the app reads a photograph with nothing clicked; null where no sheet of the size told is found. */
function read(picture: Picture, size: { readonly width: number; readonly height: number } = told) {
  const corners = sheetOfSize(picture, { ...told, ...size });
  if (corners === null) return null;
  const straight = straighten(picture, { kind: 'sheet', ...size, corners });
  if (!straight.ok) return straight;
  return proposeOutline(picture, straight.value.view, {
    at: null,
    kind: 'edge-of-paper',
    leaveOut: [straight.value.corners],
  });
}

/** The sentence of a refusal, its code in front. */
function refusal(outcome: Outcome<OutlineFound> | null): string {
  if (outcome === null || outcome.ok) return 'none';
  return `${outcome.code}: ${outcome.sentence}`;
}

const usual = pieceAt(250, 320);

describe('a photograph that shows too little', () => {
  it('is read where nothing is wrong with it', () => {
    expect(granted(read(seen([sheetAt(690, 300), usual]))!).area / (280 * 360)).toBeCloseTo(1, 2);
  });

  it.each([
    ['nothing but one colour', []],
    ['no sheet', [usual]],
    ['a sheet that is partly outside', [sheetAt(800, 300), usual]],
    ['a sheet partly under the piece', [sheetAt(500, 300), usual]],
  ])('offers no sheet of the size told: %s', (_, shapes) => {
    expect(read(seen(shapes))).toBeNull();
  });

  it('offers no sheet where another size is told than lies there', () => {
    expect(read(seen([sheetAt(690, 300), usual]), { width: 300, height: 205 })).toBeNull();
  });

  it.each([
    [
      'no piece',
      [sheetAt(690, 300)],
      /^piece-not-found: No piece stands out .* lay it on a table of another colour\.$/,
    ],
    [
      'a piece of the colour of the table',
      [sheetAt(690, 300), pieceAt(250, 320, [0.105, 0.125, 0.165])],
      /^piece-not-found: No piece stands out .* lay it on a table of another colour\.$/,
    ],
    [
      'a piece that touches the sheet',
      [sheetAt(543, 300), usual],
      /^piece-touches-sheet: The piece touches the sheet .* Move them apart and take the picture again\.$/,
    ],
    [
      'a piece on the sheet',
      [sheetAt(450, 300), { loops: [slab(450, 300, 150, 100, 0)], colour: kraft }],
      /^piece-not-found: No piece stands out/,
    ],
  ] as const)('is refused with what is wrong and what to do: %s', (_, shapes, sentence) => {
    expect(refusal(read(seen(shapes)))).toMatch(sentence);
  });

  it.each([2.5, 4, 8])('is refused when it is blurred by %d dots of 1 mm: corners would be off unsaid', (blur) => {
    expect(refusal(read(seen([sheetAt(690, 300), usual], { blur })))).toMatch(
      /^picture-blurred: The picture is out of focus.* take the picture again\.$/,
    );
  });

  it('takes the piece and not the second of two sheets', () => {
    const found = granted(read(seen([sheetAt(690, 150), sheetAt(690, 450), usual]))!);
    expect(found.area / (280 * 360)).toBeCloseTo(1, 2);
  });
});
