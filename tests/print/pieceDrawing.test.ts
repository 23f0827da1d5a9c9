import { describe, expect, it } from 'vitest';
import { nearestOnPath } from '../../src/geometry/nearest';
import { pathLength } from '../../src/geometry/path';
import { distance, point } from '../../src/geometry/point';
import { cubic, line } from '../../src/geometry/segment';
import type { DrawnItem, DrawnPath, DrawnText } from '../../src/print/drawing';
import { labelLines } from '../../src/print/labelText';
import { notchItems } from '../../src/print/notchMarks';
import { drawPiece } from '../../src/print/pieceDrawing';
import { isInside } from '../../src/print/roomFor';
import { cutStyle, foldStyle, hemFoldStyle, seamStyle } from '../../src/print/styles';
import { planned, printable } from './support/garments';
import { casePiece, edge, pieceOf, rectangle } from './support/pieces';

function paths(items: readonly DrawnItem[], style: DrawnPath['line']): DrawnPath[] {
  return items.filter((i): i is DrawnPath => i.kind === 'path' && i.line === style);
}

function texts(items: readonly DrawnItem[]): string[] {
  return items.filter((i): i is DrawnText => i.kind === 'text').map((t) => t.text);
}

describe('a drawn piece', () => {
  const bodice = casePiece('O03-bodice-front-parallel');

  it('has its cut line solid except on the fold, the stitching line dashed, fold and hem fold in chain lines', () => {
    const { items, outer } = drawPiece(printable(bodice));
    const cut = paths(items, cutStyle).flatMap((p) => p.path);
    const fold = paths(items, foldStyle).flatMap((p) => p.path);
    expect(pathLength(cut) + pathLength(fold)).toBeCloseTo(pathLength(outer), 6);
    for (const s of cut) expect(Math.max(s.start.x, s.end.x)).toBeGreaterThan(0.01);
    expect(fold).toHaveLength(1);
    // The fold is drawn through both allowances: from the neck's cut line to the hem's.
    expect(distance(fold[0]!.start, fold[0]!.end)).toBeGreaterThan(556 + 20);
    expect(texts(items)).toContain('place on the fold');
    const seam = paths(items, seamStyle).flatMap((p) => p.path);
    const hem = bodice.edges.find((e) => e.id === 'hem')!.path;
    const centre = bodice.edges.find((e) => e.id === 'centre-front')!.path;
    const outline = bodice.edges.flatMap((e) => e.path);
    expect(pathLength(seam)).toBeCloseTo(pathLength(outline) - pathLength(hem) - pathLength(centre), 6);
    expect(paths(items, hemFoldStyle)).toHaveLength(1);
    expect(texts(items)).toContain('hem fold');
  });

  it('without allowances is cut on its stitching line', () => {
    const { items } = drawPiece(printable(rectangle(200, 300), { cutLine: null, finish: null }));
    expect(pathLength(paths(items, cutStyle)[0]!.path)).toBeCloseTo(1000, 9);
    expect(paths(items, seamStyle)).toHaveLength(0);
  });

  it('draws a single notch as one tick and a double as two, from the cut line to the stitching line', () => {
    const piece = {
      ...bodice,
      notches: [
        { id: 'a', edge: 'side', distance: 150, style: 'single' as const },
        { id: 'b', edge: 'armhole', distance: 60, style: 'double' as const },
      ],
    };
    const { cutLine } = printable(piece);
    const ticks = notchItems(piece, cutLine!.path) as DrawnPath[];
    expect(ticks).toHaveLength(3);
    const seam = piece.edges.flatMap((e) => e.path);
    for (const { path } of ticks) {
      expect(path).toHaveLength(1);
      expect(nearestOnPath(cutLine!.path, path[0]!.start).distance).toBeLessThan(1e-6);
      expect(nearestOnPath(seam, path[0]!.end).distance).toBeLessThan(1e-6);
      expect(distance(path[0]!.start, path[0]!.end)).toBeCloseTo(15, 2);
    }
    const [, first, second] = ticks;
    expect(distance(first!.path[0]!.end, second!.path[0]!.end)).toBeCloseTo(6, 1);
  });

  it('draws notches inward where there is no allowance', () => {
    const piece = rectangle(100, 100, { notches: [{ id: 'n', edge: 'right', distance: 40, style: 'single' }] });
    const [tick] = notchItems(piece, null) as DrawnPath[];
    expect(tick!.path[0]!.start).toEqual(point(100, 60));
    expect(tick!.path[0]!.end.x).toBeCloseTo(94, 9);
  });

  it('draws drill holes, darts and internal lines', () => {
    const piece = rectangle(200, 300, {
      drillHoles: [{ id: 'd', at: point(50, 60) }],
      darts: [{ id: 'w', edge: 'top', apex: point(100, 110), legs: [point(112, 0), point(88, 0)] }],
      internalLines: [{ id: 'p', name: 'pocket', path: [line(point(40, 200), point(120, 200))] }],
    });
    const { items } = drawPiece(printable(piece));
    expect(texts(items)).toContain('pocket');
    const legs = paths(items, seamStyle).filter(
      (p) => p.path.length === 1 && distance(p.path[0]!.end, point(100, 110)) < 1e-9,
    );
    expect(legs).toHaveLength(2);
    const hits = items.filter(
      (i): i is DrawnPath => i.kind === 'path' && i.path.some((s) => distance(s.start, point(50, 60)) < 5),
    );
    expect(hits.length).toBeGreaterThanOrEqual(3);
  });

  it('puts the label inside the piece, clear of its lines, also on a narrow curved one', () => {
    const collar = pieceOf('Collar', [
      edge('outer', 'other', [cubic(point(0, 0), point(70, 40), point(160, 40), point(230, 0))]),
      edge('end', 'other', [line(point(230, 0), point(230, -45))]),
      edge('neck', 'neckline', [cubic(point(230, -45), point(160, -8), point(70, -8), point(0, -45))]),
      edge('fold', 'centre-back', [line(point(0, -45), point(0, 0))]),
    ]);
    for (const piece of [bodice, collar]) {
      const plan = planned([printable(piece)]);
      const { shift } = plan.pieces[0]!;
      const name = plan.sheet.find(({ item }) => item.kind === 'text' && item.text === piece.name)!;
      const outline = drawPiece(printable(piece)).inside.map((p) => ({ x: p.x + shift.x, y: p.y + shift.y }));
      const { minX, maxX, minY, maxY } = name.bounds;
      for (const corner of [point(minX, minY), point(maxX, minY), point(minX, maxY), point(maxX, maxY)]) {
        expect(isInside(corner, outline)).toBe(true);
      }
    }
  });
});

describe('the label', () => {
  it('says piece, garment, version, how to cut, allowances and date', () => {
    const lines = labelLines(printable(casePiece('O03-bodice-front-parallel'))).map((l) => l.text);
    expect(lines).toEqual([
      'Bodice front',
      'Plain top · Swing',
      'Cut 1 on the fold',
      'Allowances included:',
      'seams 1.5 cm, hem 2 cm',
      '2026-02-14',
    ]);
  });

  it('says mirrored for a pair, and when there are no allowances', () => {
    const lines = labelLines(
      printable(rectangle(90, 90, { cutCount: 2 }), { cutLine: null, finish: null, date: '' }),
    ).map((l) => l.text);
    expect(lines).toEqual([
      'Rectangle',
      'Plain top · Swing',
      'Cut 2, one of them mirrored',
      'No allowances: this is the stitching line',
    ]);
  });

  it('gives inches as fractions where they are true, else millimetres', () => {
    const step = { kind: 'finish' as const, seam: 15.875, hem: 38.1, byEdge: { top: 15 }, mirrorHemEnds: true };
    const lines = labelLines(printable(rectangle(90, 90), { finish: step, unit: 'in' })).map((l) => l.text);
    expect(lines[4]).toBe('seams 5/8 in / 15 mm, hem 1 1/2 in');
  });
});
