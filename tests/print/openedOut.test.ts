import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { pathBounds } from '../../src/geometry/bounds';
import { pathPointAt } from '../../src/geometry/path';
import { distance, point } from '../../src/geometry/point';
import { line, type Path } from '../../src/geometry/segment';
import { defaultFinish, finish } from '../../src/operations/finish';
import { findEdge } from '../../src/pattern/lookUp';
import { validatePiece } from '../../src/pattern/validate';
import { labelLines } from '../../src/print/labelText';
import { openedOut, openedWhereWanted } from '../../src/print/openedOut';
import { drawPiece } from '../../src/print/pieceDrawing';
import type { PrintablePiece } from '../../src/print/printablePiece';
import { cutStyle, foldStyle } from '../../src/print/styles';
import { planned, printable } from './support/garments';
import { casePiece } from './support/pieces';

const outlineOf = (piece: { readonly edges: readonly { readonly path: Path }[] }) =>
  piece.edges.flatMap(({ path }) => path);

function opened(half: PrintablePiece): PrintablePiece {
  const made = openedOut(half);
  if (!made.ok) throw new Error(made.sentence);
  return made.value;
}

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
  const whole = opened(half);

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
    const [own, twin] = whole.piece.notches.map(
      ({ edge, distance: along }) => pathPointAt(findEdge(whole.piece, edge)!.path, along).point,
    );
    expect(whole.piece.notches).toHaveLength(2);
    expect(twin!.x).toBeCloseTo(-own!.x, 6);
    expect(twin!.y).toBeCloseTo(own!.y, 6);
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

  it('R34 a dart on the other side has its legs in the order of the edge there', () => {
    const dart = { id: 'd', edge: 'waist', apex: point(50, 100), legs: [point(40, 0), point(60, 0)] as const };
    const { piece } = opened({ ...half, piece: { ...bodice, darts: [dart] } });
    expect(piece.darts[1]!.edge).toBe('waist on the other side');
    expect(piece.darts[1]!.legs.map(({ x }) => x)).toEqual([expect.closeTo(-60, 9), expect.closeTo(-40, 9)]);
  });

  it('R34 lines inside lie on both sides, and the hem fold is one line from side to side', () => {
    const inner = { id: 'l', name: 'Pleat', path: [line(point(40, middle), point(60, middle + 30))] };
    const { piece } = opened({ ...half, piece: { ...bodice, internalLines: [inner] } });
    expect(piece.internalLines.map(({ path }) => path[0]!.end.x)).toEqual([60, expect.closeTo(-60, 9), 0]);
    const hem = whole.cutLine!.hemFold!;
    const joints = hem.slice(1).map((s, i) => distance(hem[i]!.end, s.start));
    expect(Math.max(...joints)).toBeLessThan(0.02);
    expect(hem[0]!.start.x).toBeCloseTo(-hem.at(-1)!.end.x, 6);
    expect(Math.abs(hem[0]!.start.x)).toBeGreaterThan(50);
  });

  it('R34 keeps the allowances of single edges on both sides', () => {
    const byEdge = { side: 30 };
    const step = { ...defaultFinish(), byEdge };
    const cutLine = finish(bodice, step);
    if (!cutLine.ok) throw new Error(cutLine.sentence);
    const wide = opened({ ...half, cutLine: cutLine.value, finish: step });
    expect(wide.finish!.byEdge).toEqual({ side: 30, 'side on the other side': 30 });
    const bounds = pathBounds(wide.cutLine!.path);
    expect(bounds.maxX + bounds.minX).toBeCloseTo(0, 6);
    expect(labelLines(wide).map(({ text }) => text)).toEqual(
      labelLines({ ...half, cutLine: cutLine.value, finish: step }).map(({ text }) => text.replace(' on the fold', '')),
    );
  });

  it('R34 needs the pages of its own size; a piece without a fold stays as it is', () => {
    const plain = printable({ ...bodice, fold: null });
    expect(opened(plain)).toBe(plain);
    const [one, two] = [planned([half]), planned([whole])];
    expect(two.pages.length).toBeGreaterThan(one.pages.length);
    const bounds = pathBounds(two.pieces[0]!.outer);
    const own = pathBounds(half.cutLine!.path);
    expect(bounds.maxX - bounds.minX).toBeCloseTo(2 * own.maxX, 2);
  });

  it('R34 is refused where its cut line comes to the fold more than once, and then stays half', () => {
    // A slot 10 mm deep cut into the middle of the fold.
    const { path } = half.cutLine!;
    const slotted = path.flatMap((s) => {
      if (s.kind !== 'line' || Math.abs(s.start.x) > 0.01 || Math.abs(s.end.x) > 0.01) return [s];
      const at = (x: number, share: number) => point(x, s.start.y + share * (s.end.y - s.start.y));
      const stops = [s.start, at(0, 0.4), at(10, 0.4), at(10, 0.6), at(0, 0.6), s.end];
      return stops.slice(1).map((to, i) => line(stops[i]!, to));
    });
    expect(slotted.length).toBeGreaterThan(path.length);
    const parted = { ...half, cutLine: { ...half.cutLine!, path: slotted } };
    const made = openedWhereWanted([parted, half], [bodice.id]);
    expect(made.warnings).toEqual([expect.stringMatching(/cannot be printed opened out.*printed as half/)]);
    expect(made.pieces.map((piece) => piece.opened)).toEqual([undefined, true]);
    expect(labelLines(made.pieces[0]!).map(({ text }) => text)).toContain('Cut 1 on the fold');
    expect(openedWhereWanted([parted], [])).toEqual({ pieces: [parted], warnings: [] });
  });
});
