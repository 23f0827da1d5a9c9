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
    const half = Math.min(mostDots, Math.ceil(reach * around * flat.dotsPerMm));
    const left = Math.floor((at.x - flat.origin.x) * flat.dotsPerMm) - half;
    const top = Math.floor((at.y - flat.origin.y) * flat.dotsPerMm) - half;
    const size = 2 * half + 1;
    if (left < 0 || top < 0 || left + size > image.width || top + size > image.height) return null;
    if (canvas.width !== size) {
      canvas.width = size;
      canvas.height = size;
    }
    context.drawImage(image, left, top, size, size, 0, 0, size, size);
    const picture: Picture = { width: size, height: size, data: context.getImageData(0, 0, size, size).data };
    const corner = { x: flat.origin.x + left / flat.dotsPerMm, y: flat.origin.y + top / flat.dotsPerMm };
    const seen = snapToLine(picture, scaleOnly(picture, corner, flat.dotsPerMm), at, reach);
    return seen === null ? null : { at: seen.at, word: seen.kind === 'line' ? 'on the drawn line' : 'on the edge' };
  };
}
