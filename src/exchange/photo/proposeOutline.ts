import { fail, type Outcome } from '../../geometry/outcome';
import type { Point } from '../../geometry/point';
import { type Chain, evenly, smoothed } from './chain';
import { placeEdge } from './edgePlace';
import { cutOff, edgeRegion } from './edgeRegion';
import { placeBesideLines } from './lineBeside';
import { placeLine } from './lineCentre';
import { lineRegion } from './lineRegion';
import { borderOf } from './mask';
import { mmPerDotAt, type OutlineFound, outlineOnTable } from './outlineOnTable';
import type { Picture } from './picture';
import type { PictureView, Quad } from './pictureView';
import { isWithin, outsideMarkers } from './region';
import { reducePicture, type SmallPicture } from './smallPicture';

export type { OutlineFound } from './outlineOnTable';

export interface OutlineAsk {
  /** A place inside the piece, dots; null to look for the largest region that can be one. */
  readonly at: Point | null;
  /** The border of a cut piece, or the middle of a dark line drawn on larger paper. */
  readonly kind: 'edge-of-paper' | 'drawn-line';
  /** Sheets known to lie on the table, dots. */
  readonly leaveOut: readonly Quad[];
}

/** mm. The widest pen line. */
const widestPen = 1.5;

/** Share of the outline along the picture's border from which on the piece is not wholly in the picture. */
const mostAtBorder = 0.02;

/**
 * Dots; mm. Standard deviation of the blur from which on edges are misplaced by more than a mm and corners by several
 * (rendered at 1 mm to the dot: 0.9 dots at a blur of 2.5, 1.5 at 4, 4 at 6). Above `mostBlur` it is beyond all that is
 * tried. Coarse pictures are not blurred ones: below `leastBlur` nothing is refused.
 */
const leastBlur = 1.8;
const mostBlur = 2.7;
const blurOnTable = 1.2;

const smeared = fail(
  'picture-blurred',
  'The picture is out of focus, or the camera moved: its edges are smeared. Let the camera focus on the table, hold it still, and take the picture again.',
);

/** Dots. A picture smaller than this shows no piece. */
const smallestPicture = 40;

/**
 * Proposes the outline of a paper piece on a picture, mm on the table, or says why not. The region is found on a reduced
 * picture; its border is then placed on the whole picture to a fraction of a dot and freed of small errors. The method
 * and its figures are in docs/maths/outline-from-picture.md.
 */
export function proposeOutline(picture: Picture, view: PictureView, ask: OutlineAsk): Outcome<OutlineFound> {
  if (picture.width < smallestPicture || picture.height < smallestPicture) {
    return fail(
      'picture-too-small',
      'The picture has too few dots to show a piece. Take it with a larger size, or scan finer.',
    );
  }
  const small = reducePicture(picture);
  const { width, height, factor } = small;
  if (ask.at && ask.leaveOut.some((quad) => isWithin(ask.at!, quad))) {
    return fail('place-on-sheet', 'That place is on the sheet that gives the scale. Click inside the piece.');
  }
  const labels = outsideMarkers(small, ask.leaveOut);
  let seed: number | null = null;
  if (ask.at) {
    const x = Math.floor(ask.at.x / factor);
    const y = Math.floor(ask.at.y / factor);
    if (!(x >= 0 && y >= 0 && x < width && y < height) || labels[y * width + x] !== 0) {
      return fail('place-outside-picture', 'That place is outside the picture. Click inside the piece.');
    }
    seed = y * width + x;
  }
  const mmPerDot = factor * mmPerDotAt(view, ask.at ?? { x: picture.width / 2, y: picture.height / 2 });
  const lineReach = Math.min(
    6,
    Math.max(1, Math.round(widestPen / 2 / mmPerDot) + (ask.kind === 'drawn-line' ? 1 : 0)),
  );
  const region =
    ask.kind === 'edge-of-paper'
      ? edgeRegion(small, labels, seed, lineReach)
      : lineRegion(small, labels, seed, lineReach, mmPerDot);
  if (!region.ok) return region;
  const border = borderOf(region.value.mask);
  if (shareAtBorder(border, small) > mostAtBorder) return cutOff;
  const rough = roughChain(border, factor);
  const reach = Math.ceil(2.5 * factor + 3);
  const edge = ask.kind === 'edge-of-paper' ? placeEdge(picture, rough, reach) : null;
  if (edge && isSmeared(edge.blur, mmPerDot / factor)) return smeared;
  const placed = edge
    ? placeBesideLines(picture, view, edge, ask.leaveOut)
    : placeLine(picture, rough, reach, Math.max(2, (widestPen * factor) / mmPerDot));
  const paper = ask.kind === 'edge-of-paper' ? picture : null;
  return outlineOnTable(placed, view, ask.leaveOut, region.value.notes, paper);
}

/** Whether the edges are too blurred (dots) to be placed at this size of a dot, mm. */
function isSmeared(blur: number, dot: number): boolean {
  return blur > mostBlur || (blur > leastBlur && blur * dot > blurOnTable);
}

/** Share of a region's border that lies within four dots of the picture's own, or of places without a picture. */
function shareAtBorder(border: Int32Array, { width, height, seen }: SmallPicture): number {
  let near = 0;
  const isSeen = (x: number, y: number) => x >= 0 && y >= 0 && x < width && y < height && seen[y * width + x] === 1;
  for (let k = 0; k < border.length; k += 2) {
    const x = border[k]!;
    const y = border[k + 1]!;
    if (!(isSeen(x - 5, y) && isSeen(x + 4, y) && isSeen(x, y - 5) && isSeen(x, y + 4))) near++;
  }
  return near / (border.length / 2);
}

/** The border's steps rounded off and turned into dots of the whole picture, a place every dot or two. */
function roughChain(border: Int32Array, factor: number): Chain {
  const n = border.length / 2;
  const xs = Float64Array.from({ length: n }, (_, k) => border[2 * k]! * factor);
  const ys = Float64Array.from({ length: n }, (_, k) => border[2 * k + 1]! * factor);
  return evenly(smoothed({ xs, ys }, 2), Math.max(1, factor >> 1));
}

/** mm. The deviation to allow when an outline found is redrawn with few curves: five times its scatter, 0.2 to 0.25. */
export function photoDeviation({ noise }: OutlineFound): number {
  return Math.min(0.25, Math.max(0.2, 5 * noise));
}
