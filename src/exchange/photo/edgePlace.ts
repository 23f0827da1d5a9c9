import { bestClosedPath } from './bestPath';
import { type Chain, evenly, median, moved, normalsOf, smoothed, smoothedValues } from './chain';
import type { Picture } from './picture';
import { type Profiles, sampleProfiles } from './profiles';
import { fittedSteps } from './stepFit';
import { steadyOffsets, stripReach, stripsBeside } from './stripFit';

/** Where an outline lies on the picture, dots, and how plainly it shows there. */
export interface Placed {
  readonly chain: Chain;
  /** Height of the step, or depth of the line, as a share of what is usual on this outline; 0 where nothing was found. */
  readonly strength: Float64Array;
  /** 1 where it looks unlike an edge or line should, so that the place may be that of something beside it. */
  readonly unlike: Uint8Array;
}

export interface PlacedEdge extends Placed {
  /** dots. Standard deviation of the blur across the edge. */
  readonly blur: number;
}

/** dots. Profiles on which the edge is placed reach this far to each side. */
const profileReach = 8;

/** Places (dots) to each side that have to agree on a strip beside the edge. */
const stripAround = 15;

/** Cost, in shares of a usual step, of going a dot in or out from one place of the chain to the next. */
export const bendCost = 0.15;

/** Ratio. What differs from the piece's colour by more than this times what is usual outside is table, however much it differs. */
const patternCap = 0.45;

/**
 * The edge between paper and table along a rough chain (dots, inside at the right hand), which may be off by `reach`
 * dots. First the way round that keeps to the steepest steps from the piece's colour to the table's, to whole dots;
 * then, twice, the place of a blurred step (`fittedSteps`); then, where a strip lies beside the edge, its inner side.
 */
export function placeEdge(picture: Picture, rough: Chain, reach: number): PlacedEdge {
  let chain = alongSteepest(picture, rough, reach);
  chain = alongSteepest(picture, evenly(smoothed(chain, 1.5), 1), 3);
  let strength: Float64Array = new Float64Array(chain.xs.length);
  let unlike: Uint8Array = new Uint8Array(chain.xs.length);
  let blur = 1;
  for (let round = 0; round < 2; round++) {
    chain = evenly(smoothed(chain, 2), 1);
    const normals = normalsOf(chain, 3);
    const profiles = sampleProfiles(picture, chain, normals, profileReach, 0.5);
    const steps = fittedSteps(profiles);
    chain = moved(chain, normals, steps.offsets);
    strength = steps.strength;
    unlike = steps.unlike;
    blur = steps.blur;
  }
  if (unlike.includes(1)) {
    const normals = normalsOf(chain, 3);
    // A strip that runs off under the edge at a small angle is flagged only where it is wide.
    const near = withNeighbours(unlike, 3 * stripAround);
    const strips = stripsBeside(sampleProfiles(picture, chain, normals, stripReach, 0.5), near, blur);
    chain = moved(chain, normals, steadyOffsets(strips, near, stripAround));
  }
  return { chain, strength, unlike, blur };
}

/** The flags, set too within `reach` places of one. */
function withNeighbours(flags: Uint8Array, reach: number): Uint8Array {
  const n = flags.length;
  const wide = new Uint8Array(n);
  let since = reach + 1;
  for (let k = 0; k < n + reach; k++) {
    since = flags[k % n] === 1 ? 0 : since + 1;
    if (since <= reach) wide[k % n] = 1;
  }
  since = reach + 1;
  for (let k = n + reach - 1; k >= 0; k--) {
    since = flags[k % n] === 1 ? 0 : since + 1;
    if (since <= reach) wide[k % n] = 1;
  }
  return wide;
}

function alongSteepest(picture: Picture, rough: Chain, reach: number): Chain {
  const normals = normalsOf(rough, 4);
  const span = reach + 2;
  const profiles = sampleProfiles(picture, rough, normals, span, 1);
  const { count, across, seen } = profiles;
  const away = awayFromInside(profiles);
  const scores = new Float32Array(count * across);
  for (let i = 0; i < count; i++) {
    for (let k = 2; k < across - 2; k++) {
      const j = i * across + k;
      if (seen[j - 2]! & seen[j + 2]!) scores[j] = Math.max(0, away[j + 1]! - away[j - 1]!);
    }
  }
  const usual = usualPeak(scores, count, across);
  if (usual > 0) for (let j = 0; j < scores.length; j++) scores[j] = Math.min(1.5, scores[j]! / usual);
  const path = bestClosedPath(scores, count, across, bendCost);
  return moved(
    rough,
    normals,
    Float64Array.from(path, (k) => k - span),
  );
}

/**
 * How far each place's colour is from that of the innermost third of the profiles around it. Beyond a share of what is
 * usual outside all counts alike, so that a pattern of the table has no steps.
 */
function awayFromInside(profiles: Profiles): Float32Array {
  const { count, across, channels, reach } = profiles;
  const third = Math.max(2, Math.round(across / 3));
  const colours = channels.map((channel) => {
    const mean = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      for (let k = 0; k < third; k++) mean[i] = mean[i]! + channel[i * across + k]! / third;
    }
    return smoothedValues(mean, Math.min(count / 8, 2.5 * reach));
  });
  const away = new Float32Array(count * across);
  const outer = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < across; k++) {
      const j = i * across + k;
      const r = channels[0][j]! - colours[0]![i]!;
      const g = channels[1][j]! - colours[1]![i]!;
      const b = channels[2][j]! - colours[2]![i]!;
      away[j] = Math.sqrt(r * r + g * g + b * b);
      if (k >= across - third) outer[i] = outer[i]! + away[j]! / third;
    }
  }
  // What lies beside the piece may change along it: the cap follows, but not from place to place.
  const cap = smoothedValues(outer, Math.min(count / 8, 4 * reach));
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < across; k++) {
      const j = i * across + k;
      away[j] = Math.min(away[j]!, patternCap * cap[i]!);
    }
  }
  return away;
}

export function usualPeak(scores: Float32Array, count: number, across: number): number {
  const peaks = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < across; k++) peaks[i] = Math.max(peaks[i]!, scores[i * across + k]!);
  }
  return median(peaks);
}
