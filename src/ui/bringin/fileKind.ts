/** What a file holds, told by its first bytes; `mislabelled` is one whose name promises what is not in it. */
export type FileKind = 'garment' | 'svg' | 'pdf' | 'dxf' | 'picture' | 'empty' | 'mislabelled' | 'unknown';

/** Bytes of a file that are enough to tell what it is: a PDF may begin anywhere in its first kilobyte. */
export const headBytes = 2048;

/** Tells what a file holds from its first bytes; its name is asked only where they leave it open. */
export function fileKind(head: Uint8Array, fileName: string): FileKind {
  if (head.length === 0) return 'empty';
  // One character a byte, so that bytes and words can be looked for alike.
  const text = Array.from(head.subarray(0, headBytes), (byte) => String.fromCharCode(byte)).join('');
  if (pictureStarts.some((start) => start.test(text))) return 'picture';
  if (text.slice(0, 1024).includes('%PDF-')) return 'pdf';
  if (text.startsWith('AutoCAD Binary DXF\r\n')) return 'dxf';
  const ending = /\.([a-z0-9]+)$/i.exec(fileName)?.[1]?.toLowerCase() ?? '';
  // A byte order mark, and the empty bytes of wider encodings, say nothing about what is written.
  const written = text.replace(/^(\xef\xbb\xbf|\xff\xfe|\xfe\xff)/, '').replaceAll('\0', '');
  if (/^\s*\{/.test(written) || ending === 'json') return 'garment';
  if (/^\s*</.test(written) || ending === 'svg' || ending === 'svgz') return 'svg';
  if (isGroupCodes(written)) return 'dxf';
  return named.has(ending) ? 'mislabelled' : 'unknown';
}

/** JPEG, PNG, GIF, WebP, BMP, TIFF both ways round, and the family that telephones write (HEIF, AVIF). */
const pictureStarts: readonly RegExp[] = [
  /^\xff\xd8\xff/,
  /^\x89PNG\r\n/,
  /^GIF8[79]a/,
  /^RIFF[\s\S]{4}WEBP/,
  /^BM[\s\S]{4}\0\0\0\0/,
  /^(II\*\0|MM\0\*)/,
  /^[\s\S]{4}ftyp(hei[cfsxm]|hev[cx]|mif1|msf1|avi[fs])/,
];

const named = new Set([
  'pdf',
  'dxf',
  'jpg',
  'jpeg',
  'png',
  'webp',
  'heic',
  'heif',
  'avif',
  'gif',
  'bmp',
  'tif',
  'tiff',
]);

/** A text DXF is pairs of lines, a number and what it is about; it opens with a section or a remark (code 999). */
function isGroupCodes(written: string): boolean {
  return /^\s*(0\s*\r?\n\s*(SECTION|EOF)\b|999\s*\r?\n)/.test(written);
}
