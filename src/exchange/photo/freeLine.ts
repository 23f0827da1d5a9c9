import type { Point } from '../../geometry/point';
import { type Chain, median } from './chain';
import type { Picture } from './picture';
import type { PictureView, Quad } from './pictureView';
import { isWithin } from './region';
import { belowBell } from './stepFit';
import type { StraightRun } from './straightRuns';
import { acrossLine } from './tableRows';
import { toPicture } from './viewPoint';

/** A line of the table that lies along a straight edge, as it looks where it runs on beyond the piece. */
export interface FreeLine {
  /** mm. Its width. */
  readonly width: number;
  /** How much lighter it is than the table beside it, as a share of that, for red, green and blue; darker below 0. */
  readonly change: readonly [number, number, number];
  /** mm outward of the run, at a distance along the run: the line's middle. */
  at(u: number): number;
  /** Whether it was seen beyond both ends, so that `at` holds between them; else it holds near the end it was seen at. */
  readonly bothEnds: boolean;
  /** Distance along the run of the end it was seen at. */
  readonly seenAt: number;
}

/** mm. How far to each side of the edge carried on a line is looked for, and the profiles seen for that. */
const lookedFor = 1.8;
const reach = 3.45;

/** mm between places of a profile; profiles reach whole numbers of it. */
export const fineStep = 0.15;

/** mm. The table beside a line is read beyond this distance from the middle. */
const besideFrom = 2.6;

/** mm. Beyond the run's ends the line is read in pieces of this length, from ... to. */
const block = 3;
const clearOfEnd = 2;
const farthest = 45;

/** Pieces of the line that must be seen at an end. */
const fewestBlocks = 3;

/** Share of the table's light. What differs by less may be its grain. */
const leastChange = 0.1;

/** mm. Pieces of one line lie this near to a straight one. */
const astray = 0.15;

/** Slope against the run above which a line seen beyond one end crosses it. */
const alongside = 0.03;

/** mm. Widths tried. */
const widths = [0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.95, 1.05, 1.2, 1.35, 1.5];

/** mm. The way onto the table keeps this far from the piece. */
const clearOfPiece = 3.6;

interface Seen {
  readonly u: number;
  readonly middle: number;
  /** Share of the table's light by which each place differs from it, three channels one after the other. */
  readonly change: readonly Float64Array[];
  readonly mmPerDot: number;
}

/** The line of the table that runs on beyond the ends of a straight stretch of the piece's border; null where none is seen. */
export function freeLine(
  picture: Picture,
  view: PictureView,
  run: StraightRun,
  border: Chain,
  sheets: readonly Quad[],
  blur: number,
): FreeLine | null {
  const ahead = piecesOf(picture, view, run, border, sheets, 1);
  const behind = piecesOf(picture, view, run, border, sheets, -1);
  const both = fitted([...ahead, ...behind]);
  let pieces = both && ahead.length > 0 && behind.length > 0 && both.spread < astray ? [...ahead, ...behind] : null;
  const bothEnds = pieces !== null;
  pieces ??= ahead.length >= behind.length ? ahead : behind;
  const line = fitted(pieces);
  if (!line || line.spread > astray) return null;
  if (!bothEnds && !(Math.abs(line.slope) < alongside)) return null;
  const shape = shapeOf(pieces, line.at, blur);
  return shape && { ...shape, at: line.at, bothEnds, seenAt: pieces === behind ? 0 : run.length };
}

function piecesOf(
  picture: Picture,
  view: PictureView,
  run: StraightRun,
  border: Chain,
  sheets: readonly Quad[],
  sign: 1 | -1,
): Seen[] {
  const end = sign > 0 ? run.length : 0;
  const seen: Seen[] = [];
  for (let away = clearOfEnd; away < farthest; away += block) {
    const [begin, stop] = [end + sign * away, end + sign * (away + block)];
    const middle = (begin + stop) / 2;
    if (!isFree(view, run, middle, border, sheets)) {
      if (seen.length > 0) break;
      continue;
    }
    const across = acrossLine(picture, view, run, [Math.min(begin, stop), Math.max(begin, stop)], reach, fineStep);
    if (!across) break;
    const piece = lineIn(across.channels, middle, across.mmPerDot);
    if (piece) seen.push(piece);
  }
  const line = fitted(seen);
  return line && seen.length >= fewestBlocks && line.spread < astray ? seen : [];
}

/** Whether the way across the line at this distance lies on the table, clear of the piece and of the sheets. */
function isFree(view: PictureView, { x, y, tx, ty }: StraightRun, u: number, border: Chain, sheets: readonly Quad[]) {
  const on = (v: number): Point => ({ x: x + u * tx + v * ty, y: y + u * ty - v * tx });
  const { xs, ys } = border;
  const n = xs.length;
  const every = 6;
  for (const v of [-reach, 0, reach]) {
    const p = on(v);
    if (sheets.some((quad) => isWithin(toPicture(view, p), quad))) return false;
    let inside = false;
    for (let i = 0, j = n - (n % every || every); i < n; j = i, i += every) {
      if ((xs[i]! - p.x) ** 2 + (ys[i]! - p.y) ** 2 < (v === 0 ? clearOfPiece : 1) ** 2) return false;
      if (ys[i]! > p.y !== ys[j]! > p.y) {
        if (p.x < ((xs[j]! - xs[i]!) * (p.y - ys[i]!)) / (ys[j]! - ys[i]!) + xs[i]!) inside = !inside;
      }
    }
    if (inside) return false;
  }
  return true;
}

/** Where a line shows in a profile of the free table, and by how much; null where nothing stands out near its middle. */
function lineIn(channels: readonly Float64Array[], u: number, mmPerDot: number): Seen | null {
  const across = channels[0]!.length;
  const edge = Math.round((reach - besideFrom) / fineStep);
  const change = channels.map((channel) => {
    let before = 0;
    let after = 0;
    for (let k = 0; k < edge; k++) {
      before += channel[k]! / edge;
      after += channel[across - 1 - k]! / edge;
    }
    return channel.map((value, k) => {
      const level = before + ((after - before) * k) / (across - 1);
      return level > 0 ? value / level - 1 : 0;
    });
  });
  const total = change[0]!.map((_, k) => change.reduce((sum, c) => sum + c[k]! / 3, 0));
  const place = (k: number) => k * fineStep - reach;
  let peak = -1;
  for (let k = 0; k < across; k++) {
    if (Math.abs(place(k)) <= lookedFor && (peak < 0 || Math.abs(total[k]!) > Math.abs(total[peak]!))) peak = k;
  }
  const height = total[peak]!;
  let noise = 0;
  for (let k = 0; k < edge; k++) noise = Math.max(noise, Math.abs(total[k]!), Math.abs(total[across - 1 - k]!));
  if (Math.abs(height) < Math.max(leastChange, 3 * noise)) return null;
  let sum = 0;
  let moment = 0;
  for (let k = peak; k >= 0 && total[k]! / height > 0.25; k--) {
    sum += total[k]!;
    moment += total[k]! * place(k);
  }
  for (let k = peak + 1; k < across && total[k]! / height > 0.25; k++) {
    sum += total[k]!;
    moment += total[k]! * place(k);
  }
  return { u, middle: moment / sum, change, mmPerDot };
}

/** The straight line through the middles of pieces, by the middle of their slopes; `spread` is the largest distance of most. */
function fitted(pieces: readonly Seen[]) {
  if (pieces.length < fewestBlocks) return null;
  const slopes: number[] = [];
  pieces.forEach((a, i) => {
    for (const b of pieces.slice(i + 1))
      if (Math.abs(b.u - a.u) > block) slopes.push((b.middle - a.middle) / (b.u - a.u));
  });
  const slope = median(slopes);
  const level = median(pieces.map(({ u, middle }) => middle - slope * u));
  const at = (u: number) => level + slope * u;
  const off = pieces.map(({ u, middle }) => Math.abs(middle - at(u))).sort((a, b) => a - b);
  return { at, slope, spread: off[Math.ceil(0.7 * (off.length - 1))]! };
}

/** Width and change of light of a line from pieces of it laid over each other: a bar as wide, blurred, that fits best. */
function shapeOf(pieces: readonly Seen[], at: (u: number) => number, blur: number) {
  const near = pieces.filter(({ u, middle }) => Math.abs(middle - at(u)) < 2 * astray);
  const across = near[0]!.change[0]!.length;
  const sigma = blur * median(near.map(({ mmPerDot }) => mmPerDot));
  let best: { width: number; change: [number, number, number]; misfit: number } | null = null;
  for (const width of widths) {
    let misfit = 0;
    const change = [0, 1, 2].map((c) => {
      let ab = 0;
      let aa = 0;
      let bb = 0;
      for (const piece of near) {
        const middle = at(piece.u);
        for (let k = 0; k < across; k++) {
          const v = k * fineStep - reach - middle;
          const a = belowBell((v + width / 2) / sigma) - belowBell((v - width / 2) / sigma);
          const b = piece.change[c]![k]!;
          ab += a * b;
          aa += a * a;
          bb += b * b;
        }
      }
      misfit += bb - (ab * ab) / aa;
      return ab / aa;
    }) as [number, number, number];
    if (!best || misfit < best.misfit) best = { width, change, misfit };
  }
  return best;
}
