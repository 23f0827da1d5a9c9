/** A grey picture: 0 black to 255 white, row by row. */
export interface GreyImage {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

/** Reads a binary portable greymap (P5, 8 bits), the plain format poppler writes. Netpbm's own description: pgm(5). */
export function readPgm(bytes: Uint8Array): GreyImage {
  let at = 0;
  const field = (): string => {
    for (;;) {
      while (isSpace(bytes[at]!)) at += 1;
      if (bytes[at] !== 0x23) break;
      while (bytes[at] !== 0x0a) at += 1;
    }
    let text = '';
    while (!isSpace(bytes[at]!)) text += String.fromCharCode(bytes[at++]!);
    return text;
  };
  const magic = field();
  if (magic !== 'P5') throw new Error(`Not a binary greymap: ${magic}`);
  const width = Number(field());
  const height = Number(field());
  const max = Number(field());
  if (max !== 255) throw new Error(`Expected 8 bits a pixel, not a maximum of ${max}`);
  at += 1;
  const pixels = bytes.subarray(at, at + width * height);
  if (pixels.length !== width * height) throw new Error('The greymap ends early');
  return { width, height, pixels };
}

function isSpace(byte: number): boolean {
  return byte === 0x20 || (byte >= 0x09 && byte <= 0x0d);
}

/** Middles of the dark stretches along one row or column, in pixels from its start, the edges of a pixel counting as 0 and 1. */
export function darkMiddles(image: GreyImage, line: { row: number } | { column: number }, threshold = 160): number[] {
  const along = 'row' in line ? image.width : image.height;
  const value = (i: number) =>
    'row' in line ? image.pixels[line.row * image.width + i]! : image.pixels[i * image.width + line.column]!;
  const middles: number[] = [];
  let weight = 0;
  let moment = 0;
  for (let i = 0; i <= along; i++) {
    const ink = i < along && value(i) < threshold ? 255 - value(i) : 0;
    if (ink > 0) {
      weight += ink;
      moment += ink * (i + 0.5);
    } else if (weight > 0) {
      middles.push(moment / weight);
      weight = 0;
      moment = 0;
    }
  }
  return middles;
}
