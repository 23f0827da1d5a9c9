import type { Point } from '../../geometry/point';
import type { Barrier } from './barrier';
import { inside, outside } from './flood';
import type { Mask } from './mask';
import type { Quad } from './pictureView';
import type { SmallPicture } from './smallPicture';

/** The region of a piece on the reduced picture, whole and without holes. */
export interface Region {
  readonly mask: Mask;
  /** What has to be said about it. */
  readonly notes: readonly string[];
}

/** Labels with the outermost dots, places without picture, and what is inside the quads (dots of the whole picture) outside. */
export function outsideMarkers(small: SmallPicture, leaveOut: readonly Quad[]): Uint8Array {
  const { width, height, factor, seen } = small;
  const labels = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      const onBorder = x === 0 || y === 0 || x === width - 1 || y === height - 1;
      if (onBorder || seen[i] === 0) labels[i] = outside;
    }
  }
  for (const quad of leaveOut) {
    const ys = quad.map((p) => p.y / factor);
    const xs = quad.map((p) => p.x / factor);
    for (let y = Math.max(0, Math.floor(Math.min(...ys))); y <= Math.min(height - 1, Math.max(...ys)); y++) {
      for (let x = Math.max(0, Math.floor(Math.min(...xs))); x <= Math.min(width - 1, Math.max(...xs)); x++) {
        if (isWithin({ x: (x + 0.5) * factor, y: (y + 0.5) * factor }, quad)) labels[y * width + x] = outside;
      }
    }
  }
  return labels;
}

/** Whether the place lies inside the four sides. */
export function isWithin(p: Point, quad: Quad): boolean {
  let odd = false;
  quad.forEach((a, i) => {
    const b = quad[(i + 1) % 4]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) * (b.x - a.x)) / (b.y - a.y)) odd = !odd;
  });
  return odd;
}

/** Marks the dots within `reach` of the seed that are not outside as inside. */
export function markSeed(labels: Uint8Array, width: number, seed: number, reach: number): void {
  const sx = seed % width;
  const sy = Math.floor(seed / width);
  for (let y = Math.max(0, sy - reach); y <= sy + reach; y++) {
    for (let x = Math.max(0, sx - reach); x <= Math.min(width - 1, sx + reach); x++) {
      const i = y * width + x;
      if (i < labels.length && labels[i] !== outside) labels[i] = inside;
    }
  }
}

export function maskOf(labels: Uint8Array, width: number, height: number): Mask {
  return { width, height, data: labels.map((label) => (label === inside ? 1 : 0)) };
}

/** The highest barrier within `reach` dots of each corner of a border (from `borderOf`). */
export function barriersAlong(barrier: Barrier, border: Int32Array, reach: number): Float64Array {
  const { width, height, data } = barrier;
  const along = new Float64Array(border.length / 2);
  for (let k = 0; k < along.length; k++) {
    const x = border[2 * k]!;
    const y = border[2 * k + 1]!;
    for (let dy = -reach; dy < reach; dy++) {
      for (let dx = -reach; dx < reach; dx++) {
        const px = x + dx;
        const py = y + dy;
        if (px >= 0 && py >= 0 && px < width && py < height) along[k] = Math.max(along[k]!, data[py * width + px]!);
      }
    }
  }
  return along;
}

/** Where in the picture a place is, in words. */
export function whereabouts(x: number, y: number, width: number, height: number): string {
  const row = y < height / 3 ? 'upper' : y < (2 * height) / 3 ? '' : 'lower';
  const column = x < width / 3 ? 'left' : x < (2 * width) / 3 ? '' : 'right';
  if (!row && !column) return 'in the middle of the picture';
  if (row && column) return `in the ${row} ${column} of the picture`;
  return `in the ${row || column} part of the picture`;
}
