import type { Picture } from '../../../exchange/photo/picture';
import { snapToLine } from '../../../exchange/photo/snapToLine';
import type { SeeLine } from '../../../gestures/scene';
import { pixelsOf } from '../../../render/pixels';
import type { BringInStore } from '../../../store/bringIn';
import { scaleOnly } from '../../../workers/scaleOnly';

/** How much of the picture about the pointer is looked at: times the reach, and dots at most to each side. */
const around = 4;
const mostDots = 160;

/**
 * Finds the drawn line or paper edge next to the pen on the straightened picture. Only the few dots about it are read,
 * so that it can be done while the pointer moves.
 */
export function createSeeLine(bringIn: BringInStore): SeeLine {
  const canvas = document.createElement('canvas');
  const context = canvas.getContext('2d', { willReadFrequently: true });
  return (at, reach) => {
    const { picture: open, underlay } = bringIn.getState();
    const flat = (open ?? underlay)?.flat ?? null;
    const image = flat === null ? null : (pixelsOf(flat.id)?.full ?? null);
    if (flat === null || image === null || context === null) return null;
    const x = (at.x - flat.origin.x) * flat.dotsPerMm;
    const y = (at.y - flat.origin.y) * flat.dotsPerMm;
    const half = Math.min(mostDots, Math.ceil(reach * around * flat.dotsPerMm));
    const part = partAround(x, y, half, image);
    if (part === null) return null;
    const { left, top, width, height } = part;
    if (canvas.width !== width) canvas.width = width;
    if (canvas.height !== height) canvas.height = height;
    context.drawImage(image, left, top, width, height, 0, 0, width, height);
    const picture: Picture = { width, height, data: context.getImageData(0, 0, width, height).data };
    const corner = { x: flat.origin.x + left / flat.dotsPerMm, y: flat.origin.y + top / flat.dotsPerMm };
    const seen = snapToLine(picture, scaleOnly(picture, corner, flat.dotsPerMm), at, reach);
    return seen === null ? null : { at: seen.at, word: seen.kind === 'line' ? 'on the drawn line' : 'on the edge' };
  };
}

interface Part {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** The dots of an image within `half` of a place on it; fewer next to its border, null beyond it. */
export function partAround(
  x: number,
  y: number,
  half: number,
  image: { readonly width: number; readonly height: number },
): Part | null {
  if (!(x >= 0 && y >= 0 && x < image.width && y < image.height)) return null;
  const left = Math.max(0, Math.floor(x) - half);
  const top = Math.max(0, Math.floor(y) - half);
  const right = Math.min(image.width, Math.floor(x) + half + 1);
  const bottom = Math.min(image.height, Math.floor(y) + half + 1);
  return { left, top, width: right - left, height: bottom - top };
}
