import { enclosedArea } from '../../geometry/area';
import { nearestOnSegment } from '../../geometry/nearest';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { distance, type Point } from '../../geometry/point';
import { line, type Path } from '../../geometry/segment';
import { type Chain, median } from './chain';
import type { Placed } from './edgePlace';
import { fairChain } from './fairChain';
import type { PictureView, Quad } from './pictureView';
import { whereabouts } from './region';
import { toTable } from './viewPoint';

export interface OutlineFound {
  /** mm on the table: closed, ours way round, steps of about 1 mm, a place on every corner found. */
  readonly path: Path;
  /** mm2. */
  readonly area: number;
  readonly steps: number;
  /** Share of the way round where the edge is faint or strays, 0 to 1. */
  readonly uncertain: number;
  /** mm. Scatter of the measured places about the outline (one standard deviation). */
  readonly noise: number;
  /** What the maker should know, a sentence each. */
  readonly notes: readonly string[];
}

/** mm. Measured places are taken about this far apart. */
const placeSpacing = 0.45;

/** Dots. Blur rounds a corner off this far to each side. */
const clearOfCorners = 3.5;

/** mm. Length of the outline's steps. */
const stepLength = 1;

/** Ratio. A step or line this much weaker than usual on the outline is faint. */
const faint = 0.3;

/** Share of the outline that may be faint before it is no outline. */
const mostUncertain = 0.3;

/** mm. An outline this near to a sheet's side, over this length, runs along the sheet. */
const touch = 1.5;
const touchingLength = 8;

/** mm. A bridged stretch that leaves the edge by less is noise. */
const worthSaying = 1;

/** Share of the outline that is uncertain from which on the maker is sent to look. */
const worthLooking = 0.03;

/** mm. Size of a dot on the table around a place of the picture. */
export function mmPerDotAt(view: PictureView, p: Point): number {
  const a = toTable(view, p);
  const across = distance(a, toTable(view, { x: p.x + 1, y: p.y }));
  const down = distance(a, toTable(view, { x: p.x, y: p.y + 1 }));
  return Math.sqrt(across * down);
}

/**
 * The outline from the places measured on the picture: mapped to the table, freed of errors, in even steps, our way round.
 * Refused where too much of it is faint, or where it runs along a sheet.
 */
export function outlineOnTable(
  placed: Placed,
  view: PictureView,
  leaveOut: readonly Quad[],
  notes: readonly string[],
): Outcome<OutlineFound> {
  const { chain, strength, unlike } = thinned(placed, view);
  const n = chain.xs.length;
  const table = Array.from({ length: n }, (_, i) => toTable(view, { x: chain.xs[i]!, y: chain.ys[i]! }));
  if (table.some((p) => !Number.isFinite(p.x + p.y))) {
    return fail('beyond-horizon', 'The outline found reaches beyond the table. Check the corners of the sheet.');
  }
  const onTable: Chain = {
    xs: Float64Array.from(table, (p) => p.x),
    ys: Float64Array.from(table, (p) => p.y),
  };
  const trust = strength.map((s) => (s < faint ? 0 : 1));
  const dot = median(chain.xs.map((x, i) => mmPerDotAt(view, { x, y: chain.ys[i]! })));
  const fair = fairChain(onTable, trust, clearOfCorners * dot);
  const doubts = fair.doubtful.reduce((sum, d) => sum + d, 0);
  const uncertain = fair.doubtful.reduce((sum, d, i) => sum + (d || unlike[i] ? 1 : 0), 0) / n;
  if (doubts / n > mostUncertain) {
    return fail(
      'edge-too-faint',
      'The edge of the piece can hardly be told from what lies around it. Lay the piece on a table of another colour, in even light, and take the picture again.',
    );
  }
  if (lengthBeside(fair.chain, leaveOut, view) > touchingLength) {
    return fail(
      'piece-touches-sheet',
      'The piece touches the sheet that gives the scale, so its edge cannot be told there. Move them apart and take the picture again.',
    );
  }
  const places = everyStep(fair.chain, fair.corners, stepLength).reverse();
  const path = places.map((p, i) => line(p, places[(i + 1) % places.length]!));
  const said = [...notes];
  const whereIs = (i: number) => whereabouts(chain.xs[i]!, chain.ys[i]!, view.width, view.height);
  const plain = fair.bridged.filter(({ height }) => height > worthSaying);
  if (plain.length > 0) {
    said.push(
      plain.length === 1
        ? `A notch, or something small on the edge, was bridged ${whereIs(plain[0]!.from)}. Mark it as a notch if it is one.`
        : `${plain.length} notches, or small things on the edge, were bridged, the first ${whereIs(plain[0]!.from)}. Mark those that are notches.`,
    );
  }
  for (const { from } of fair.suspect) {
    said.push(`Something may lie across the edge ${whereIs(from)}. Look at the outline there, and correct it if so.`);
  }
  if (uncertain > worthLooking) {
    const first = fair.doubtful.findIndex((d, i) => d === 1 || unlike[i] === 1);
    said.push(
      `About ${Math.max(1, Math.round(100 * uncertain))} % of the edge can hardly be told from what lies beside it, ${whereIs(first)} among others. Look at it there.`,
    );
  }
  return succeed({
    path,
    area: enclosedArea(path),
    steps: path.length,
    uncertain,
    noise: fair.noise,
    notes: said,
  });
}

/** Every so-many-th place, so that they are about `placeSpacing` apart; each is an average over its neighbours already. */
function thinned({ chain, strength, unlike }: Placed, view: PictureView): Placed {
  const middle = chain.xs.length >> 1;
  const every = Math.max(
    1,
    Math.round(placeSpacing / mmPerDotAt(view, { x: chain.xs[middle]!, y: chain.ys[middle]! })),
  );
  const keep = (_: number, i: number) => i % every === 0;
  return {
    chain: { xs: chain.xs.filter(keep), ys: chain.ys.filter(keep) },
    strength: strength.filter(keep),
    unlike: unlike.filter(keep),
  };
}

/** How much of the outline, mm, lies within a touch of a sheet's sides. */
function lengthBeside(chain: Chain, sheets: readonly Quad[], view: PictureView): number {
  const sides = sheets.flatMap((quad) => {
    const corners = quad.map((p) => toTable(view, p));
    return corners.map((p, i) => line(p, corners[(i + 1) % 4]!));
  });
  if (sides.length === 0) return 0;
  const n = chain.xs.length;
  let length = 0;
  for (let i = 0; i < n; i++) {
    const p = { x: chain.xs[i]!, y: chain.ys[i]! };
    if (sides.some((side) => nearestOnSegment(side, p).distance < touch)) {
      length += Math.hypot(chain.xs[(i + 1) % n]! - p.x, chain.ys[(i + 1) % n]! - p.y);
    }
  }
  return length;
}

/** Places about `step` apart along the chain, with every corner among them. */
function everyStep(chain: Chain, corners: readonly number[], step: number): Point[] {
  const n = chain.xs.length;
  const starts = corners.length > 0 ? corners : [0];
  return starts.flatMap((from, c) => {
    const to = starts[(c + 1) % starts.length]!;
    const count = (to - from + n) % n || n;
    const xs = Float64Array.from({ length: count + 1 }, (_, k) => chain.xs[(from + k) % n]!);
    const ys = Float64Array.from({ length: count + 1 }, (_, k) => chain.ys[(from + k) % n]!);
    return openEvenly(xs, ys, step);
  });
}

/** Places along an open chain, its first among them, its last not. */
function openEvenly(xs: Float64Array, ys: Float64Array, step: number): Point[] {
  const along = new Float64Array(xs.length);
  for (let i = 1; i < xs.length; i++) along[i] = along[i - 1]! + Math.hypot(xs[i]! - xs[i - 1]!, ys[i]! - ys[i - 1]!);
  const whole = along[xs.length - 1]!;
  const count = Math.max(1, Math.round(whole / step));
  const places: Point[] = [];
  let i = 0;
  for (let k = 0; k < count; k++) {
    const at = (k * whole) / count;
    while (i < xs.length - 2 && along[i + 1]! <= at) i++;
    const gap = along[i + 1]! - along[i]!;
    const t = gap > 0 ? (at - along[i]!) / gap : 0;
    places.push({ x: xs[i]! + t * (xs[i + 1]! - xs[i]!), y: ys[i]! + t * (ys[i + 1]! - ys[i]!) });
  }
  return places;
}
