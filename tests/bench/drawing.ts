import type { Path } from '../../src/geometry/segment';
import { line } from '../../src/geometry/segment';
import { bundle, drawStrand, type LineSink } from '../../src/render/denseLines';
import { show, time } from './timing';

/** What the table paints of a drawing of very many lines: what is left of them at three zooms, and what making it costs. */
export function drawing(): void {
  console.log('painting a drawing of very many lines, out of all its steps:');
  const drawings: readonly (readonly [string, readonly Path[]])[] = [
    ['15,000 lines', scattered(15_000, false)],
    ['15,000 closed rectangles', scattered(15_000, true)],
    ['one line of 40,000 steps', [ring(40_000)]],
    ['12 outlines of 2,000 steps', Array.from({ length: 12 }, (_, size) => ring(2_000, 1 - size * 0.03))],
  ];
  for (const [name, paths] of drawings) {
    const bundles = bundle(paths, false);
    const all = paths.reduce((sum, path) => sum + path.length, 0);
    const parting = time(() => bundle(paths, false), 5).median;
    const at = zooms.map(({ words, pixelsPerMm }) => {
      // The right side of the drawing under a table of 700 by 560 pixels.
      const half = { x: 350 / pixelsPerMm, y: 280 / pixelsPerMm };
      const seen = bundles.filter(
        ({ bounds }) =>
          bounds.minX < 850 + half.x &&
          bounds.maxX > 850 - half.x &&
          bounds.minY < 600 + half.y &&
          bounds.maxY > 600 - half.y,
      );
      const counted = { count: 0 };
      for (const { strands } of seen)
        for (const strand of strands) drawStrand(strand, 0.35 / pixelsPerMm, counting(counted));
      return `${words} ${((100 * counted.count) / all).toFixed(1)} % in ${seen.length} of ${bundles.length} strokes`;
    });
    console.log(`  ${name.padEnd(27)} ${at.join(', ')}; parted in ${show(parting)}`);
  }
}

const zooms = [
  { words: 'whole', pixelsPerMm: 0.45 },
  { words: 'four times nearer', pixelsPerMm: 1.8 },
  { words: 'sixteen times', pixelsPerMm: 7.2 },
] as const;

function counting(counted: { count: number }): LineSink {
  const one = () => {
    counted.count++;
  };
  return { moveTo: () => undefined, lineTo: one, bezierCurveTo: one, closePath: () => undefined };
}

/** Spread evenly over 900 by 1200 mm, the same at every run. */
function scattered(count: number, closed: boolean): readonly Path[] {
  return Array.from({ length: count }, (_, index): Path => {
    const from = { x: (index * 389.7) % 890, y: (index * 731.3) % 1190 };
    const to = { x: from.x + 5, y: from.y + 3 };
    if (!closed) return [line(from, to)];
    const right = { x: to.x, y: from.y };
    const left = { x: from.x, y: to.y };
    return [line(from, right), line(right, to), line(to, left), line(left, from)];
  });
}

function ring(steps: number, grown = 1): Path {
  const at = (index: number) => {
    const turn = ((index % steps) / steps) * 2 * Math.PI;
    const wave = grown * (1 + 0.004 * Math.sin(turn * 900));
    return { x: 450 + 400 * wave * Math.cos(turn), y: 600 + 550 * wave * Math.sin(turn) };
  };
  return Array.from({ length: steps }, (_, index) => line(at(index), at(index + 1)));
}
