import { type Chain, median } from './chain';
import { cornersOf, settledCorners, withCorners } from './chainCorners';
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
  /** Notches and the like that were bridged. */
  readonly bridged: readonly Excursion[];
  /** Stretches as wide as a hand where something may lie across the edge; left as they are. */
  readonly suspect: readonly Excursion[];
}

/** mm. Length of edge on each side that tells a corner's turn. */
const cornerSide = 8;

/** mm. Half the length of edge that decides one place. */
const averagedHalf = 8;

/** mm. Widest notch or blot bridged; one that hardly leaves the edge may be wider: no edge is cut like that. */
const widestBridged = (height: number) => (height < 4 ? 25 : 12);

/** mm. Widest thing lying across an edge that is told. */
const widestSuspect = () => 90;

/**
 * Frees a closed, evenly spaced chain of measured places (mm) from their small errors. Between corners each place becomes
 * that of a parabola through its neighbours, strays left out. A blurred picture rounds corners off: they are rebuilt where
 * the parabolas of both sides meet, fitted from `clear` mm away on. Short stretches that leave the edge and come back are
 * bridged. `trust` 0 leaves a place out, 1 takes it in full.
 */
export function fairChain(measured: Chain, trust: Float64Array, clear: number): Fair {
  const n = measured.xs.length;
  const spacing = perimeter(measured) / n;
  const gap = Math.max(1, Math.round(clear / spacing));
  const side = Math.max(6, Math.round(cornerSide / spacing));
  const chain = { xs: Float64Array.from(measured.xs), ys: Float64Array.from(measured.ys) };
  const weights = Float64Array.from(trust);
  const doubtful = Uint8Array.from(trust, (t) => (t < 0.5 ? 1 : 0));
  const bridged: Excursion[] = [];
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
  corners = settledCorners(chain, corners, gap);
  const suspect = excursionsOf(chain, weights, corners, gap, spacing, widestSuspect);
  for (const excursion of suspect) {
    eachWithin(excursion, n, (i) => {
      doubtful[i] = 1;
    });
  }
  const xs = Float64Array.from(chain.xs);
  const ys = Float64Array.from(chain.ys);
  const half = Math.max(4, Math.round(averagedHalf / spacing));
  const residuals: number[] = [];
  const closed = corners.length === 0;
  (closed ? [0] : corners).forEach((from, s) => {
    const to = closed ? n : corners[(s + 1) % corners.length]!;
    const length = closed ? n : (to - from + n) % n || n;
    for (let i = 0; i < length; i++) {
      const at = (from + i) % n;
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
  const fair = closed ? { xs, ys } : withCorners({ xs, ys }, chain, corners, gap);
  return { chain: fair, corners, noise: 1.4826 * median(residuals), doubtful, bridged, suspect };
}

function eachWithin({ from, to }: Excursion, n: number, visit: (i: number) => void): void {
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
