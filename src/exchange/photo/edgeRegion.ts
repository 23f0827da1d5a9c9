import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { type Barrier, silenceUnseen, steepness, steepnessAway } from './barrier';
import { median, quantile } from './chain';
import { findSeed } from './findSeed';
import { floodBelow, floodFromMarkers, inside, outside } from './flood';
import { borderOf, dotsOf, type Mask, partWith, withoutHoles, withoutThinParts } from './mask';
import { awayFrom, type Box, fitPieceColour } from './pieceColour';
import { barriersAlong, markSeed, maskOf, type Region } from './region';
import { extreme } from './slidingExtreme';
import { halved, type SmallPicture } from './smallPicture';

/** Share of the picture below which a region is a speck. */
export const smallestShare = 0.002;

/** Ratio. What is farther from the piece's colour than this times what is usual beside it is table, however far. */
const capShare = 0.65;

export const cutOff = fail(
  'piece-cut-off',
  'The piece runs into the border of the picture. Take a picture that shows all of it with some table around.',
);

/** No step parts the region from the border: it is cut off there, or it has the colour of the table. Which, cannot be told. */
const runsOn = fail(
  'piece-cut-off',
  'Nothing parts the piece from the border of the picture: it is not all on the picture, or it looks too much like the table. Show all of it with some table around, on a cloth that is clearly darker or lighter than the piece.',
);

export const tooSmall = fail(
  'region-too-small',
  'What was found at this place is too small to be a piece. Click in an empty part of the piece, away from marks.',
);

/**
 * The region of a cut paper piece around `seed` (a dot of the reduced picture; null: the largest region that is neither
 * joined to the border nor left out). `labels` holds what is outside for certain.
 *
 * First, at half the size, it ends where colour changes most steeply on the way to the border. From that the piece's own
 * colour is learnt; then, at full reduced size, it ends where the colour most steeply leaves the piece's.
 */
export function edgeRegion(
  small: SmallPicture,
  labels: Uint8Array,
  seed: number | null,
  lineReach: number,
): Outcome<Region> {
  const half = halved(small);
  const first = firstRegion(half, halvedLabels(labels, small, half), seed === null ? null : halfOf(seed, small, half));
  if (!first.ok) return first;
  const { mask: firstMask, at } = first.value;
  const box = boxAround(firstMask, small.width, small.height);
  const inBox = (i: number) => {
    const x = 2 * (i % half.width) - box.left;
    const y = 2 * Math.floor(i / half.width) - box.top;
    return y * (box.right - box.left) + x;
  };
  const away = awayFrom(fitPieceColour(small, firstMask), small, box);
  const beside = besideMask(firstMask, (i) => away.data[inBox(i)] ?? Number.POSITIVE_INFINITY);
  const barrier = steepnessAway(away, Math.max(4, capShare * beside), lineReach);
  silenceUnseen(barrier, cutOut(small.seen, small.width, box), 4);
  const { width, height } = barrier;
  const flooded = cutOut(labels, small.width, box);
  closeBorder(flooded, width, height);
  const start =
    seed === null ? inBox(at) : (Math.floor(seed / small.width) - box.top) * width + (seed % small.width) - box.left;
  markSeed(flooded, width, start, 3);
  floodFromMarkers(barrier, flooded);
  const mask = withoutHoles(partWith(withoutThinParts(maskOf(flooded, width, height), 2), start));
  if (dotsOf(mask) < smallestShare * small.width * small.height) return tooSmall;
  return succeed({ mask: putBack(mask, box, small.width, small.height), notes: [] });
}

function firstRegion(half: SmallPicture, labels: Uint8Array, seed: number | null): Outcome<{ mask: Mask; at: number }> {
  const { width, height } = half;
  const barrier = steepness(half);
  silenceUnseen(barrier, half.seen, 2);
  const fewest = smallestShare * width * height;
  const at = seed ?? findSeed(barrier, labels, fewest)?.at;
  if (at === undefined) {
    return fail(
      'piece-not-found',
      'No piece stands out from the table in this picture. Click inside the piece, or lay it on a table of another colour.',
    );
  }
  const flooded = Uint8Array.from(labels);
  markSeed(flooded, width, at, 2);
  floodFromMarkers(barrier, flooded);
  const mask = withoutHoles(partWith(maskOf(flooded, width, height), at));
  if (dotsOf(mask) < fewest) return tooSmall;
  const usual = quantile(barriersAlong(barrier, borderOf(mask), 2), 0.75);
  if (runsOut(half, barrier, labels, at, usual / 4)) return runsOn;
  return succeed({ mask, at });
}

function halfOf(at: number, small: SmallPicture, half: SmallPicture): number {
  const x = Math.min(half.width - 1, (at % small.width) >> 1);
  const y = Math.min(half.height - 1, Math.floor(at / small.width) >> 1);
  return y * half.width + x;
}

function halvedLabels(labels: Uint8Array, small: SmallPicture, half: SmallPicture): Uint8Array {
  const { width, height } = half;
  const out = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const onBorder = x === 0 || y === 0 || x === width - 1 || y === height - 1;
      out[y * width + x] = onBorder ? outside : labels[2 * y * small.width + 2 * x]!;
    }
  }
  return out;
}

/** The box around a mask of half size, with a tenth of its size and ten dots to spare, in dots of the reduced picture. */
function boxAround(mask: Mask, width: number, height: number): Box {
  let left = mask.width;
  let right = 0;
  let top = mask.height;
  let bottom = 0;
  for (let y = 0, i = 0; y < mask.height; y++) {
    for (let x = 0; x < mask.width; x++, i++) {
      if (mask.data[i] === 0) continue;
      if (x < left) left = x;
      if (x > right) right = x;
      if (y < top) top = y;
      if (y > bottom) bottom = y;
    }
  }
  const spareX = Math.ceil((right - left) / 10) + 10;
  const spareY = Math.ceil((bottom - top) / 10) + 10;
  return {
    left: Math.max(0, 2 * (left - spareX)),
    top: Math.max(0, 2 * (top - spareY)),
    right: Math.min(width, 2 * (right + spareX)),
    bottom: Math.min(height, 2 * (bottom + spareY)),
  };
}

/** The middle value beside a mask, within 6 dots of it. */
function besideMask(mask: Mask, valueAt: (i: number) => number): number {
  const { width, height } = mask;
  const wider = extreme({ width, height, data: new Float32Array(mask.data) }, 6, 1);
  const values: number[] = [];
  wider.data.forEach((d, i) => {
    if (d === 1 && mask.data[i] === 0) values.push(valueAt(i));
  });
  return median(values);
}

/** The part of a plane (rows `across` long) in the box. */
function cutOut(data: Uint8Array, across: number, { left, top, right, bottom }: Box): Uint8Array {
  const width = right - left;
  const out = new Uint8Array(width * (bottom - top));
  for (let y = top; y < bottom; y++) out.set(data.subarray(y * across + left, y * across + right), (y - top) * width);
  return out;
}

function putBack(part: Mask, box: Box, width: number, height: number): Mask {
  const data = new Uint8Array(width * height);
  for (let y = 0; y < part.height; y++) {
    data.set(part.data.subarray(y * part.width, (y + 1) * part.width), (box.top + y) * width + box.left);
  }
  return { width, height, data };
}

function closeBorder(labels: Uint8Array, width: number, height: number): void {
  labels.fill(outside, 0, width);
  labels.fill(outside, (height - 1) * width);
  for (let y = 0; y < height; y++) {
    labels[y * width] = outside;
    labels[(y + 1) * width - 1] = outside;
  }
}

/** Whether dots of the piece's own colour are joined to the border of the picture without a step between. */
function runsOut(small: SmallPicture, barrier: Barrier, labels: Uint8Array, seed: number, top: number): boolean {
  const { width, height, channels } = small;
  const reached = labels.map((label) => (label === outside ? outside : 0));
  floodBelow(barrier, reached, [seed], inside, Math.max(2, top));
  let touching = 0;
  for (let i = 0; i < reached.length; i++) {
    if (reached[i] !== inside) continue;
    const x = i % width;
    const beside = x === 1 || x === width - 2 || i < 2 * width || i >= (height - 2) * width;
    if (!beside && small.seen[i - 1] === 1 && small.seen[i + 1] === 1) continue;
    const away = Math.hypot(...channels.map((channel) => channel[i]! - channel[seed]!));
    if (away < 40) touching++;
  }
  return touching > 0.01 * (width + height);
}
