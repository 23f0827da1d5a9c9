import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { flattenPath } from '../../src/geometry/flatten';
import { type Point, point } from '../../src/geometry/point';
import { line } from '../../src/geometry/segment';
import type { DrawnGroup } from '../../src/print/drawing';
import { inkBounds, inkOf } from '../../src/print/ink';
import { pageDrawing } from '../../src/print/pageDrawing';
import { type PagePlan, planPages } from '../../src/print/pagePlan';
import { defaultPrintSettings, type PrintSettings, papers } from '../../src/print/paper';
import { isInside } from '../../src/print/roomFor';
import { cellBounds, cellName, printedBounds } from '../../src/print/tileGrid';
import { pieceDrafts } from '../support/arbitraries';
import { paperNamed, planned, printable } from './support/garments';
import { casePiece, edge, pieceOf, rectangle } from './support/pieces';

// Drawing and reading back takes seconds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

function tiles(plan: PagePlan) {
  return plan.pages.flatMap((p) => (p.kind === 'tile' ? [p] : []));
}

/** Ink points no further than 0.2 mm apart. */
function inkPoints(plan: PagePlan): { p: Point; block: number }[] {
  return plan.sheet.flatMap(({ item, block }) =>
    inkOf([item]).flatMap((chain) =>
      chain.slice(1).flatMap((b, i) => {
        const a = chain[i]!;
        const steps = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / 0.2));
        return Array.from({ length: steps + 1 }, (_, k) => ({
          p: { x: a.x + ((b.x - a.x) * k) / steps, y: a.y + ((b.y - a.y) * k) / steps },
          block,
        }));
      }),
    ),
  );
}

const anySettings: fc.Arbitrary<PrintSettings> = fc.record({
  paper: fc.constantFrom(...papers.filter((p) => p.width < 300)),
  landscape: fc.boolean(),
  margin: fc.constantFrom(6.35, 10, 15),
  overlap: fc.constantFrom(0, 5, 10, 20),
});

describe('R22 page plan', () => {
  it('prints every bit of ink on some page, and no page that is neither inked nor inside a piece, for any pieces', () => {
    fc.assert(
      fc.property(
        fc.array(pieceDrafts({ move: false }), { minLength: 1, maxLength: 3 }),
        anySettings,
        (drafts, settings) => {
          const plan = planned(
            drafts.map((d) => printable(d.piece)),
            settings,
          );
          const all = tiles(plan);
          const touched = new Set<string>();
          for (const { p, block } of inkPoints(plan)) {
            const on = all.filter((t) => {
              const b = printedBounds(plan.grid, t.cell);
              return (
                t.block === block &&
                p.x >= b.minX - 1e-6 &&
                p.x <= b.maxX + 1e-6 &&
                p.y >= b.minY - 1e-6 &&
                p.y <= b.maxY + 1e-6
              );
            });
            if (on.length === 0) throw new Error(`ink at ${p.x}, ${p.y} is on no page`);
            for (const t of on) touched.add(`${t.block} ${t.name}`);
          }
          const outlines = plan.pieces.map(({ outer }) => flattenPath(outer, 0.1));
          for (const t of all) {
            if (touched.has(`${t.block} ${t.name}`)) continue;
            const core = cellBounds(plan.grid, t.cell);
            const middle = { x: (core.minX + core.maxX) / 2, y: (core.minY + core.maxY) / 2 };
            expect(outlines.some((outline) => isInside(middle, outline))).toBe(true);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('keeps the pages inside a large piece, so that its paper has no hole, and says what they are', () => {
    const plan = planned([printable(rectangle(700, 1100), { cutLine: null, finish: null })]);
    expect(plan.blankPagesLeftOut).toBe(0);
    const rows = Math.max(...tiles(plan).map((t) => t.cell.row)) + 1;
    const columns = Math.max(...tiles(plan).map((t) => t.cell.column)) + 1;
    expect(tiles(plan)).toHaveLength(rows * columns);
    const bare = tiles(plan).filter((t) => {
      const core = printedBounds(plan.grid, t.cell);
      return !inkPoints(plan).some(
        ({ p }) => p.x >= core.minX && p.x <= core.maxX && p.y >= core.minY && p.y <= core.maxY,
      );
    });
    expect(bare.length).toBeGreaterThan(0);
    for (const t of bare) {
      const [group] = pageDrawing(plan, plan.pages.indexOf(t)).items as [DrawnGroup];
      expect(group.items.flatMap((item) => (item.kind === 'text' ? [item.text] : []))).toContain('inside Rectangle');
      // Joined on all four sides, like any other page.
      expect(plan.joins.filter((j) => [j.under, j.over].some((c) => cellName(c) === t.name))).toHaveLength(4);
    }
  });

  it('leaves out the pages beside a piece that no line touches', () => {
    // An L of two narrow strips: the inner corner of its outer rectangle is empty.
    const corners = [point(0, 0), point(0, 900), point(700, 900), point(700, 800), point(100, 800), point(100, 0)];
    const angle = pieceOf(
      'Angle',
      corners.map((p, i) => edge(`e${i}`, 'other', [line(p, corners[(i + 1) % corners.length]!)])),
    );
    const plan = planned([printable(angle, { cutLine: null, finish: null })]);
    expect(plan.blankPagesLeftOut).toBeGreaterThan(0);
    for (const t of tiles(plan)) {
      const core = printedBounds(plan.grid, t.cell);
      const inked = inkPoints(plan).some(
        ({ p }) => p.x >= core.minX && p.x <= core.maxX && p.y >= core.minY && p.y <= core.maxY,
      );
      expect(inked).toBe(true);
    }
  });

  it('needs no second page for what the overlap of the first already prints', () => {
    // 190 mm are printed across an A4 page with 10 mm margins.
    const fits = planned([printable(rectangle(184, 100), { cutLine: null, finish: null })]);
    expect(tiles(fits)).toHaveLength(1);
    const wider = planned([printable(rectangle(196, 100), { cutLine: null, finish: null })]);
    expect(tiles(wider)).toHaveLength(2);
  });

  it('never turns a piece: its outline is the cut line, shifted', () => {
    const bodice = printable(casePiece('O03-bodice-front-parallel'));
    const plan = planned([bodice, printable(rectangle(100, 300))]);
    const { outer, shift } = plan.pieces[0]!;
    bodice.cutLine!.path.forEach((s, i) => {
      expect(outer[i]!.start.x).toBeCloseTo(s.start.x + shift.x, 9);
      expect(outer[i]!.start.y).toBeCloseTo(s.start.y + shift.y, 9);
    });
  });

  it('gives pieces pages of their own unless sharing saves paper, and then keeps them apart', () => {
    const own = planned([1, 2].map((i) => printable(rectangle(140 + i, 220))));
    const blocks = new Set(tiles(own).map((t) => t.block));
    expect(blocks.size).toBe(2);
    const small = [1, 2, 3].map((i) => printable(rectangle(50, 70 + i)));
    const shared = planned(small);
    expect(tiles(shared)).toHaveLength(1);
    const boxes = shared.pieces.map((p) => inkBounds([flattenPath(p.outer, 0.1)]));
    boxes.forEach((a, i) => {
      for (const b of boxes.slice(i + 1)) {
        expect(a.maxX < b.minX || b.maxX < a.minX || a.maxY < b.minY || b.maxY < a.minY).toBe(true);
      }
    });
  });

  it('numbers every join mark differently and joins only pages that exist, within one piece', () => {
    const plan = planned([printable(casePiece('O03-bodice-front-parallel')), printable(rectangle(500, 700))]);
    const numbers = plan.joins.flatMap((j) => j.marks.map((m) => m.number));
    expect(new Set(numbers).size).toBe(numbers.length);
    for (const join of plan.joins) {
      const ends = [join.under, join.over].map((c) =>
        tiles(plan).filter((t) => t.cell.row === c.row && t.cell.column === c.column),
      );
      expect(ends.map((e) => e.length)).toEqual([1, 1]);
      expect(ends[0]![0]!.block).toBe(ends[1]![0]!.block);
    }
  });

  it('names rows by letters and columns by numbers', () => {
    expect(cellName({ row: 0, column: 0 })).toBe('A1');
    expect(cellName({ row: 25, column: 11 })).toBe('Z12');
    expect(cellName({ row: 26, column: 0 })).toBe('AA1');
    expect(cellName({ row: 701, column: 0 })).toBe('ZZ1');
    expect(cellName({ row: 702, column: 0 })).toBe('AAA1');
  });

  it('prints wide sheets without a first page, with the test squares beside the pieces', () => {
    const plan = planned([printable(casePiece('O03-bodice-front-parallel'))], { paper: paperNamed('A0') });
    expect(plan.pages).toHaveLength(1);
    expect(plan.pages[0]!.kind).toBe('tile');
    const squares = plan.sheet.filter(
      ({ item, bounds }) =>
        item.kind === 'path' && item.path.length === 4 && Math.abs(bounds.maxX - bounds.minX - 100) < 1e-9,
    );
    expect(squares).toHaveLength(1);
    const b = squares[0]!.bounds;
    const outline = inkBounds([flattenPath(plan.pieces[0]!.outer, 0.1)]);
    expect(b.minX > outline.maxX || b.maxX < outline.minX || b.minY > outline.maxY || b.maxY < outline.minY).toBe(true);
  });

  it('warns of a piece without a grainline', () => {
    expect(planned([printable(rectangle(80, 80, { name: 'Pocket' }))]).warnings).toEqual([
      'Pocket has no grainline: it prints without one.',
    ]);
  });

  it.each([
    ['paper-too-large', { paper: { name: 'Roll', width: 914, height: 5200 } }],
    ['paper-too-small', { paper: { name: 'Card', width: 105, height: 148 } }],
    ['paper-too-small', { margin: 60 }],
    ['print-settings', { margin: -1 }],
    ['print-settings', { overlap: Number.NaN }],
    ['overlap-too-wide', { overlap: 80 }],
  ] as const)('refuses settings with %s', (code, settings) => {
    const answer = planPages([printable(rectangle(80, 80))], { ...defaultPrintSettings, ...settings });
    expect(answer).toMatchObject({ ok: false, code });
  });

  it('takes a sheet as long as PDF readers can show', () => {
    const roll = { name: 'Roll', width: 914, height: 5080 };
    expect(planned([printable(rectangle(700, 4000))], { paper: roll }).pages).toHaveLength(1);
  });

  it('refuses to print nothing, and a piece of absurd size', () => {
    expect(planPages([], defaultPrintSettings)).toMatchObject({ ok: false, code: 'nothing-to-print' });
    const huge = printable(rectangle(9000, 9000), { cutLine: null, finish: null });
    expect(planPages([huge], defaultPrintSettings)).toMatchObject({ ok: false, code: 'piece-too-large' });
  });
});
