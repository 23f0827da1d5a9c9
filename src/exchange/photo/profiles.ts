import type { Chain } from './chain';
import type { Picture } from './picture';
import { light, seenOpacity } from './tones';

/** What the picture shows along the normals of a chain, from `-reach` (inside) to `+reach` (outside), every `step` dots. */
export interface Profiles {
  readonly count: number;
  readonly across: number;
  readonly step: number;
  readonly reach: number;
  /** Red, green, blue in proportion to light; place `i * across + k` lies at -reach + k step on normal i. */
  readonly channels: readonly [Float32Array, Float32Array, Float32Array];
  /** 1 where the picture shows something. */
  readonly seen: Uint8Array;
}

export function sampleProfiles(picture: Picture, chain: Chain, normals: Chain, reach: number, step: number): Profiles {
  const count = chain.xs.length;
  const across = 2 * Math.round(reach / step) + 1;
  const channels = [0, 1, 2].map(() => new Float32Array(count * across)) as unknown as Profiles['channels'];
  const [red, green, blue] = channels;
  const seen = new Uint8Array(count * across);
  const { width, height, data } = picture;
  const lights = light;
  const row = 4 * width;
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < across; k++) {
      const s = k * step - reach;
      const x = chain.xs[i]! + normals.xs[i]! * s - 0.5;
      const y = chain.ys[i]! + normals.ys[i]! * s - 0.5;
      if (!(x >= 0 && y >= 0 && x < width - 1 && y < height - 1)) continue;
      const x0 = Math.floor(x);
      const y0 = Math.floor(y);
      const at = (y0 * width + x0) * 4;
      if (data[at + 3]! < seenOpacity || data[at + 7]! < seenOpacity) continue;
      if (data[at + row + 3]! < seenOpacity || data[at + row + 7]! < seenOpacity) continue;
      const fx = x - x0;
      const fy = y - y0;
      const d = fx * fy;
      const b = fx - d;
      const c = fy - d;
      const a = 1 - fx - c;
      const j = i * across + k;
      seen[j] = 1;
      red[j] =
        a * lights[data[at]!]! +
        b * lights[data[at + 4]!]! +
        c * lights[data[at + row]!]! +
        d * lights[data[at + row + 4]!]!;
      green[j] =
        a * lights[data[at + 1]!]! +
        b * lights[data[at + 5]!]! +
        c * lights[data[at + row + 1]!]! +
        d * lights[data[at + row + 5]!]!;
      blue[j] =
        a * lights[data[at + 2]!]! +
        b * lights[data[at + 6]!]! +
        c * lights[data[at + row + 2]!]! +
        d * lights[data[at + row + 6]!]!;
    }
  }
  return { count, across, step, reach, channels, seen };
}

/** Profiles averaged with two neighbours on each side, which lie within two dots along the edge. */
export function averagedAlong(values: Float32Array, count: number, across: number): Float32Array {
  const weights = [1, 2, 3, 2, 1];
  const out = new Float32Array(values.length);
  for (let i = 0; i < count; i++) {
    for (let m = -2; m <= 2; m++) {
      const from = ((i + m + count) % count) * across;
      const w = weights[m + 2]! / 9;
      for (let k = 0; k < across; k++) out[i * across + k] = out[i * across + k]! + w * values[from + k]!;
    }
  }
  return out;
}
