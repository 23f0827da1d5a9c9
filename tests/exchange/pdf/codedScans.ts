import { pdfFile, pt, type TestObject } from './pdfText';

// One picture of 40 by 24 dots in the codings that scanners write, each made by a program of its own: libtiff 4.5
// (tiffcp -c g4, -c g3) and OpenJPEG 2.5 (opj_compress). The test computes what must come back dot by dot.
export const [width, height] = [40, 24] as const;
// libtiff wrote the ink as white runs.
export const group4 = atob('kdEcNTZcNLDI4Ney4NOGRwaNlwYI4TDI4ID7LhHwyOK+y5eGRz9l98Mj678P2u1wwXDI4my48Mjlsu4jABAB');
export const group3 = atob(
  'ABKQAR0OGoOACPuGkOACOxwaxwARzcGkcAEcY4NA4AI4rgwOEHABHCDgnjHABHCuEoQ4AI4IOKgxwARwdyQY4AI4LjmgxwARwYfDY4AI4Zx9BjgAjhoDMcAEcG6DHABHBRQhwARwL+McAEcMpwg4AI4Zg4g4AI4ZrjHABHBpHIcAEcGp2OACUg==',
);
export const jpeg2000 = atob(
  'AAAADGpQICANCocKAAAAFGZ0eXBqcDIgAAAAAGpwMiAAAAAtanAyaAAAABZpaGRyAAAAGAAAACgAAQcHAAAAAAAPY29scgEAAAAAABEAAAEAanAyY/9P/1EAKQAAAAAAKAAAABgAAAAAAAAAAAAAACgAAAAYAAAAAAAAAAAAAQcBAf9SAAwAAAABAAIEBAAB/1wACkBASEhQSEhQ/2QAJQABQ3JlYXRlZCBieSBPcGVuSlBFRyB2ZXJzaW9uIDIuNS4w/5AACgAAAAAAiAAB/5PfgZgSK2ZzwespdRLzLNvPVjiHZtAqZn4FGBnHYucOu5JlI0y8z9IB7LjgndNTfKzgtWAOsZ/D6giD5w0/MFCJqngixgXq74mgaizFz4msK3K3x9odD6gyfmCgqFTz7hVZ5bXq0MoBAsWpkoOHlDbCjZkPWD+phPHRXf/Z',
);

export const four = (n: number) => String.fromCharCode(n >>> 24, (n >>> 16) & 255, (n >>> 8) & 255, n & 255);

/** A part of a JBIG2 stream (ITU-T T.88, 7.2): number, kind, no part referred to, page 1, length, data. */
const part = (number: number, kind: number, data: string) =>
  `${four(number)}${String.fromCharCode(kind, 0, 1)}${four(data.length)}${data}`;

/** The page (7.4.8) and one generic region (7.4.6) coded as group 4 codes it (MMR). */
export const jbig2 =
  part(0, 48, `${four(width)}${four(height)}${four(0)}${four(0)}\0\0\0`) +
  part(1, 38, `${four(width)}${four(height)}${four(0)}${four(0)}\0\u0001${group4}`);

interface Coded {
  readonly filter: string;
  readonly stream: string;
  /** What else describes the picture; one bit to a dot unless said otherwise. */
  readonly more?: string;
}

/** Pages of 80 by 48 mm, each of them this picture. */
export function scans(...pages: readonly Coded[]): Uint8Array {
  const images = pages.map(
    ({ filter, stream, more = '/ColorSpace /DeviceGray /BitsPerComponent 1' }, i): TestObject => ({
      number: 100 + i,
      dictionary: `/Type /XObject /Subtype /Image /Width ${width} /Height ${height} ${more} ${filter}`,
      stream,
    }),
  );
  const content = `q ${80 * pt} 0 0 ${48 * pt} 0 0 cm /I Do Q`;
  const mediaBox = [0, 0, 80 * pt, 48 * pt] as const;
  return pdfFile(
    images.map(({ number }) => ({ content, mediaBox, resources: `/XObject << /I ${number} 0 R >>` })),
    images,
  );
}

export function scan(filter: string, stream: string, more?: string): Uint8Array {
  return scans({ filter, stream, ...(more === undefined ? {} : { more }) });
}
