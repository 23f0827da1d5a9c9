import type { Picture } from '../../../src/exchange/photo/picture';
import type { PictureView } from '../../../src/exchange/photo/pictureView';

/**
 * Plain test pictures of bright rectangles on a table, for the straightening tests only: every dot gets the share of
 * light of a Gaussian point spread over straight edges, in closed form (the error function), so edges lie exactly where
 * the camera says. No shadows, no lamp: the full photographs are made elsewhere.
 */

/** Evenly spread numbers in [0, 1) from a seed (mulberry32, public domain, from memory). */
export function numbersFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Normal numbers, mean 0 and spread 1 (Box and Muller). */
export function bellFrom(seed: number): () => number {
  const next = numbersFrom(seed);
  return () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
}

type Colour = readonly [number, number, number];

export interface Sheet {
  /** mm */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Radians about its upper left corner. */
  readonly turn?: number;
  /** Light it sends back, 0 to 1. */
  readonly colour: Colour;
  /** mm by which each edge (upper, right, lower, left) bulges outward in its middle. */
  readonly bulge?: readonly [number, number, number, number];
}

export interface Look {
  readonly table: Colour | ((x: number, y: number) => Colour);
  /** Spread of the blur in dots, the dot's own size aside. */
  readonly blur: number;
  /** Spread of the noise, in steps of 255. */
  readonly noise: number;
  /** Light at a place of the table, about 1. */
  readonly light?: (x: number, y: number) => number;
  readonly seed: number;
}

const encoded = Float32Array.from({ length: 4097 }, (_, i) => {
  const v = i / 4096;
  return 255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055);
});

/** Share of a Gaussian of spread 1 below x (Abramowitz and Stegun 7.1.26, error below 1.5e-7). */
export function belowBell(x: number): number {
  const z = Math.abs(x) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * z);
  const e =
    1 -
    t *
      (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))) *
      Math.exp(-z * z);
  return x < 0 ? (1 - e) / 2 : (1 + e) / 2;
}

/** A picture of the sheets on their table; later sheets lie on top. sRGB (IEC 61966-2-1), blurred in light, noise after. */
export function photograph(view: PictureView, sheets: readonly Sheet[], look: Look): Picture {
  const { width, height } = view;
  const data = new Uint8ClampedArray(width * height * 4);
  const bell = bellFrom(look.seed);
  // A pool of noise read at random places: twelve million logarithms would take longer than all the rest.
  const pool = Float32Array.from({ length: 1 << 16 }, () => bell() * look.noise);
  const next = numbersFrom(look.seed + 1);
  const spread = Math.sqrt(look.blur * look.blur + 1 / 12);
  const h = view.homography;
  const radius2 = (width * width + height * height) / 4;
  const sides = sheets.map((sheet) => ({
    ...sheet,
    c: Math.cos(sheet.turn ?? 0),
    s: Math.sin(sheet.turn ?? 0),
    bulge: sheet.bulge ?? [0, 0, 0, 0],
  }));
  for (let row = 0; row < height; row++) {
    const dy = row + 0.5 - height / 2;
    for (let column = 0; column < width; column++) {
      const dx = column + 0.5 - width / 2;
      const stretch = 1 + (view.lens * (dx * dx + dy * dy)) / radius2;
      const ux = width / 2 + dx * stretch;
      const uy = height / 2 + dy * stretch;
      const w = h[6] * ux + h[7] * uy + h[8];
      const x = (h[0] * ux + h[1] * uy + h[2]) / w;
      const y = (h[3] * ux + h[4] * uy + h[5]) / w;
      let [red, green, blue] = typeof look.table === 'function' ? look.table(x, y) : look.table;
      for (const sheet of sides) {
        const tx = x - sheet.x;
        const ty = y - sheet.y;
        const px = sheet.c * tx + sheet.s * ty;
        const py = -sheet.s * tx + sheet.c * ty;
        const across = 1 - (2 * px) / sheet.width;
        const down = 1 - (2 * py) / sheet.height;
        const top = py + sheet.bulge[0] * (1 - across * across);
        const right = sheet.width - px + sheet.bulge[1] * (1 - down * down);
        const bottom = sheet.height - py + sheet.bulge[2] * (1 - across * across);
        const left = px + sheet.bulge[3] * (1 - down * down);
        const nearest = Math.min(top, right, bottom, left);
        if (nearest < -10) continue;
        let share = 1;
        if (nearest < 10) {
          // Dots per mm square to each edge: the length of the gradient of the table place over the dots, inverted.
          const gx = (h[0] - h[6] * x) / w;
          const gy = (h[1] - h[7] * x) / w;
          const qx = (h[3] - h[6] * y) / w;
          const qy = (h[4] - h[7] * y) / w;
          const lensX = (vx: number, vy: number): readonly [number, number] => {
            const f = (2 * view.lens * (vx * dx + vy * dy)) / radius2;
            return [vx * stretch + f * dx, vy * stretch + f * dy];
          };
          const [ax, ay] = lensX(sheet.c * gx + sheet.s * qx, sheet.c * gy + sheet.s * qy);
          const [bx, by] = lensX(-sheet.s * gx + sheet.c * qx, -sheet.s * gy + sheet.c * qy);
          const perX = Math.sqrt(ax * ax + ay * ay) * spread;
          const perY = Math.sqrt(bx * bx + by * by) * spread;
          share = belowBell(left / perX) * belowBell(right / perX) * belowBell(top / perY) * belowBell(bottom / perY);
        }
        red += (sheet.colour[0] - red) * share;
        green += (sheet.colour[1] - green) * share;
        blue += (sheet.colour[2] - blue) * share;
      }
      const light = look.light?.(x, y) ?? 1;
      const at = (row * width + column) * 4;
      const draw = (next() * 65533) | 0;
      data[at] = encoded[Math.min(4096, Math.max(0, Math.round(red * light * 4096)))]! + pool[draw]!;
      data[at + 1] = encoded[Math.min(4096, Math.max(0, Math.round(green * light * 4096)))]! + pool[draw + 1]!;
      data[at + 2] = encoded[Math.min(4096, Math.max(0, Math.round(blue * light * 4096)))]! + pool[draw + 2]!;
      data[at + 3] = 255;
    }
  }
  return { width, height, data };
}
