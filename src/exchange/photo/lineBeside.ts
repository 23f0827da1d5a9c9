import { type Chain, median } from './chain';
import type { Placed, PlacedEdge } from './edgePlace';
import { type FreeLine, fineStep, freeLine } from './freeLine';
import {
  coarse,
  edgeReach,
  fitOf,
  type Group,
  type LineFit,
  lineReach,
  plainly,
  reach,
  type Seeing,
  type Shadow,
} from './lineFit';
import { linePull } from './linePull';
import type { Picture } from './picture';
import type { PictureView, Quad } from './pictureView';
import { type StraightRun, straightRuns } from './straightRuns';
import { acrossLine } from './tableRows';
import { toPicture, toTable } from './viewPoint';

/** mm. Length of edge whose profiles are laid over each other to place it. */
const group = 4;

/** mm. At the other end of the run a line seen beyond one end may lie so far to each side of where it enters. */
const followedReach = 1.2;

/** mm. The blur of a corner. */
const clearOfEnds = 1;

/** Shares of what lies below that paper may let through, as tissue does. */
const throughs = [0.06, 0.12, 0.18, 0.24, 0.3];

/** Shadows tried. */
const shadows: readonly Shadow[] = [
  { depth: 0.25, width: 0.25 },
  { depth: 0.25, width: 0.5 },
  { depth: 0.45, width: 0.25 },
  { depth: 0.45, width: 0.5 },
  { depth: 0.45, width: 0.9 },
];

/** Ratio. One way of a line is told from the others where it leaves less than this of what they leave. */
const plainWay = 0.8;

/** Ratio. A shadow is believed where with it less than this is left unexplained. */
const worthAShadow = 0.85;

/** mm. A line as broad as this makes an edge doubtful when it cannot be told from it. */
const broad = 0.7;

/** mm. One that can move the edge by less, such as wood grain or a figure of a cloth, makes none doubtful. */
const worstPull = 0.35;

/** Groups to each side whose middle place is taken. */
const steadied = 3;

/** Ratio. A line is believed where it leaves less than this of what the edge alone leaves unexplained. */
const better = 0.8;

/** Share of the profile. What edge and line leave unexplained may be as much. */
const explained = 0.01;

/**
 * Places straight edges anew that have a line of the table along them (a ruled mat, a joint of boards): how the line looks
 * is read where it runs on beyond the piece, so that only the place of the edge on it is unknown. The profile is
 *
 *     table (1 + change . line) outside the edge,   paper + through . table . change . line   inside it,
 *
 * blurred; paper, table in each channel and the places of edge and line by least squares.
 */
export function placeBesideLines(
  picture: Picture,
  view: PictureView,
  placed: PlacedEdge,
  sheets: readonly Quad[],
): Placed {
  const { chain, blur } = placed;
  const n = chain.xs.length;
  const table = Array.from({ length: n }, (_, i) => toTable(view, { x: chain.xs[i]!, y: chain.ys[i]! }));
  if (table.some((p) => !Number.isFinite(p.x + p.y))) return placed;
  const border: Chain = { xs: Float64Array.from(table, (p) => p.x), ys: Float64Array.from(table, (p) => p.y) };
  const xs = Float64Array.from(chain.xs);
  const ys = Float64Array.from(chain.ys);
  const unlike = Uint8Array.from(placed.unlike);
  const lines = straightRuns(border).flatMap((run) => {
    const line = freeLine(picture, view, run, border, sheets, blur);
    return line ? [{ run, line }] : [];
  });
  // Lines seen at both ends tell first what the paper lets through, which is the same all round.
  lines.sort((a, b) => Number(b.line.bothEnds) - Number(a.line.bothEnds) || b.run.length - a.run.length);
  let through: number | null = null;
  for (const { run, line } of lines) {
    const along = edgesAlong(picture, view, run, line, blur, through);
    if (!along) {
      // A broad line comes in along the edge, and where it goes is not known: either of its sides may have been taken.
      if (!line.bothEnds && line.width > broad && linePull(picture, view, run, line) > worstPull) {
        for (let k = 0; k <= (run.to - run.from + n) % n; k++) unlike[(run.from + k) % n] = 1;
      }
      continue;
    }
    if (line.bothEnds) through ??= along.through;
    for (let k = 0; k <= (run.to - run.from + n) % n; k++) {
      const i = (run.from + k) % n;
      const u = (border.xs[i]! - run.x) * run.tx + (border.ys[i]! - run.y) * run.ty;
      const v = (border.xs[i]! - run.x) * run.ty - (border.ys[i]! - run.y) * run.tx;
      const edge = edgeAt(along.fits, u);
      if (edge === null || Math.abs(v) > edgeReach) continue;
      const p = toPicture(view, {
        x: run.x + u * run.tx + edge * run.ty,
        y: run.y + u * run.ty - edge * run.tx,
      });
      xs[i] = p.x;
      ys[i] = p.y;
      unlike[i] = 0;
    }
  }
  return { ...placed, chain: { xs, ys }, unlike };
}

/** The edge's place between the middles of groups, and as far beyond them; null where none is near. */
function edgeAt(fits: readonly LineFit[], u: number): number | null {
  const next = fits.findIndex((fit) => fit.u >= u);
  const b = fits[next < 0 ? fits.length - 1 : next]!;
  const a = next <= 0 ? b : fits[next - 1]!;
  if (a === b) return Math.abs(u - b.u) < group ? b.edge : null;
  return b.u - a.u > 3 * group ? null : a.edge + ((b.edge - a.edge) * (u - a.u)) / (b.u - a.u);
}

/** Edge and line in every group along the run; null where the line explains nothing, or too little is explained. */
function edgesAlong(
  picture: Picture,
  view: PictureView,
  run: StraightRun,
  line: FreeLine,
  blur: number,
  known: number | null,
): { readonly fits: readonly LineFit[]; readonly through: number } | null {
  const count = Math.floor(run.length / group);
  const length = run.length / count;
  const groups: Group[] = [];
  // What lies round the corners at both ends comes into the first and last.
  for (let u = length / 2; u < run.length; u += length) {
    const begin = Math.max(clearOfEnds, u - length / 2);
    const end = Math.min(run.length - clearOfEnds, u + length / 2);
    if (end - begin < 1) continue;
    const across = acrossLine(picture, view, run, [begin, end], reach, fineStep);
    if (across) groups.push({ u: (begin + end) / 2, across });
  }
  if (groups.length < 4) return null;
  const every = Math.max(2, Math.floor(groups.length / 12));
  const few = groups.filter((_, g) => g % every === 1);
  const at = line.bothEnds ? line.at : followed(few, line, run.length, { ...plainly, through: known ?? 0 }, blur);
  if (!at) return null;
  const rest = (change: FreeLine['change'], seeing: Seeing) =>
    median(few.map((g) => fitOf(g, { ...line, change }, seeing, blur, at(g.u), lineReach).rest));
  let seeing: Seeing = { ...plainly, through: known ?? 0 };
  let least = rest(line.change, seeing);
  const attempt = (other: Seeing, share: number) => {
    const here = rest(line.change, other);
    if (here < least * share) [least, seeing] = [here, other];
  };
  if (known === null) for (const through of throughs) attempt({ ...plainly, through }, 1);
  const { through } = seeing;
  for (const shadow of shadows) attempt({ through, shadow }, seeing.shadow === plainly.shadow ? worthAShadow : 1);
  const alone = rest([0, 0, 0], plainly);
  if (!(least < better * alone && least < explained)) return null;
  const fits = groups.map((g) => fitOf(g, line, seeing, blur, at(g.u), lineReach));
  // Where other lines of the table cross, the profile is another: such groups, and strays, are left out.
  const usual = median(fits.map(({ rest: left }) => left));
  const plain = fits.filter(({ rest: left }) => left < 2 * usual);
  const steady = plain.map((fit, i) => {
    const side = Math.min(steadied, i, plain.length - 1 - i);
    return { ...fit, edge: median(plain.slice(i - side, i + side + 1).map(({ edge }) => edge)) };
  });
  return { fits: steady, through };
}

/**
 * A line seen beyond one end only, carried on along the run in the direction in which the profiles there show it; null
 * where they do not show it.
 */
function followed(few: readonly Group[], line: FreeLine, length: number, seeing: Seeing, blur: number) {
  const start = line.at(line.seenAt);
  const ways = Array.from({ length: 2 * Math.round(followedReach / coarse) + 1 }, (_, k) => {
    const slope = (k * coarse - followedReach) / length;
    return (u: number) => start + slope * Math.abs(u - line.seenAt);
  });
  const rests = ways.map((at) =>
    few.reduce((sum, g) => sum + fitOf(g, line, seeing, blur, at(g.u), lineReach).rest, 0),
  );
  const least = Math.min(...rests);
  return least < plainWay * median(rests) ? ways[rests.indexOf(least)]! : null;
}
