import { type Failure, fail } from '../../geometry/outcome';
import { cross, type Point, subtract } from '../../geometry/point';
import { proportionsSeen } from './aspect';
import { squareToQuad } from './homography';
import type { Picture } from './picture';
import type { Quad } from './pictureView';
import type { Reference } from './reference';

type Sized = Extract<Reference, { readonly corners: Quad }>;
type Frame = Pick<Picture, 'width' | 'height'>;

/** mm: sides of a rectangle that one measures a table by. */
const shortest = 20;
const longest = 3000;

/** Share of the picture below which a sheet says too little about the rest. */
const smallestShare = 0.01;

/** What is wrong with a rectangle before the picture is even looked at; null when nothing is. */
export function wrongReference(frame: Frame, { width, height, corners, kind }: Sized): Failure | null {
  const name = kind === 'sheet' ? 'sheet' : 'rectangle';
  if (![width, height].every((side) => side >= shortest && side <= longest)) {
    return failure(
      'photo-size-unbelievable',
      `The sides of the ${name} must be between ${shortest} mm and ${longest / 1000} m. Check the size and its unit.`,
    );
  }
  if (!corners.every(({ x, y }) => x >= 0 && y >= 0 && x <= frame.width && y <= frame.height)) {
    return failure(
      'photo-corner-outside',
      `A corner of the ${name} lies outside the picture. All four must be seen: set them again, or take the photograph from farther away.`,
    );
  }
  if (!corners.every((p, i) => turnAt(corners[(i + 3) % 4]!, p, corners[(i + 1) % 4]!) > 0.05)) {
    return failure(
      'photo-corners-crossed',
      `The four corners do not go round a ${name} one after the other. Set upper left, upper right, lower right and lower left, as it lies.`,
    );
  }
  if (areaOf(corners) < smallestShare * frame.width * frame.height) {
    return failure(
      'photo-sheet-small',
      `The ${name} fills less than ${100 * smallestShare} % of the picture, too little to measure the rest by. Go nearer, or lay down a larger sheet.`,
    );
  }
  return null;
}

/** Sine of the turn at a corner; positive where the way turns clockwise on screen. */
function turnAt(before: Point, at: Point, after: Point): number {
  const u = subtract(at, before);
  const v = subtract(after, at);
  return cross(u, v) / (Math.hypot(u.x, u.y) * Math.hypot(v.x, v.y) || 1);
}

function areaOf(quad: Quad): number {
  return quad.reduce((sum, p, i) => sum + cross(p, quad[(i + 1) % 4]!), 0) / 2;
}

/** Long over short of the papers that are commonest (ISO 216; 8 1/2 by 11 in). */
const papers = [
  { shape: Math.SQRT2, name: 'a sheet of the A sizes (A4, A3)' },
  { shape: 11 / 8.5, name: 'a Letter sheet' },
] as const;

/** Ratio: proportions this near are one shape. */
const sameShape = 0.015;

/** How many times better another shape must agree with the picture before the one given is refused, or doubted. */
const refusedBelow = 300;
const doubtedBelow = 20;

/** Perspective below this (dots count as half diagonals) shows proportions whatever the camera. */
const headOn = 0.02;

/** No cropping of a picture makes a sheet look this much off, as a ratio. */
const neverCropped = 1.25;

/**
 * Whether the size given has the proportions that the picture shows: a refusal, a doubt in words, or null.
 * `spread` (dots): how well the corners are known.
 */
export function doubtOfShape(
  frame: Frame,
  corners: Quad,
  { width, height }: { readonly width: number; readonly height: number },
  spread: number,
): Failure | string | null {
  const given = width / height;
  const seen = proportionsSeen(frame, corners, spread);
  const own = seen.evidence(given);
  const turned = { shape: height / width, name: 'the same sheet turned by a quarter' };
  const others = [
    turned,
    ...papers
      .flatMap(({ shape, name }) => [
        { shape, name },
        { shape: 1 / shape, name },
      ])
      .filter(({ shape }) => Math.abs(Math.log(shape / turned.shape)) > sameShape),
  ].filter(({ shape }) => Math.abs(Math.log(shape / given)) > sameShape);
  const best = others.reduce((p, q) => (seen.evidence(q.shape) > seen.evidence(p.shape) ? q : p), others[0]!);
  const better = seen.evidence(best.shape) / own;
  if (better > refusedBelow) {
    return failure(
      'photo-wrong-shape',
      `The sheet looks ${toOne(seen.ratio)}, which is ${best.name}, but the size given is ${toOne(given)}. Give the size of the sheet on the picture, and a picture that was not cropped.`,
    );
  }
  const peak = seen.evidence(seen.ratio) / own;
  if (
    peak > refusedBelow &&
    (isHeadOn(frame, corners) || Math.abs(Math.log(seen.ratio / given)) > Math.log(neverCropped))
  ) {
    return failure(
      'photo-wrong-shape',
      `The sheet looks ${toOne(seen.ratio)}, but the size given is ${toOne(given)}. Check both sides of the sheet, and that the picture was not stretched or cropped.`,
    );
  }
  if (peak > refusedBelow || better > doubtedBelow) {
    return `The sheet looks ${toOne(seen.ratio)} rather than ${toOne(given)}. A cropped picture or an unusual lens can be the reason, or the wrong size: check a length you know.`;
  }
  return null;
}

function isHeadOn(frame: Frame, corners: Quad): boolean {
  const half = Math.hypot(frame.width, frame.height) / 2;
  const h = squareToQuad(corners.map(({ x, y }) => ({ x: x / half, y: y / half })) as unknown as Quad);
  return Math.abs(h[6]) + Math.abs(h[7]) < headOn;
}

/** "1.41 to 1" or "1 to 1.41". */
function toOne(ratio: number): string {
  return ratio >= 1 ? `${ratio.toFixed(2)} to 1` : `1 to ${(1 / ratio).toFixed(2)}`;
}

function failure(code: string, sentence: string): Failure {
  return fail(code, sentence) as Failure;
}
