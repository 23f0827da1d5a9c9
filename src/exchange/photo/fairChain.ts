import { type Chain, median, smoothedValues } from './chain';
import { cornersOf, type SideErrors, settledCorners, withCorners } from './chainCorners';
import { bridgeDoubtful } from './doubtfulRuns';
import { bridge, type Excursion, excursionsOf } from './excursions';
import { placeAmong } from './localFit';

export interface Fair {
  /** The chain freed of small errors, its corners rebuilt; mm. */
  readonly chain: Chain;
  /** Indices of the places on corners, in order. */
  readonly corners: readonly number[];
  /** Scatter of the measured places about it, mm (1.48 times the median), places that stray widely left out. */
  readonly noise: number;
  /** 1 where the place measured was not to be trusted or strayed, and its neighbours decide. */
  readonly doubtful: Uint8Array;
  /** Those of the corners whose place is not well known. */
  readonly vague: readonly number[];
  /** 1 beside a corner whose place is well known: what is measured just there counts for nothing. */
  readonly rebuilt: Uint8Array;
  /** Notches and the like that were bridged. */
  readonly bridged: readonly Excursion[];
  /** Stretches as wide as a hand where something may lie across the edge; left as they are. */
  readonly suspect: readonly Excursion[];
}

/** mm. Length of edge on each side that tells a corner's turn. */
const cornerSide = 8;

/** mm. Half the length of edge that decides one place. */
const averagedHalf = 8;

/** mm. The same where the edge can hardly be told: what lies beside it makes waves of a few mm. */
const averagedDoubtful = 20;

/** mm. Widest notch or blot bridged; one that hardly leaves the edge may be wider: no edge is cut like that. */
const widestBridged = (height: number) => (height < 4 ? 25 : 12);

/** mm. Widest thing lying across an edge that is told. */
const widestSuspect = () => 90;

/** Trust below which nothing was found at a place. */
const leastFound = 0.1;

/** Dots along the edge over which places share their errors: profiles are averaged over five, and blur joins neighbours. */
const sharedDots = 6;

/** Dots. No place on an edge is measured truer than this. */
const truest = 0.08;

/**
 * mm. A corner whose spread is larger is doubtful. On rendered photographs corners were 1.8 times as far off as their
 * spread says, so that three deviations of this are 0.75 mm.
 */
const knownCorner = 0.14;

/**
 * Frees a closed, evenly spaced chain of measured places (mm) from their small errors. Between corners each place becomes
 * that of a parabola through its neighbours, strays left out. A blurred picture rounds corners off: they are rebuilt where
 * the parabolas of both sides meet, fitted from `clear` mm away on. Short stretches that leave the edge and come back are
 * bridged. `trust` 0 leaves a place out, 1 takes it in full. `dot` is the usual size of a dot, mm.
 */
export function fairChain(measured: Chain, trust: Float64Array, clear: number, dot: number): Fair {
  const n = measured.xs.length;
  const spacing = perimeter(measured) / n;
  const gap = Math.max(1, Math.round(clear / spacing));
  const side = Math.max(6, Math.round(cornerSide / spacing));
  const chain = { xs: Float64Array.from(measured.xs), ys: Float64Array.from(measured.ys) };
  const weights = Float64Array.from(trust);
  const doubtful = Uint8Array.from(trust, (t) => (t < leastFound ? 1 : 0));
  const bridged = bridgeDoubtful(chain, weights, gap, spacing);
  let corners = cornersOf(chain, weights, gap, side, spacing);
  for (let round = 0; round < 3; round++) {
    const found = excursionsOf(chain, weights, corners, gap, spacing, widestBridged);
    if (found.length === 0) break;
    for (const excursion of found) {
      bridge(chain, weights, excursion, spacing);
      eachWithin(excursion, n, (i) => {
        doubtful[i] = 1;
      });
    }
    bridged.push(...found);
    corners = cornersOf(chain, weights, gap, side, spacing);
  }
  const errors: SideErrors = { trust: weights, shared: (sharedDots * dot) / spacing, floor: truest * dot };
  corners = settledCorners(chain, corners, gap, errors);
  const suspect = excursionsOf(chain, weights, corners, gap, spacing, widestSuspect);
  for (const excursion of suspect) {
    eachWithin(excursion, n, (i) => {
      doubtful[i] = 1;
    });
  }
  const xs = Float64Array.from(chain.xs);
  const ys = Float64Array.from(chain.ys);
  const doubted = smoothedValues(
    Float64Array.from(weights, (w) => (w < 0.5 ? 1 : 0)),
    averagedHalf / 2 / spacing,
  );
  const residuals: number[] = [];
  const closed = corners.length === 0;
  (closed ? [0] : corners).forEach((from, s) => {
    const to = closed ? n : corners[(s + 1) % corners.length]!;
    const length = closed ? n : (to - from + n) % n || n;
    for (let i = 0; i < length; i++) {
      const at = (from + i) % n;
      const reach = averagedHalf + (averagedDoubtful - averagedHalf) * doubted[at]!;
      const half = Math.min(n >> 2, Math.max(4, Math.round(reach / spacing)));
      // Places within the gap of a corner are the blur's; only those beyond it are used, for all of the stretch.
      const low = closed ? -half : Math.max(-half, gap - i);
      const high = closed ? half : Math.min(half, length - gap - i);
      const fitted = placeAmong(chain, weights, at, low, high, spacing);
      if (!fitted) continue;
      xs[at] = fitted.x;
      ys[at] = fitted.y;
      if (!closed && (i <= gap || i >= length - gap)) continue;
      if (fitted.strayed) doubtful[at] = 1;
      if (!doubtful[at]) residuals.push(Math.abs(fitted.residual));
    }
  });
  const fair = withCorners({ xs, ys }, chain, corners, gap, errors);
  const rebuilt = new Uint8Array(n);
  corners.forEach((corner, c) => {
    const isKnown = fair.spreads[c]! < knownCorner;
    eachWithin({ from: (corner - gap + n) % n, to: (corner + gap) % n }, n, (i) => {
      if (isKnown) rebuilt[i] = 1;
      else doubtful[i] = 1;
    });
  });
  const vague = corners.filter((_, c) => !(fair.spreads[c]! < knownCorner));
  return { chain: fair.chain, corners, noise: 1.4826 * median(residuals), doubtful, vague, rebuilt, bridged, suspect };
}

function eachWithin({ from, to }: Pick<Excursion, 'from' | 'to'>, n: number, visit: (i: number) => void): void {
  for (let k = 0; k <= (to - from + n) % n; k++) visit((from + k) % n);
}

function perimeter({ xs, ys }: Chain): number {
  let sum = 0;
  for (let i = 0; i < xs.length; i++) {
    const j = (i + 1) % xs.length;
    sum += Math.hypot(xs[j]! - xs[i]!, ys[j]! - ys[i]!);
  }
  return sum;
}
