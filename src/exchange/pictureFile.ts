import { type Failure, fail, type Outcome, succeed } from '../geometry/outcome';
import type { Density, HeaderFault, HeaderFound, Turned } from './pictureHeader/found';
import { readBmp, readGif } from './pictureHeader/gifAndBmp';
import { readJpeg } from './pictureHeader/jpeg';
import { readPng } from './pictureHeader/png';
import { readWebp } from './pictureHeader/webp';

/** Dots. A picture is unpacked to four bytes a dot and worked on beside a copy; more would not fit on many devices. */
export const mostDots = 60_000_000;

/** Bytes. Beyond any photograph or scan of up to `mostDots`. */
export const largestPictureFile = 300_000_000;

/** What a picture file says of itself, read before anything is unpacked. */
export interface PictureHeader {
  readonly kind: HeaderFound['kind'];
  /** Dots, as the picture is shown: turned upright. */
  readonly width: number;
  readonly height: number;
  /** How it lies in the file (EXIF orientation). */
  readonly turned: Turned;
  /**
   * Dots to the mm, as the picture is shown; null when the file states none, states 72 or 96 to the inch (what programs
   * write when they do not know), states something impossible, or states two that differ. A camera's density means
   * nothing: it is only ever offered for a scan, never believed.
   */
  readonly dotsPerMm: Density | null;
}

/**
 * Kind, size, turn and stated density of a picture file. Files that are too large, empty, cut short, damaged, or of a kind
 * that not every browser opens are refused.
 */
export function readPictureHeader(bytes: Uint8Array): Outcome<PictureHeader> {
  if (bytes.length === 0) return fail('picture-empty', 'This file is empty. Save the picture again and bring that in.');
  if (bytes.length > largestPictureFile) {
    return fail(
      'picture-file-too-large',
      'This file is larger than 300 MB. Save the picture as JPEG, or scan it at 300 dots to the inch.',
    );
  }
  const found = read(bytes);
  if (typeof found === 'string') return faults[found];
  if ('ok' in found) return found;
  const { kind, turned } = found;
  const onSide = turned >= 5;
  const width = onSide ? found.height : found.width;
  const height = onSide ? found.width : found.height;
  if (!(width > 0 && height > 0))
    return fail('picture-no-size', 'This picture has no width or no height: the file is damaged. Save it again.');
  if (width * height > mostDots) {
    const megapixels = Math.round((width * height) / 1e6);
    return fail(
      'picture-too-many-dots',
      `This picture has ${megapixels} megapixels; up to 60 can be opened. Save it smaller, or scan it at fewer dots to the inch.`,
    );
  }
  const density = agreed(found.densities);
  const dotsPerMm = density !== null && onSide ? { x: density.y, y: density.x } : density;
  return succeed({ kind, width, height, turned, dotsPerMm });
}

const faults: Readonly<Record<HeaderFault, Failure>> = {
  'cut-short': fail(
    'picture-cut-short',
    'This picture file is cut short, so part of the picture is missing. Copy or download it again.',
  ),
  damaged: fail('picture-damaged', 'This picture file is damaged. Save the picture again as JPEG or PNG.'),
  'unusual-jpeg': fail(
    'picture-unusual-jpeg',
    'This is a kind of JPEG that browsers cannot open. Save the picture as a usual JPEG or as PNG.',
  ),
};

function read(bytes: Uint8Array): HeaderFound | HeaderFault | Failure {
  const start = String.fromCharCode(...bytes.subarray(0, 64));
  if (start.startsWith('\xff\xd8\xff')) return readJpeg(bytes);
  if (start.startsWith('\x89PNG\r\n\x1a\n')) return readPng(bytes);
  if (start.startsWith('RIFF') && start.slice(8, 12) === 'WEBP') return readWebp(bytes);
  if (/^GIF8[79]a/.test(start)) return readGif(bytes);
  if (start.startsWith('BM')) return readBmp(bytes);
  return refusedKind(start);
}

/** Kinds that are told by their first bytes (each from memory of its own description). */
function refusedKind(start: string): Failure {
  const brand = start.slice(4, 8) === 'ftyp' ? start.slice(8, 32) : '';
  if (/avif|avis/.test(brand)) return notOpened('AVIF');
  if (/hei[cfmsx]|hev[cx]|mif1|msf1/.test(brand)) {
    return fail(
      'picture-kind',
      'HEIC pictures cannot be opened by every browser. Save it as JPEG, or set the telephone to take pictures as JPEG.',
    );
  }
  const starts = (...beginnings: readonly string[]) => beginnings.some((beginning) => start.startsWith(beginning));
  if (starts('II*\0', 'MM\0*', 'II+\0', 'MM\0+')) return notOpened('TIFF and camera raw');
  if (starts('\xff\x0a', '\0\0\0\x0cJXL ')) return notOpened('JPEG XL');
  if (starts('\0\0\0\x0cjP', '\xff\x4f\xff\x51')) return notOpened('JPEG 2000');
  if (starts('%PDF')) {
    return fail('picture-is-pdf', 'This file is a PDF, not a picture. Bring it in as a PDF.');
  }
  if (/^(\xef\xbb\xbf)?\s*<(\?xml|svg|!)/i.test(start)) {
    return fail(
      'picture-is-drawing',
      'This file is a drawing in text, not a picture. If it is an SVG, bring it in as a drawing.',
    );
  }
  return fail(
    'picture-unknown',
    'This file is not a picture that can be opened. Bring in a JPEG, PNG or WebP picture.',
  );
}

function notOpened(kind: string): Failure {
  return fail('picture-kind', `${kind} pictures cannot be opened here. Save it as JPEG or PNG and bring that in.`);
}

/** The one density that the statements agree on to 1 %, those that say nothing left out. */
function agreed(densities: readonly Density[]): Density | null {
  const telling = densities.filter(({ x, y }) => isTelling(x) && isTelling(y));
  const first = telling[0];
  if (first === undefined) return null;
  const near = (a: number, b: number) => Math.abs(a / b - 1) < 0.01;
  return telling.every(({ x, y }) => near(x, first.x) && near(y, first.y)) ? first : null;
}

/** Not what programs write when they do not know, and within what scanners do (20 to 10,000 dots to the inch). */
function isTelling(dotsPerMm: number): boolean {
  const inch = dotsPerMm * 25.4;
  if (!(inch >= 20 && inch <= 10_000)) return false;
  // PNG states whole dots to the metre: 72 to the inch becomes 2835, which is 72.009.
  return ![72, 96].some((usual) => Math.abs(inch - usual) < 0.05);
}
