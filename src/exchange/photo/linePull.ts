import { median } from './chain';
import { type FreeLine, fineStep } from './freeLine';
import { reach } from './lineFit';
import type { Picture } from './picture';
import type { PictureView } from './pictureView';
import type { StraightRun } from './straightRuns';
import { acrossLine } from './tableRows';

/** mm along the run that are read together. */
const piece = 4;

/** mm. The outermost parts of the profiles, where paper and table are read. */
const ends = 1.2;

/**
 * mm: how far a line of the table may pull the edge it lies beside, at most. Between paper and table, a strip of a share of
 * their difference moves the step fitted to both by that share of its own width. Infinite where nothing can be read.
 */
export function linePull(picture: Picture, view: PictureView, run: StraightRun, line: FreeLine): number {
  const inside: number[][] = [[], [], []];
  const outside: number[][] = [[], [], []];
  const few = Math.round(ends / fineStep);
  for (let from = 0; from + piece <= run.length; from += piece) {
    const across = acrossLine(picture, view, run, [from, from + piece], reach, fineStep);
    across?.channels.forEach((channel, c) => {
      inside[c]!.push(...channel.slice(0, few));
      outside[c]!.push(...channel.slice(-few));
    });
  }
  if (inside[0]!.length === 0) return Number.POSITIVE_INFINITY;
  const table = outside.map(median);
  const step = Math.hypot(...inside.map((values, c) => median(values) - table[c]!));
  const change = Math.hypot(...table.map((light, c) => light * line.change[c]!));
  return (line.width * change) / step;
}
