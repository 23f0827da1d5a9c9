import type { Picture } from '../../../src/exchange/photo/picture';
import type { PictureView } from '../../../src/exchange/photo/pictureView';
import type { Point } from '../../../src/geometry/point';
import { coverage } from '../../support/photo/coverage';
import { cleanOptics, type Optics } from '../../support/photo/scene';
import { expose } from '../../support/photo/sensor';
import { seeded } from '../svgMutate';

/** A shape of one colour (parts of white light), as closed chains of places in dots. */
export interface FlatShape {
  readonly loops: readonly (readonly Point[])[];
  readonly colour: readonly [number, number, number];
}

/** A picture seen straight from above, its shapes laid over each other in order with exactly covered dots. */
export function flatPicture(
  width: number,
  height: number,
  ground: readonly [number, number, number],
  shapes: readonly FlatShape[],
  optics: Partial<Optics> = {},
  seed = 1,
): Picture {
  const planes = ground.map((part) => new Float32Array(width * height).fill(part)) as unknown as [
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  for (const { loops, colour } of shapes) {
    const covered = coverage(
      loops.map((loop) => Float64Array.from(loop.flatMap(({ x, y }) => [x, y]))),
      width,
      height,
    );
    if (!covered) continue;
    for (let y = 0; y < covered.height; y++) {
      for (let x = 0; x < covered.width; x++) {
        const share = covered.data[y * covered.width + x]!;
        const i = (covered.top + y) * width + covered.left + x;
        planes.forEach((plane, c) => {
          plane[i] = plane[i]! + (colour[c]! - plane[i]!) * share;
        });
      }
    }
  }
  return expose(planes, width, height, { ...cleanOptics, ...optics }, seeded(seed));
}

/** A view with square dots of this size, mm, and nothing to straighten. */
export function flatView(picture: Picture, mmPerDot: number): PictureView {
  const { width, height } = picture;
  return { width, height, lens: 0, homography: [mmPerDot, 0, 0, 0, mmPerDot, 0, 0, 0, 1] };
}

/** A smooth closed shape without corners: r(1 + 0.2 cos 2a + 0.1 sin 3a) about a middle, dots. */
export function blob(middle: Point, r: number, turned = 0): Point[] {
  return Array.from({ length: 720 }, (_, i) => {
    const a = (-2 * Math.PI * i) / 720;
    const radius = r * (1 + 0.2 * Math.cos(2 * a) + 0.1 * Math.sin(3 * a));
    return { x: middle.x + radius * Math.cos(a + turned), y: middle.y + radius * Math.sin(a + turned) };
  });
}

/** The band of this width along a closed chain of places, as two loops for one shape; a share of its length may be left open. */
export function band(points: readonly Point[], width: number, open = 0): Point[][] {
  const n = points.length;
  const side = (by: number) =>
    points.map((p, i) => {
      const a = points[(i + n - 1) % n]!;
      const b = points[(i + 1) % n]!;
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      return { x: p.x - ((b.y - a.y) / length) * by, y: p.y + ((b.x - a.x) / length) * by };
    });
  const left = side(width / 2);
  const right = side(-width / 2);
  if (open === 0) return [left, right.reverse()];
  const kept = Math.round(n * (1 - open));
  return [[...left.slice(0, kept), ...right.slice(0, kept).reverse()]];
}

/** A quarter turn of a picture, clockwise on screen: the place (x, y) comes to (height - y, x). */
export function quarterTurned({ width, height, data }: Picture): Picture {
  const turned = new Uint8ClampedArray(data.length);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const from = 4 * (y * width + x);
      turned.set(data.subarray(from, from + 4), 4 * (x * height + height - 1 - y));
    }
  }
  return { width: height, height: width, data: turned };
}
