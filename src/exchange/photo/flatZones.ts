import type { SmallPicture } from './smallPicture';

/** A stretch of a picture without a clear edge in it, at some height of edges; its dots are found by flooding from one. */
export interface FlatZone {
  readonly seed: number;
  /** Dots before this place in the order of rising edges belong, where they hang together with the seed. */
  readonly limit: number;
  readonly area: number;
}

export interface FlatZones {
  readonly zones: readonly FlatZone[];
  /** For every dot its place in the order of rising edges. */
  readonly rank: Int32Array;
}

/** Share of the picture below which a zone is too small to measure by, and above which it is no sheet. */
const smallest = 0.01;
const largest = 0.6;

/** A zone is offered again each time it has grown by this. */
const growth = 1.1;

/**
 * All stretches of the picture that an edge closes round, at every height of edge: dots are joined in the order of rising
 * edge strength (a watershed by immersion), and zones that may be a sheet are noted as they grow. Shading, colour and
 * which side is lighter do not matter; a sheet shows up just before its weakest edge floods.
 */
export function flatZones(small: SmallPicture): FlatZones {
  const { width, height } = small;
  const size = width * height;
  const { order, rank } = risingOrder(edgeStrength(small));
  const parent = new Int32Array(size).fill(-1);
  const area = new Int32Array(size).fill(1);
  const noted = new Int32Array(size);
  const left = new Int32Array(size);
  const right = new Int32Array(size);
  const top = new Int32Array(size);
  const bottom = new Int32Array(size);
  const zones: FlatZone[] = [];
  const find = (i: number): number => {
    let root = i;
    while (parent[root]! !== root) root = parent[root]!;
    let at = i;
    while (parent[at]! !== root) {
      const next = parent[at]!;
      parent[at] = root;
      at = next;
    }
    return root;
  };
  const note = (root: number, limit: number): void => {
    const own = area[root]!;
    if (own < smallest * size || own > largest * size || own < growth * noted[root]!) return;
    if (left[root]! < 2 || top[root]! < 2 || right[root]! > width - 3 || bottom[root]! > height - 3) return;
    noted[root] = own;
    const box = (right[root]! - left[root]! + 1) * (bottom[root]! - top[root]! + 1);
    // A convex four-cornered shape seen at a fair tilt fills nearly half of its box at least.
    if (own > 0.35 * box) zones.push({ seed: root, limit, area: own });
  };
  for (let k = 0; k < size; k++) {
    const i = order[k]!;
    const x = i % width;
    const y = (i / width) | 0;
    parent[i] = i;
    left[i] = x;
    right[i] = x;
    top[i] = y;
    bottom[i] = y;
    let root = i;
    for (let side = 0; side < 4; side++) {
      const other =
        side === 0
          ? x > 0
            ? i - 1
            : -1
          : side === 1
            ? x + 1 < width
              ? i + 1
              : -1
            : side === 2
              ? i - width
              : i + width;
      if (other < 0 || other >= size || parent[other]! < 0) continue;
      const far = find(other);
      if (far === root) continue;
      const [big, little] = area[far]! >= area[root]! ? [far, root] : [root, far];
      // Two zones of some size meet: what each was on its own is noted before.
      if (area[little]! > 0.03 * area[big]!) {
        note(big, k);
        note(little, k);
      }
      parent[little] = big;
      area[big] = area[big]! + area[little]!;
      left[big] = Math.min(left[big]!, left[little]!);
      right[big] = Math.max(right[big]!, right[little]!);
      top[big] = Math.min(top[big]!, top[little]!);
      bottom[big] = Math.max(bottom[big]!, bottom[little]!);
      root = big;
    }
    note(root, k + 1);
  }
  return { zones, rank };
}

/**
 * Strength of edges, as a whole number: Sobel's measure over all three channels against the brightness there, because a
 * shadow darkens both sides of an edge alike. Borders and unseen dots are strongest.
 */
function edgeStrength({ width, height, channels, seen }: SmallPicture): Uint16Array {
  const strength = new Uint16Array(width * height).fill(levels - 1);
  for (let y = 1; y + 1 < height; y++) {
    for (let x = 1; x + 1 < width; x++) {
      const i = y * width + x;
      if (seen[i] === 0) continue;
      let sum = 0;
      let level = darkest;
      for (const c of channels) {
        const nw = c[i - width - 1]!;
        const ne = c[i - width + 1]!;
        const sw = c[i + width - 1]!;
        const se = c[i + width + 1]!;
        const gx = ne + se - nw - sw + 2 * (c[i + 1]! - c[i - 1]!);
        const gy = sw + se - nw - ne + 2 * (c[i + width]! - c[i - width]!);
        sum += gx * gx + gy * gy;
        level += c[i]!;
      }
      strength[i] = Math.min(levels - 1, (finely * Math.sqrt(sum)) / level);
    }
  }
  return strength;
}

const levels = 2048;

/** Steps of strength for a slope as large as the brightness itself. */
const finely = 600;

/** Coded brightness of the three channels together, added so that noise in the dark does not count as edges. */
const darkest = 60;

/** The dots by rising strength, by counting. */
function risingOrder(strength: Uint16Array): { order: Int32Array; rank: Int32Array } {
  const starts = new Int32Array(levels + 1);
  for (const s of strength) starts[s + 1] = starts[s + 1]! + 1;
  for (let s = 0; s < levels; s++) starts[s + 1] = starts[s + 1]! + starts[s]!;
  const order = new Int32Array(strength.length);
  const rank = new Int32Array(strength.length);
  for (let i = 0; i < strength.length; i++) {
    const at = starts[strength[i]!]!;
    starts[strength[i]!] = at + 1;
    order[at] = i;
    rank[i] = at;
  }
  return { order, rank };
}
