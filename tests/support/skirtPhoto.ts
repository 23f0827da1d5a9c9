import jpeg from 'jpeg-js';
import type { Picture } from '../../src/exchange/photo/picture';
import { pathBounds } from '../../src/geometry/bounds';
import { framed } from './photo/pinhole';
import { type Photo, renderPhoto } from './photo/renderPhoto';
import { sampleOutline } from './photo/samplePieces';
import { plainLight } from './photo/scene';
import { sheetCorners } from './photo/shapes';

const path = sampleOutline('straight-skirt', 'front');
const box = pathBounds(path);

/** The A4 sheet beside the skirt. */
export const skirtSheet = { width: 210, height: 297, at: { x: box.maxX + 60, y: box.minY + 120 }, angle: 0.05 };

/** A kraft skirt front beside an A4 sheet on a plain table, photographed from a little aslant; the truth beside it. */
export function skirtPhoto(width: number, height: number): Photo {
  const { minX, maxX, minY, maxY } = box;
  const sheet = skirtSheet;
  const room = [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
    ...sheetCorners(sheet),
  ];
  const camera = framed({ width, height, focal: 0.75 * width, tilt: 0.2, tiltTowards: 1.9, roll: 0.04, lens: 0 }, room);
  return renderPhoto({ table: 'plain', sheet, piece: { path, look: { kind: 'kraft' } }, clutter: [] }, camera, {
    light: { ...plainLight, slope: 0.1 },
    optics: { blur: 0.7, noise: 0.005, sharpen: 0, tone: 0, jpeg: null },
    seed: 11,
  });
}

/** The upper or the lower part of the same skirt, each beside a sheet of its own, from other places. */
export function skirtHalf(half: 'upper' | 'lower', width: number, height: number): Photo {
  const isUpper = half === 'upper';
  const sheet = { ...skirtSheet, at: { x: box.maxX + 50, y: isUpper ? 60 : 300 }, angle: isUpper ? 0.04 : -0.2 };
  const [top, bottom] = isUpper ? [box.minY - 20, 420] : [260, box.maxY + 20];
  const room = [
    { x: box.minX - 20, y: top },
    { x: box.maxX, y: top },
    { x: box.maxX, y: bottom },
    { x: box.minX - 20, y: bottom },
    ...sheetCorners(sheet),
  ];
  const camera = framed(
    {
      width,
      height,
      focal: 0.75 * width,
      tilt: 0.12,
      tiltTowards: isUpper ? 1 : 4,
      roll: isUpper ? 0.02 : 0.2,
      lens: 0,
    },
    room,
  );
  return renderPhoto({ table: 'plain', sheet, piece: { path, look: { kind: 'kraft' } }, clutter: [] }, camera, {
    light: plainLight,
    optics: { blur: 0.7, noise: 0.005, sharpen: 0, tone: 0, jpeg: null },
    seed: isUpper ? 12 : 13,
  });
}

export function jpegOf({ width, height, data }: Picture, quality = 92): Uint8Array<ArrayBuffer> {
  return new Uint8Array(jpeg.encode({ width, height, data: Buffer.from(data.buffer) }, quality).data);
}
