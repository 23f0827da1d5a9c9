import { describe, expect, it, vi } from 'vitest';
import { distance } from '../../src/geometry/point';
import type { DrawnItem, DrawnPath, DrawnText } from '../../src/print/drawing';
import { drawPdf } from '../../src/print/drawPdf';
import { pageDrawing } from '../../src/print/pageDrawing';
import { planned, printable } from './support/garments';
import { casePiece } from './support/pieces';
import { readPdf } from './support/readPdf';

// Drawing and reading back takes seconds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

function flat(items: readonly DrawnItem[]): (DrawnPath | DrawnText)[] {
  return items.flatMap((item) => (item.kind === 'group' ? flat(item.items) : [item]));
}

describe('the preview and the PDF', () => {
  it('are one drawing: every line and word of every page, in order and place', async () => {
    const plan = planned([printable(casePiece('O03-bodice-front-parallel'))]);
    const { pages } = await readPdf(await drawPdf(plan));
    expect(pages).toHaveLength(plan.pages.length);
    pages.forEach((page, i) => {
      const drawn = flat(pageDrawing(plan, i).items);
      const lines = drawn.filter((d): d is DrawnPath => d.kind === 'path' && d.line !== null);
      const words = drawn.filter((d): d is DrawnText => d.kind === 'text');
      expect(page.strokes).toHaveLength(lines.length);
      page.strokes.forEach((stroke, k) => {
        const want = lines[k]!;
        expect(stroke.path).toHaveLength(want.path.length);
        expect(stroke.width).toBeCloseTo(want.line!.width, 3);
        stroke.path.forEach((s, n) => {
          expect(distance(s.start, want.path[n]!.start)).toBeLessThan(0.001);
          expect(distance(s.end, want.path[n]!.end)).toBeLessThan(0.001);
        });
      });
      expect(page.texts.map((t) => t.text)).toEqual(words.map((w) => w.text));
      page.texts.forEach((t, k) => {
        if (words[k]!.align === 'start') expect(distance(t.at, words[k]!.at)).toBeLessThan(0.01);
      });
    });
  });

  it('has no page beyond the last', () => {
    const plan = planned([printable(casePiece('O03-bodice-front-parallel'))]);
    expect(() => pageDrawing(plan, plan.pages.length)).toThrow(RangeError);
  });
});
