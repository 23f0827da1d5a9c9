import { enclosedArea } from '../../geometry/area';
import { nearestOnSegment } from '../../geometry/nearest';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { distance, type Point } from '../../geometry/point';
import { line, type Path } from '../../geometry/segment';
import { type Chain, median } from './chain';
import { type Run, runsOf, unproved } from './doubtfulRuns';
import { bumpsOf } from './edgeBumps';
import { oddPlaces } from './edgeCheck';
import type { Placed } from './edgePlace';
import { everyStep } from './evenSteps';
import { type Fair, fairChain } from './fairChain';
import type { Picture } from './picture';
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
  /**
   * Stretches of `path` where the edge can hardly be told from what lies beside it, or a corner is not well known: the
   * indices of their first and last segments; `to` is smaller than `from` where one runs on from the end to the start.
   */
  readonly doubtful: readonly Run[];
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

/** Trust in a place whose profile is not that of one edge. */
const doubted = 0.3;

/** Share of the outline that may be faint before it is no outline. */
const mostUncertain = 0.3;

/** Steps of the outline. Doubtful stretches no farther apart than this are one. */
const doubtsJoined = 5;

/** Steps of the outline by which a doubtful stretch is longer on both sides: what pulls the edge away does not end at once. */
const doubtsWider = 6;

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
 * Refused where too much of it is faint, or where it runs along a sheet. `paper` is the picture of a piece cut from paper,
 * whose colours on both sides of the edge are looked at once more.
 */
export function outlineOnTable(
  placed: Placed,
  view: PictureView,
  leaveOut: readonly Quad[],
  notes: readonly string[],
  paper: Picture | null,
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
  const trust = strength.map((s, i) => (s < faint ? 0 : unlike[i] === 1 ? doubted : 1));
  const dot = median(chain.xs.map((x, i) => mmPerDotAt(view, { x, y: chain.ys[i]! })));
  const fair = fairChain(onTable, trust, clearOfCorners * dot, dot);
  const lost = fair.doubtful.reduce((sum, d) => sum + d, 0) / n;
  if (lost > mostUncertain) {
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
  const spacing = lengthOf(fair.chain) / n;
  const known = fair.corners.filter((corner) => !fair.vague.includes(corner));
  const suspects = suspected(paper, view, fair, unlike, spacing, dot);
  const flags = unproved(suspects, fair.chain, fair.corners, known, spacing);
  bumpsOf(fair.chain, fair.corners, fair.noise, spacing).forEach((bump, i) => {
    flags[i] = flags[i]! | bump;
  });
  const uncertain = flags.reduce((sum, flag) => sum + flag, 0) / n;
  const steps = everyStep(fair.chain, fair.corners, stepLength).reverse();
  const places = steps.map(({ place }) => place);
  const doubts = runsOf(withoutStrays(Uint8Array.from(steps, ({ from }) => flags[from]!)), doubtsWider, doubtsJoined);
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
  if (fair.vague.length > 0) {
    said.push(
      `${fair.vague.length === 1 ? 'One corner' : `${fair.vague.length} corners`} cannot be placed to half a millimetre, ${fair.vague.length === 1 ? '' : 'one of them '}${whereIs(fair.vague[0]!)}. Look at the outline there.`,
    );
  }
  if (uncertain > worthLooking) {
    const first = flags.indexOf(1);
    said.push(
      `About ${Math.max(1, Math.round(100 * uncertain))} % of the edge can hardly be told from what lies beside it, ${whereIs(first)} among others. Look at it there.`,
    );
  }
  return succeed({
    path,
    area: enclosedArea(path),
    steps: path.length,
    uncertain,
    doubtful: doubts,
    noise: fair.noise,
    notes: said,
  });
}

/** mm along the edge: beside a corner both sides of the edge show other things than they do elsewhere. */
const clearOfCorner = 3;

/** Where the outline may not be right: the edge was faint, unlike one edge, or has odd colours beside it. */
function suspected(
  paper: Picture | null,
  view: PictureView,
  { chain, corners, doubtful, rebuilt }: Fair,
  unlike: Uint8Array,
  spacing: number,
  dot: number,
): Uint8Array {
  const flags = doubtful.map((d, i) => (rebuilt[i] === 1 ? 0 : d | unlike[i]!));
  if (paper === null) return flags;
  const odd = oddPlaces(paper, view, chain, spacing, dot);
  const n = odd.length;
  const near = Math.round(clearOfCorner / spacing);
  for (const corner of corners) for (let k = -near; k <= near; k++) odd[(corner + k + n) % n] = 0;
  return flags.map((flag, i) => flag | odd[i]!);
}

function lengthOf({ xs, ys }: Chain): number {
  const n = xs.length;
  return xs.reduce((sum, x, i) => sum + Math.hypot(xs[(i + 1) % n]! - x, ys[(i + 1) % n]! - ys[i]!), 0);
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

/** The flags in rows of three or more: single places that stray are averaged out by their neighbours. */
function withoutStrays(flags: Uint8Array): Uint8Array {
  const n = flags.length;
  const at = (i: number) => flags[(i + n) % n]!;
  return flags.map((flag, i) => {
    const [a, b, c, d] = [at(i - 2), at(i - 1), at(i + 1), at(i + 2)];
    return flag & ((a & b) | (b & c) | (c & d));
  });
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
