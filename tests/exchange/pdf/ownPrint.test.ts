import { describe, expect, it } from 'vitest';
import { joinLoosePaths } from '../../../src/exchange/drawing/joinLoosePaths';
import { lineGroups, shapesOfGroups } from '../../../src/exchange/drawing/lineGroups';
import { arrangePages } from '../../../src/exchange/pdf/arrangePages';
import { findTestSquare } from '../../../src/exchange/pdf/findTestSquare';
import { layPages } from '../../../src/exchange/pdf/layPages';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { pathBounds } from '../../../src/geometry/bounds';
import { flattenPath } from '../../../src/geometry/flatten';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { movePath, shiftBy } from '../../../src/geometry/rigidMove';
import type { Path } from '../../../src/geometry/segment';
import { drawPdf } from '../../../src/print/drawPdf';
import { paperNamed, planned, printable } from '../../print/support/garments';
import { casePiece, rectangle } from '../../print/support/pieces';

const pieces = [
  printable({ ...casePiece('O03-bodice-front-parallel'), fold: null }),
  printable(rectangle(230, 610, { name: 'Skirt panel' })),
];

/** The path with the upper left corner of its box at the origin. */
function cornered(path: Path): Path {
  const box = pathBounds(path);
  return movePath(shiftBy({ x: -box.minX, y: -box.minY }), path);
}

/** Largest distance between two closed paths, both ways. */
function apart(a: Path, b: Path): number {
  const from = (p: Path, q: Path) => Math.max(...flattenPath(p, 0.01).map((at) => nearestOnPath(q, at).distance));
  return Math.max(from(a, b), from(b, a));
}

describe.each([
  { paper: 'A4', landscape: false },
  { paper: 'Letter', landscape: true },
])('our own print on $paper, landscape $landscape, read back', (settings) => {
  it('is laid together and gives every line of the pieces to a thousandth of a mm', async () => {
    const plan = planned(pieces, { paper: paperNamed(settings.paper), landscape: settings.landscape });
    const read = await readPdf(await drawPdf(plan));
    if (!read.ok) throw new Error(read.sentence);
    const { pages } = read.value;
    expect(pages.length).toBeGreaterThan(8);
    const found = arrangePages(pages);
    expect(found.how).toBe('same-drawing');
    expect(found.worst).toBeLessThan(0.01);
    // All but the first page, which holds the test squares and the plan.
    expect(found.joined).toEqual(pages.slice(1).map(({ number }) => number));
    expect(findTestSquare(pages)).toMatchObject({ page: 1, agrees: true });
    const laid = layPages(pages, found.places);
    if (!laid.ok) throw new Error(laid.sentence);
    const outlines = lineGroups(laid.value.shapes).flatMap((group) =>
      joinLoosePaths(shapesOfGroups(laid.value.shapes, new Set([group.key]))).outlines.filter(({ closed }) => closed),
    );
    for (const { piece, cutLine } of pieces) {
      const cut = cutLine!.path;
      const off = outlines.map(({ path }) => apart(cornered(path), cornered(cut)));
      expect(Math.min(...off)).toBeLessThan(0.001);
      const outline = outlines[off.indexOf(Math.min(...off))]!.path;
      // The sewing line is drawn only where an allowance lies beside it; elsewhere it is the cut line.
      const there = pathBounds(outline);
      const here = pathBounds(cut);
      const sewn = movePath(
        shiftBy({ x: there.minX - here.minX, y: there.minY - here.minY }),
        piece.edges.flatMap((edge) => edge.path),
      );
      const missed = flattenPath(sewn, 0.01).map((p) =>
        Math.min(...laid.value.shapes.map(({ path }) => nearestOnPath(path, p).distance)),
      );
      expect(Math.max(...missed)).toBeLessThan(0.001);
    }
  });
});
