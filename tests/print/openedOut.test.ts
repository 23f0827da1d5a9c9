import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { pathBounds } from '../../src/geometry/bounds';
import { distance, point } from '../../src/geometry/point';
import type { Path } from '../../src/geometry/segment';
import { defaultFinish, finish } from '../../src/operations/finish';
import { validatePiece } from '../../src/pattern/validate';
import { labelLines } from '../../src/print/labelText';
import { openedOut } from '../../src/print/openedOut';
import { drawPiece } from '../../src/print/pieceDrawing';
import { cutStyle, foldStyle } from '../../src/print/styles';
import { planned, printable } from './support/garments';
import { casePiece } from './support/pieces';

const outlineOf = (piece: { readonly edges: readonly { readonly path: Path }[] }) =>
  piece.edges.flatMap(({ path }) => path);

describe('a piece on the fold printed opened out', () => {
  const plainBodice = casePiece('O03-bodice-front-parallel');
  const { minY, maxY } = pathBounds(outlineOf(plainBodice));
  const middle = (minY + maxY) / 2;
  const bodice = {
    ...plainBodice,
    notches: [{ id: 'n', edge: 'side', distance: 150, style: 'single' as const }],
    drillHoles: [{ id: 'h', at: point(90, middle) }],
  };
  const half = printable(bodice);
  const whole = openedOut(half);

  it('R34 has twice the area of the half, twice its width, the same height, and is a sound piece', () => {
    expect(validatePiece(whole.piece)).toEqual([]);
    expect(enclosedArea(outlineOf(whole.piece))).toBeCloseTo(2 * enclosedArea(outlineOf(bodice)), 6);
    const [a, b] = [pathBounds(outlineOf(bodice)), pathBounds(outlineOf(whole.piece))];
    expect(b.maxX - b.minX).toBeCloseTo(2 * (a.maxX - a.minX), 9);
    expect(b.maxY - b.minY).toBeCloseTo(a.maxY - a.minY, 9);
  });

  it('R34 has allowances right round and none at the centre: the cut line that finishing the whole piece gives', () => {
    const { path } = whole.cutLine!;
    expect(path.every((s, i) => distance(s.end, path[(i + 1) % path.length]!.start) < 0.02)).toBe(true);
    expect(enclosedArea(path)).toBeCloseTo(2 * enclosedArea(half.cutLine!.path), 1);
    // The other way to it: the allowances worked on the whole outline. Neck and hem run on over the centre there.
    const again = finish(whole.piece, whole.finish ?? defaultFinish());
    if (!again.ok) throw new Error(again.sentence);
    expect(Math.abs(enclosedArea(again.value.path) / enclosedArea(path) - 1)).toBeLessThan(1e-3);
  });

  it('R34 has its marks on both sides, one grainline, and says how many to cut instead of the fold', () => {
    expect(whole.piece.notches).toHaveLength(2);
    expect(whole.piece.drillHoles.map(({ at }) => at.x)).toEqual([90, expect.closeTo(-90, 9)]);
    expect(whole.piece.grainline).toEqual(bodice.grainline);
    expect(labelLines(whole).map(({ text }) => text)).toContain('Cut 1');
    expect(labelLines({ ...whole, piece: { ...whole.piece, cutCount: 2 } }).map(({ text }) => text)).toContain('Cut 2');
    expect(labelLines(half).map(({ text }) => text)).toContain('Cut 1 on the fold');
    const { items } = drawPiece(whole);
    const styled = (style: unknown) => items.filter((item) => item.kind === 'path' && item.line === style);
    expect(styled(foldStyle)).toHaveLength(0);
    expect(styled(cutStyle)).toMatchObject([{ closed: true }]);
    expect(items.some((item) => item.kind === 'text' && item.text === 'place on the fold')).toBe(false);
  });

  it('R34 keeps the allowances of single edges on both sides', () => {
    const byEdge = { side: 30 };
    const step = { ...defaultFinish(), byEdge };
    const cutLine = finish(bodice, step);
    if (!cutLine.ok) throw new Error(cutLine.sentence);
    const wide = openedOut({ ...half, cutLine: cutLine.value, finish: step });
    const bounds = pathBounds(wide.cutLine!.path);
    expect(bounds.maxX + bounds.minX).toBeCloseTo(0, 6);
    expect(labelLines(wide).map(({ text }) => text)).toEqual(
      labelLines({ ...half, cutLine: cutLine.value, finish: step }).map(({ text }) => text.replace(' on the fold', '')),
    );
  });

  it('R34 needs the pages of its own size; a piece without a fold stays as it is', () => {
    const plain = printable({ ...bodice, fold: null });
    expect(openedOut(plain)).toBe(plain);
    const [one, two] = [planned([half]), planned([whole])];
    expect(two.pages.length).toBeGreaterThan(one.pages.length);
    const bounds = pathBounds(two.pieces[0]!.outer);
    const own = pathBounds(half.cutLine!.path);
    expect(bounds.maxX - bounds.minX).toBeCloseTo(2 * own.maxX, 2);
  });
});
