import { beforeAll, describe, expect, it, vi } from 'vitest';
import { flattenPath } from '../../src/geometry/flatten';
import { nearestOnPath } from '../../src/geometry/nearest';
import { pathLength, pathPointAt } from '../../src/geometry/path';
import { distance, type Point, subtract } from '../../src/geometry/point';
import { movePath, shiftBy } from '../../src/geometry/rigidMove';
import type { Path } from '../../src/geometry/segment';
import { drawPdf } from '../../src/print/drawPdf';
import type { PagePlan } from '../../src/print/pagePlan';
import { darkMiddles, type GreyImage } from '../support/pgm';
import { paperNamed, planned, printable } from './support/garments';
import { casePiece, rectangle } from './support/pieces';
import { dotsPerMm, rasterPage } from './support/poppler';
import { type ReadPage, readPdf } from './support/readPdf';

// Drawing and reading back takes seconds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const pieces = [
  printable(casePiece('O03-bodice-front-parallel')),
  printable(
    rectangle(230, 610, { name: 'Skirt panel', grainline: { start: { x: 60, y: 60 }, end: { x: 60, y: 500 } } }),
  ),
];

/** Darker than the grey of everything that is not pattern. */
const black = 60;

const choices = [
  { paper: 'A4', landscape: false },
  { paper: 'A4', landscape: true },
  { paper: 'Letter', landscape: false },
  { paper: 'Letter', landscape: true },
];

/** Number of each join mark on a page with the middle of its two figures, mm. */
function marksOn(page: ReadPage): Map<number, Point[]> {
  const found = new Map<number, Point[]>();
  for (const t of page.texts) {
    if (!/^\d+$/.test(t.text)) continue;
    const n = Number(t.text);
    found.set(n, [...(found.get(n) ?? []), { x: t.at.x + t.width / 2, y: t.at.y }]);
  }
  return found;
}

/** Lays the tiles together by nothing but the numbers printed on them: where each page's corner comes to lie. */
function layTogether(pages: readonly ReadPage[]): { corners: (Point | null)[]; disagreement: number }[] {
  const marks = pages.map(marksOn);
  const middle = (points: readonly Point[]) => ({
    x: points.reduce((s, p) => s + p.x, 0) / points.length,
    y: points.reduce((s, p) => s + p.y, 0) / points.length,
  });
  const groups: { corners: (Point | null)[]; disagreement: number }[] = [];
  const done = new Set<number>();
  for (let first = 0; first < pages.length; first++) {
    if (done.has(first)) continue;
    const corners: (Point | null)[] = pages.map(() => null);
    corners[first] = { x: 0, y: 0 };
    done.add(first);
    let disagreement = 0;
    const open = [first];
    for (let i = open.pop(); i !== undefined; i = open.pop()) {
      for (const [n, here] of marks[i]!) {
        for (let j = 0; j < pages.length; j++) {
          const there = marks[j]!.get(n);
          if (j === i || !there) continue;
          const corner = subtract(
            subtract({ x: corners[i]!.x, y: corners[i]!.y }, { x: 0, y: 0 }),
            subtract(middle(there), middle(here)),
          );
          if (corners[j]) disagreement = Math.max(disagreement, distance(corners[j]!, corner));
          else {
            corners[j] = corner;
            done.add(j);
            open.push(j);
          }
        }
      }
    }
    groups.push({ corners, disagreement });
  }
  return groups;
}

/** Solid black hairlines of a page that can be the cut line, clipped to what is printed, as points on the sheet. */
function cutPoints(page: ReadPage, corner: Point): Point[] {
  return page.strokes
    .filter((s) => s.colour === '#000000' && s.dash.length === 0 && Math.abs(s.width - 0.15) < 0.01 && s.clip)
    .flatMap((s) =>
      densePoints(s.path)
        .filter((p) => p.x >= s.clip!.minX && p.x <= s.clip!.maxX && p.y >= s.clip!.minY && p.y <= s.clip!.maxY)
        .map((p) => ({ x: p.x + corner.x, y: p.y + corner.y })),
    );
}

function densePoints(path: Path): Point[] {
  return path.flatMap((s) => {
    const fine = flattenPath([s], 0.005);
    return fine.flatMap((p, i) => {
      const q = fine[i + 1];
      if (!q) return [p];
      const steps = Math.max(1, Math.ceil(distance(p, q) / 0.1));
      return Array.from({ length: steps }, (_, k) => ({
        x: p.x + ((q.x - p.x) * k) / steps,
        y: p.y + ((q.y - p.y) * k) / steps,
      }));
    });
  });
}

describe.each(choices)('R21 $paper, landscape $landscape: what two readers find in the PDF', ({ paper, landscape }) => {
  let plan: PagePlan;
  let pdf: Uint8Array;
  let read: ReadPage[];
  let printScaling: string | null;
  const rasters = new Map<number, GreyImage>();

  beforeAll(async () => {
    plan = planned(pieces, { paper: paperNamed(paper), landscape });
    pdf = await drawPdf(plan);
    ({ pages: read, printScaling } = await readPdf(pdf));
    for (const n of [0, Math.floor(read.length / 2), read.length - 1]) rasters.set(n, rasterPage(pdf, n + 1));
  }, 60_000);

  it('asks for no scaling, in so many bytes too', () => {
    expect(printScaling).toBe('None');
    expect(Buffer.from(pdf).toString('latin1')).toContain('/PrintScaling /None');
  });

  it('has pages of the chosen size, as many as planned', () => {
    const { width, height } = paperNamed(paper);
    expect(read).toHaveLength(plan.pages.length);
    expect(read.length).toBeGreaterThan(6);
    for (const page of read) {
      expect(page.width).toBeCloseTo(landscape ? height : width, 2);
      expect(page.height).toBeCloseTo(landscape ? width : height, 2);
    }
  });

  it('first page: squares of 100 mm and 4 in on both axes (pdfjs and poppler)', () => {
    const squares = read[0]!.strokes.filter((s) => s.path.length === 4 && Math.abs(s.width - 0.1) < 0.01);
    const sides = squares.map((s) => s.path.map((e) => distance(e.start, e.end)));
    for (const want of [100, 101.6]) {
      const found = sides.filter((four) => four.every((side) => Math.abs(side - want) < 0.01));
      expect(found).toHaveLength(1);
      const corner = squares[sides.indexOf(found[0]!)]!.path[0]!.start;
      const image = rasters.get(0)!;
      expect(measured(image, corner, want, 'across')).toBeCloseTo(want, 1);
      expect(measured(image, corner, want, 'down')).toBeCloseTo(want, 1);
    }
  });

  it('first, middle and last page: the 50 mm check is true on both axes', () => {
    for (const [n, image] of rasters) {
      if (n === 0) continue;
      const bars = read[n]!.strokes.filter(
        (s) =>
          s.path.length === 1 &&
          Math.abs(distance(s.path[0]!.start, s.path[0]!.end) - 50) < 0.05 &&
          Math.abs(s.width - 0.1) < 0.01,
      );
      expect(bars).toHaveLength(2);
      for (const { path } of bars) {
        const { start, end } = path[0]!;
        const flat = Math.abs(start.y - end.y) < 0.01;
        // The ticks at the ends are measured, 1 mm off the bar.
        const off = 1;
        const low = flat ? Math.min(start.x, end.x) : Math.min(start.y, end.y);
        const hits = flat
          ? darkMiddles(image, { row: Math.round((start.y + off) * dotsPerMm) })
          : darkMiddles(image, { column: Math.round((start.x + off) * dotsPerMm) });
        const other = flat
          ? darkMiddles(image, { row: Math.round((start.y - off) * dotsPerMm) })
          : darkMiddles(image, { column: Math.round((start.x - off) * dotsPerMm) });
        const all = [...hits, ...other].map((h) => h / dotsPerMm);
        expect(nearest(all, low)).toBeCloseTo(low, 1);
        expect(Math.abs(nearest(all, low + 50) - nearest(all, low) - 50)).toBeLessThan(0.1);
      }
    }
  });

  it('first, middle and last tile: poppler draws the cut line where the piece has it, within 0.1 mm', () => {
    const tiles = [1, ...[...rasters.keys()].filter((n) => n > 0)];
    for (const n of new Set(tiles)) {
      const image = rasters.get(n) ?? rasterPage(pdf, n + 1);
      const page = plan.pages[n]!;
      if (page.kind !== 'tile') throw new Error('expected a tile');
      const { pitchX, pitchY, overlap } = plan.grid;
      const origin = {
        x: plan.settings.margin + overlap / 2 - page.cell.column * pitchX,
        y: plan.settings.margin + overlap / 2 - page.cell.row * pitchY,
      };
      let compared = 0;
      for (const piece of plan.pieces) {
        if (!piece.cells.some((c) => same(c, page.cell))) continue;
        const outline = movePath(shiftBy(origin), piece.outer);
        const fold = piece.printable.piece.fold !== null;
        // Begun at 3 mm so that no sample lies in the very row of a hem fold, whose dashes would join the cut line there.
        for (let d = 3; d < pathLength(outline); d += 7) {
          const { point, tangent } = pathPointAt(outline, d);
          const onFold =
            fold &&
            Math.abs(tangent.x) < 1e-9 &&
            nearFold(piece.printable.piece, subtract(subtract(point, origin), piece.shift));
          const nearCorner = outline.some((s) => distance(s.start, point) < 2);
          if (onFold || nearCorner || !inside(point, image, plan.settings.margin + 0.5)) continue;
          const across = Math.abs(tangent.y) > Math.abs(tangent.x);
          const hits = across
            ? darkMiddles(image, { row: Math.floor(point.y * dotsPerMm) }, black)
            : darkMiddles(image, { column: Math.floor(point.x * dotsPerMm) }, black);
          const want = across ? point.x : point.y;
          expect(
            Math.abs(
              nearest(
                hits.map((h) => h / dotsPerMm),
                want,
              ) - want,
            ),
          ).toBeLessThan(0.1);
          compared += 1;
        }
      }
      expect(compared).toBeGreaterThan(5);
    }
  });

  it('the tiles, laid together by their marks alone, reproduce every outline across the joins', () => {
    const tiles = read.slice(1);
    const groups = layTogether(tiles);
    expect(groups.length).toBeLessThanOrEqual(pieces.length);
    for (const group of groups) expect(group.disagreement).toBeLessThan(0.01);
    const found: Point[][] = groups.map(({ corners }) =>
      tiles.flatMap((t, i) => (corners[i] ? cutPoints(t, corners[i]!) : [])),
    );
    for (const placed of plan.pieces) {
      const outline = placed.outer;
      // The group that holds this piece, and where the piece lies in it: found from the first tile of the piece.
      const tile = plan.pages.findIndex((p) => p.kind === 'tile' && same(p.cell, placed.cells[0]!)) - 1;
      const group = groups.findIndex((g) => g.corners[tile] !== null);
      const { pitchX, pitchY, overlap } = plan.grid;
      const cell = placed.cells[0]!;
      const shift = {
        x: groups[group]!.corners[tile]!.x + plan.settings.margin + overlap / 2 - cell.column * pitchX,
        y: groups[group]!.corners[tile]!.y + plan.settings.margin + overlap / 2 - cell.row * pitchY,
      };
      const laid = movePath(shiftBy(shift), outline);
      const grid = bucket(found[group]!);
      for (let d = 0; d < pathLength(laid); d += 0.9) {
        const { point } = pathPointAt(laid, d);
        if (nearFold(placed.printable.piece, subtract(subtract(point, shift), placed.shift))) continue;
        const near = grid(point);
        expect(near).toBeLessThan(0.1);
      }
      // And the other way: every printed bit of cut line near the outline lies on it.
      for (const p of found[group]!) {
        const off = nearestOnPath(laid, p);
        if (off.distance < 1 && off.distance > 0.1)
          throw new Error(`stray cut line at ${p.x}, ${p.y}: ${off.distance}`);
      }
    }
  });

  it('R22 every join mark is on exactly two pages, twice on each, and all numbers differ', () => {
    const seen = new Map<number, number>();
    for (const page of read.slice(1)) {
      for (const [n, points] of marksOn(page)) {
        expect(points).toHaveLength(2);
        seen.set(n, (seen.get(n) ?? 0) + 1);
      }
    }
    expect(seen.size).toBe(plan.joins.length * 2);
    for (const count of seen.values()) expect(count).toBe(2);
  });

  it('R22 no page is blank: each has some black line of the pattern in the part it keeps', () => {
    for (const page of read.slice(1)) {
      const black = page.strokes.filter(
        (s) => s.colour === '#000000' && Math.abs(distance(s.path[0]!.start, s.path[0]!.end) - 50) > 0.05,
      );
      expect(black.length).toBeGreaterThan(0);
    }
  });
});

/** Side of a square as poppler draws it, measured a fifth of the side away from its corner. */
function measured(image: GreyImage, corner: Point, side: number, axis: 'across' | 'down'): number {
  const at = axis === 'across' ? corner.y + side / 5 : corner.x + side / 5;
  const from = axis === 'across' ? corner.x : corner.y;
  const hits = darkMiddles(
    image,
    axis === 'across' ? { row: Math.round(at * dotsPerMm) } : { column: Math.round(at * dotsPerMm) },
  );
  const all = hits.map((h) => h / dotsPerMm);
  return nearest(all, from + side) - nearest(all, from);
}

function nearest(values: readonly number[], want: number): number {
  return values.reduce((best, v) => (Math.abs(v - want) < Math.abs(best - want) ? v : best), Number.POSITIVE_INFINITY);
}

function inside(p: Point, image: GreyImage, margin: number): boolean {
  return (
    p.x > margin && p.y > margin && p.x < image.width / dotsPerMm - margin && p.y < image.height / dotsPerMm - margin
  );
}

function nearFold(piece: { fold: string | null; edges: readonly { id: string; path: Path }[] }, p: Point): boolean {
  const fold = piece.edges.find((e) => e.id === piece.fold);
  return fold ? Math.abs(p.x - fold.path[0]!.start.x) < 0.5 : false;
}

function same(a: { row: number; column: number }, b: { row: number; column: number }): boolean {
  return a.row === b.row && a.column === b.column;
}

/** Distance to the nearest of many points, looked up by millimetre squares. */
function bucket(points: readonly Point[]): (p: Point) => number {
  const squares = new Map<string, Point[]>();
  for (const p of points) {
    const key = `${Math.floor(p.x)},${Math.floor(p.y)}`;
    squares.set(key, [...(squares.get(key) ?? []), p]);
  }
  return (p) => {
    let least = Number.POSITIVE_INFINITY;
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const q of squares.get(`${Math.floor(p.x) + dx},${Math.floor(p.y) + dy}`) ?? [])
          least = Math.min(least, distance(p, q));
      }
    }
    return least;
  };
}
