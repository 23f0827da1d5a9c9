import type { Homography, PictureView } from '../../../src/exchange/photo/pictureView';
import type { Point } from '../../../src/geometry/point';
import type { Camera } from './scene';

type Vector = readonly [number, number, number];

/**
 * The map a pinhole gives, written from its definition: a place P of the table is seen at middle + focal * (its share to
 * the right, its share down) / (its share forward), shares being those of P - pinhole along the camera's own axes.
 */
export function viewOf(camera: Camera): PictureView {
  const { width, height, focal, lens } = camera;
  const { right, down, forward, eye } = axes(camera);
  const cx = width / 2;
  const cy = height / 2;
  const back = (axis: Vector) => -(eye[0] * axis[0] + eye[1] * axis[1] + eye[2] * axis[2]);
  // Rows of the map from table (X, Y, 1) to straightened dots (x, y, 1) times depth.
  const row = (axis: Vector, middle: number): Vector => [
    focal * axis[0] + middle * forward[0],
    focal * axis[1] + middle * forward[1],
    focal * back(axis) + middle * back(forward),
  ];
  const toDots = [...row(right, cx), ...row(down, cy), forward[0], forward[1], back(forward)];
  return { width, height, lens, homography: inverse(toDots) };
}

/** The camera's axes and its pinhole, in table coordinates with z towards the viewer. */
export function axes(camera: Camera): { right: Vector; down: Vector; forward: Vector; eye: Vector } {
  const { tilt, tiltTowards, roll, distance, aim } = camera;
  // Leaning towards u: the pinhole moves to u sin(tilt), and the axes turn in the plane of u and z.
  const u: Vector = [Math.cos(tiltTowards), Math.sin(tiltTowards), 0];
  const lean: Vector = [u[0] * Math.sin(tilt), u[1] * Math.sin(tilt), Math.cos(tilt)];
  const forward: Vector = [-lean[0], -lean[1], -lean[2]];
  const turned = (v: Vector): Vector => {
    const along = v[0] * u[0] + v[1] * u[1];
    return [
      v[0] + along * (Math.cos(tilt) - 1) * u[0],
      v[1] + along * (Math.cos(tilt) - 1) * u[1],
      -along * Math.sin(tilt),
    ];
  };
  const c = Math.cos(roll);
  const s = Math.sin(roll);
  return {
    right: turned([c, s, 0]),
    down: turned([-s, c, 0]),
    forward,
    eye: [aim.x + distance * lean[0], aim.y + distance * lean[1], distance * lean[2]],
  };
}

function inverse(m: readonly number[]): Homography {
  const [a, b, c, d, e, f, g, h, i] = m as unknown as Homography;
  const scale = 1 / (a * e - b * d);
  return [
    (e * i - f * h) * scale,
    (c * h - b * i) * scale,
    (b * f - c * e) * scale,
    (f * g - d * i) * scale,
    (a * i - c * g) * scale,
    (c * d - a * f) * scale,
    (d * h - e * g) * scale,
    (b * g - a * h) * scale,
    1,
  ];
}

/** From a place on the picture to the table, mm; the definition of `PictureView` word for word. */
export function tableAt(view: PictureView, x: number, y: number): Point {
  const mx = view.width / 2;
  const my = view.height / 2;
  const k = 1 + (view.lens * ((x - mx) ** 2 + (y - my) ** 2)) / (mx * mx + my * my);
  const u = mx + (x - mx) * k;
  const v = my + (y - my) * k;
  const h = view.homography;
  const w = h[6] * u + h[7] * v + h[8];
  return { x: (h[0] * u + h[1] * v + h[2]) / w, y: (h[3] * u + h[4] * v + h[5]) / w };
}

/** From the table to the picture: the pinhole, then the radius that the lens term maps to the pinhole's, by Newton. */
export function seenAt(view: PictureView, at: Point): Point {
  const [a, b, c, d, e, f, g, h, i] = view.homography;
  const w = (d * h - e * g) * at.x + (b * g - a * h) * at.y + (a * e - b * d);
  const u = ((e * i - f * h) * at.x + (c * h - b * i) * at.y + (b * f - c * e)) / w;
  const v = ((f * g - d * i) * at.x + (a * i - c * g) * at.y + (c * d - a * f)) / w;
  const mx = view.width / 2;
  const my = view.height / 2;
  const target = Math.hypot(u - mx, v - my) / Math.hypot(mx, my);
  let r = target;
  for (let n = 0; n < 20; n++) r -= (r * (1 + view.lens * r * r) - target) / (1 + 3 * view.lens * r * r);
  const k = target === 0 ? 1 : r / target;
  return { x: mx + (u - mx) * k, y: my + (v - my) * k };
}

/**
 * Aims a camera and moves it along its axis until all of these places are in the picture with `margin` (part of the
 * shorter side) to spare.
 */
export function framed(camera: Omit<Camera, 'aim' | 'distance'>, places: readonly Point[], margin = 0.04): Camera {
  const xs = places.map(({ x }) => x);
  const ys = places.map(({ y }) => y);
  let aim = { x: (Math.min(...xs) + Math.max(...xs)) / 2, y: (Math.min(...ys) + Math.max(...ys)) / 2 };
  let distance = 2 * Math.hypot(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
  const spare = margin * Math.min(camera.width, camera.height);
  for (let n = 0; n < 60; n++) {
    const view = viewOf({ ...camera, aim, distance });
    const seen = places.map((place) => seenAt(view, place));
    const sx = seen.map(({ x }) => x);
    const sy = seen.map(({ y }) => y);
    const [l, r, t, b] = [Math.min(...sx), Math.max(...sx), Math.min(...sy), Math.max(...sy)];
    aim = tableAt(view, (l + r) / 2, (t + b) / 2);
    distance *= Math.max((r - l) / (camera.width - 2 * spare), (b - t) / (camera.height - 2 * spare)) ** 0.8;
  }
  return { ...camera, aim, distance };
}
