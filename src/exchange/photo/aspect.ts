import type { Point } from '../../geometry/point';
import { squareToQuad } from './homography';
import type { Quad } from './pictureView';

/**
 * What the shape of a flat rectangle says about its own proportions, by one camera with square dots and its optical
 * centre in the middle of the picture (Zhang and He, whiteboard scanning, from memory).
 *
 * With the focal length F and the columns h1, h2 of the map from the unit square, the sides are seen as
 * r = (hx / F, hy / F, hz): they must be square to each other, and |r1| / |r2| is width over height. A picture tilted
 * about one side leaves F free, so F is weighed by how common it is.
 */
export interface ProportionsSeen {
  /** The likeliest width over height (width from corner 0 to 1). */
  readonly ratio: number;
  /** How well a width over height agrees with the picture; compare one with another, the scale has no meaning. */
  readonly evidence: (ratio: number) => number;
}

type Frame = { readonly width: number; readonly height: number };

/** Steps of log F that are weighed. */
const steps = 161;
const widest = 1.6;

/** `spread` (dots): how well the corners are known. Corners with the lens undone. */
export function proportionsSeen(frame: Frame, corners: Quad, spread: number): ProportionsSeen {
  const half = Math.hypot(frame.width, frame.height) / 2;
  const place = (p: Point): Point => ({ x: (p.x - frame.width / 2) / half, y: (p.y - frame.height / 2) / half });
  const quad = corners.map(place) as unknown as Quad;
  const trials = Array.from({ length: steps }, (_, i) => {
    const logFocal = Math.log(usualFocal) - widest + (2 * widest * i) / (steps - 1);
    return { logFocal, ...sidesSeen(quad, Math.exp(logFocal)) };
  });
  const noise = noiseOf(quad, spread / half);
  const weights = trials.map(({ logFocal, cosine }) => focalWeight(logFocal) * bell(cosine, noise.cosine));
  const evidence = (ratio: number): number =>
    trials.reduce(
      (sum, { logRatio }, i) => sum + weights[i]! * bell(Math.log(ratio) - logRatio, Math.max(0.004, noise.ratio)),
      0,
    );
  let best = 0;
  trials.forEach((_, i) => {
    if (weights[i]! > weights[best]!) best = i;
  });
  return { ratio: Math.exp(trials[best]!.logRatio), evidence };
}

/** Half diagonals: the focal length of a telephone's main lens (24 to 28 mm on 36 by 24). Common practice, no source. */
const usualFocal = 1.22;

/** Mostly a telephone's main lens; sometimes any other, or a cropped picture. */
function focalWeight(logFocal: number): number {
  const off = logFocal - Math.log(usualFocal);
  return 0.8 * bell(off, 0.1) + 0.2 * bell(off - 0.25, 0.5);
}

function bell(x: number, spread: number): number {
  return Math.exp((-x * x) / (2 * spread * spread)) / spread;
}

function sidesSeen(quad: Quad, focal: number): { readonly cosine: number; readonly logRatio: number } {
  const h = squareToQuad(quad);
  const [ax, ay, az] = [h[0] / focal, h[3] / focal, h[6]];
  const [bx, by, bz] = [h[1] / focal, h[4] / focal, h[7]];
  const a = Math.hypot(ax, ay, az);
  const b = Math.hypot(bx, by, bz);
  return { cosine: (ax * bx + ay * by + az * bz) / (a * b), logRatio: Math.log(a / b) };
}

/** How far the angle and the proportions scatter when each corner coordinate scatters by `spread`, at the usual focal length. */
function noiseOf(quad: Quad, spread: number): { readonly cosine: number; readonly ratio: number } {
  let cosine = 0;
  let ratio = 0;
  const step = 1e-4;
  const at = sidesSeen(quad, usualFocal);
  for (let i = 0; i < 8; i++) {
    const moved = quad.map((p, k) =>
      k !== i >> 1 ? p : i % 2 === 0 ? { x: p.x + step, y: p.y } : { x: p.x, y: p.y + step },
    ) as unknown as Quad;
    const there = sidesSeen(moved, usualFocal);
    cosine += ((there.cosine - at.cosine) / step) ** 2;
    ratio += ((there.logRatio - at.logRatio) / step) ** 2;
  }
  return { cosine: Math.max(1e-4, spread * Math.sqrt(cosine)), ratio: spread * Math.sqrt(ratio) };
}
