import { readdirSync, readFileSync } from 'node:fs';
import { crc32 } from 'node:zlib';
import { decode, encode } from 'jpeg-js';
import { describe, expect, it } from 'vitest';
import { largestPictureFile, mostDots, type PictureHeader, readPictureHeader } from '../../src/exchange/pictureFile';
import { seeded } from './svgMutate';

const folder = new URL('../fixtures/picture/', import.meta.url);
const fixture = (name: string) => new Uint8Array(readFileSync(new URL(name, folder)));

function read(bytes: Uint8Array): PictureHeader {
  const header = readPictureHeader(bytes);
  if (!header.ok) throw new Error(header.sentence);
  return header.value;
}

function refusal(bytes: Uint8Array): string {
  const header = readPictureHeader(bytes);
  return header.ok ? 'opened' : header.code;
}

/** Numbers with the high byte first. */
function u32(value: number): number[] {
  return [value >>> 24, (value >>> 16) & 255, (value >>> 8) & 255, value & 255];
}

function letters(text: string): number[] {
  return [...text].map((letter) => letter.charCodeAt(0));
}

function pngChunk(name: string, body: readonly number[]): number[] {
  const named = [...letters(name), ...body];
  return [...u32(body.length), ...named, ...u32(crc32(Uint8Array.from(named)))];
}

/** The file with bytes put in at a place. */
function withBytes(bytes: Uint8Array, at: number, added: readonly number[]): Uint8Array {
  return Uint8Array.from([...bytes.subarray(0, at), ...added, ...bytes.subarray(at)]);
}

/** Orientation 6, 240 by 300 dots to the inch, in TIFF form, high byte first. */
const exif = [...fixture('exif-turned-6-240-by-300dpi.jpg').subarray(30, 30 + 0x56 - 8)];

describe('the header of a picture file', () => {
  // Files made and read back by ImageMagick 6.9 (`identify -format '%w %h %x %y %U %[orientation]'`): 40 by 30 dots, the
  // densities and turns below. 72 to the inch is what it says where a file states none.
  const inch = 25.4;
  it.each([
    ['jfif-300dpi.jpg', 'jpeg', 1, { x: 300 / inch, y: 300 / inch }],
    ['jfif-80-by-120-per-cm.jpg', 'jpeg', 1, { x: 8, y: 12 }],
    ['jfif-no-unit.jpg', 'jpeg', 1, null],
    ['jfif-72dpi.jpg', 'jpeg', 1, null],
    ['progressive-600dpi.jpg', 'jpeg', 1, { x: 600 / inch, y: 600 / inch }],
    ['grey-200dpi.jpg', 'jpeg', 1, { x: 200 / inch, y: 200 / inch }],
    ['exif-turned-3-150-per-cm.jpg', 'jpeg', 3, { x: 15, y: 15 }],
    ['exif-turned-6-240-by-300dpi.jpg', 'jpeg', 6, { x: 300 / inch, y: 240 / inch }],
    ['jfif-600dpi-exif-72dpi-turned-8.jpg', 'jpeg', 8, { x: 600 / inch, y: 600 / inch }],
    ['phys-300dpi.png', 'png', 1, { x: 11.811, y: 11.811 }],
    ['two-tone-400-by-200dpi.png', 'png', 1, { x: 15.748, y: 7.874 }],
    ['plain.png', 'png', 1, null],
    ['lossy.webp', 'webp', 1, null],
    ['lossless.webp', 'webp', 1, null],
    ['alpha.webp', 'webp', 1, null],
    ['small.gif', 'gif', 1, null],
    ['300dpi.bmp', 'bmp', 1, { x: 11.811, y: 11.811 }],
    ['old.bmp', 'bmp', 1, null],
  ] as const)('is read as an independent program reads it: %s', (name, kind, turned, density) => {
    const header = read(fixture(name));
    expect(header).toMatchObject({ kind, turned });
    // Turns 5 to 8 lay the picture on its side: the size is that of the picture as shown.
    expect([header.width, header.height]).toEqual(turned >= 5 ? [30, 40] : [40, 30]);
    if (density === null) expect(header.dotsPerMm).toBeNull();
    else {
      expect(header.dotsPerMm!.x).toBeCloseTo(density.x, 9);
      expect(header.dotsPerMm!.y).toBeCloseTo(density.y, 9);
    }
  });

  it('gives the size that jpeg-js finds by decoding', () => {
    const random = seeded(1);
    for (let i = 0; i < 20; i++) {
      const width = 1 + Math.floor(random() * 300);
      const height = 1 + Math.floor(random() * 300);
      const { data } = encode({ width, height, data: new Uint8Array(width * height * 4).fill(90) }, 50);
      const decoded = decode(data, { useTArray: true });
      expect(read(new Uint8Array(data))).toMatchObject({ width: decoded.width, height: decoded.height });
    }
  });

  it('finds turn and density of a PNG and a WebP in the chunk made for them', () => {
    const turned = { turned: 6, width: 30, height: 40, dotsPerMm: { x: 300 / inch, y: 240 / inch } };
    const png = withBytes(fixture('plain.png'), 33, pngChunk('eXIf', exif));
    expect(read(png)).toMatchObject(turned);
    const webp = fixture('lossy.webp');
    const chunk = [...letters('EXIF'), exif.length, 0, 0, 0, ...exif];
    const longer = withBytes(webp, webp.length, chunk);
    longer[4] = longer.length - 8;
    expect(read(longer)).toMatchObject(turned);
  });

  it('believes no density when two in one file differ', () => {
    const png = fixture('phys-300dpi.png');
    expect(read(withBytes(png, 33, pngChunk('pHYs', [...u32(23622), ...u32(23622), 1]))).dotsPerMm).toBeNull();
    expect(read(withBytes(png, 33, pngChunk('pHYs', [...u32(11800), ...u32(11811), 1]))).dotsPerMm).not.toBeNull();
  });

  it('believes no density that only gives the shape of a dot, that is 0, or that no scanner has', () => {
    const plain = fixture('plain.png');
    const stated = (x: number, y: number, unit: number) =>
      read(withBytes(plain, 33, pngChunk('pHYs', [...u32(x), ...u32(y), unit]))).dotsPerMm;
    expect(stated(11811, 11811, 0)).toBeNull();
    expect(stated(0, 11811, 1)).toBeNull();
    expect(stated(2835, 2835, 1)).toBeNull();
    expect(stated(3780, 3780, 1)).toBeNull();
    expect(stated(100, 100, 1)).toBeNull();
    expect(stated(4_000_000_000, 11811, 1)).toBeNull();
    expect(stated(11811, 5906, 1)).toEqual({ x: 11.811, y: 5.906 });
  });

  it('passes over a directory that points at itself, beyond the file, or holds more than it can', () => {
    const jpeg = fixture('exif-turned-6-240-by-300dpi.jpg');
    const changed = (at: number, bytes: readonly number[]) => {
      const copy = jpeg.slice();
      copy.set(bytes, 30 + at);
      return read(copy);
    };
    expect(changed(4, u32(0)).turned).toBe(1);
    expect(changed(4, u32(0xffffffff)).turned).toBe(1);
    expect(changed(8, [0xff, 0xff])).toMatchObject({ turned: 6, dotsPerMm: { x: 300 / inch } });
    // The density's own place beyond the block: no density, the turn stays.
    expect(changed(8 + 2 + 12 + 8, u32(0x7fffffff))).toMatchObject({ turned: 6, dotsPerMm: null });
    expect(changed(8 + 2 + 8, [0, 9]).turned).toBe(1);
  });
});

describe('a picture file that cannot be used', () => {
  it('is refused for its kind', () => {
    for (const name of ['refused.heic', 'refused.avif', 'refused.tif', 'refused.jp2']) {
      expect(refusal(fixture(name))).toBe('picture-kind');
    }
    expect(refusal(Uint8Array.from(letters('%PDF-1.7\n')))).toBe('picture-is-pdf');
    expect(refusal(Uint8Array.from(letters('<?xml version="1.0"?><svg/>')))).toBe('picture-is-drawing');
    expect(refusal(Uint8Array.from(letters('Dear diary')))).toBe('picture-unknown');
    expect(refusal(new Uint8Array(0))).toBe('picture-empty');
  });

  it('is refused when it is cut short anywhere behind its first bytes', () => {
    for (const name of readdirSync(folder).filter((name) => /\.(jpg|png|webp|bmp)$/.test(name))) {
      const bytes = fixture(name);
      for (let length = 12; length < bytes.length; length++) {
        const code = refusal(bytes.subarray(0, length));
        if (!/^picture-(cut-short|damaged|unknown)$/.test(code)) throw new Error(`${name} cut to ${length}: ${code}`);
      }
    }
  });

  it('is refused by its size before anything is unpacked', () => {
    const png = fixture('plain.png');
    const sized = (width: number, height: number) => {
      const copy = png.slice();
      copy.set([...u32(width), ...u32(height)], 16);
      return copy;
    };
    expect(refusal(sized(10_000, 10_000))).toBe('picture-too-many-dots');
    expect(refusal(sized(0xffffffff, 0xffffffff))).toBe('picture-too-many-dots');
    expect(refusal(sized(10_000, mostDots / 10_000 + 1))).toBe('picture-too-many-dots');
    expect(refusal(sized(10_000, mostDots / 10_000))).toBe('opened');
    expect(refusal(sized(0, 30))).toBe('picture-no-size');
    // Nothing of it is read, so it need not be filled.
    expect(refusal({ length: largestPictureFile + 1 } as Uint8Array)).toBe('picture-file-too-large');
  });

  it('is refused when a JPEG has no size, two sizes, or a coding that browsers do not know', () => {
    const jpeg = fixture('jfif-300dpi.jpg');
    const frame = jpeg.findIndex((byte, i) => byte === 0xff && jpeg[i + 1] === 0xc0);
    const changed = (at: number, value: number) => {
      const copy = jpeg.slice();
      copy[frame + at] = value;
      return refusal(copy);
    };
    expect(changed(0, 0xff)).toBe('opened');
    expect(changed(6, 0)).toBe('picture-no-size');
    expect(changed(1, 0xc9)).toBe('picture-unusual-jpeg');
    expect(changed(1, 0xc3)).toBe('picture-unusual-jpeg');
    expect(changed(4, 12)).toBe('picture-unusual-jpeg');
    expect(changed(1, 0xe5)).toBe('picture-damaged');
    const twice = withBytes(jpeg, frame, [...jpeg.subarray(frame, frame + 2 + jpeg[frame + 3]!)]);
    expect(refusal(twice)).toBe('picture-damaged');
  });
});

/** `FUZZ_RUNS` makes it longer, `FUZZ_SEED` different. */
const runs = Number(process.env.FUZZ_RUNS ?? 20_000);
const seed = Number(process.env.FUZZ_SEED ?? 20_260_101);

describe(`${runs} damaged picture files`, () => {
  it('are read or refused with a sentence, never throw and never hang', { timeout: 600_000 }, () => {
    const random = seeded(seed);
    const files = readdirSync(folder).map(fixture);
    const reached = new Map<string, number>();
    let slowest = 0;
    for (let run = 0; run < runs; run++) {
      const bytes = damagedBytes(files, random);
      const before = process.cpuUsage();
      try {
        const header = readPictureHeader(bytes);
        const outcome = header.ok ? 'opened' : header.code;
        reached.set(outcome, (reached.get(outcome) ?? 0) + 1);
        if (header.ok) expectSense(header.value);
        else if (!/^[A-Z].*[.]$/.test(header.sentence)) throw new Error(`no sentence: ${header.sentence}`);
      } catch (error) {
        throw new Error(`run ${run} of seed ${seed}: ${Buffer.from(bytes).toString('base64')}`, { cause: error });
      }
      const { user, system } = process.cpuUsage(before);
      slowest = Math.max(slowest, (user + system) / 1e6);
    }
    expect(slowest).toBeLessThan(2);
    // The damage must reach every stage, or it would prove little.
    for (const stage of [
      'opened',
      'picture-cut-short',
      'picture-damaged',
      'picture-unusual-jpeg',
      'picture-no-size',
      'picture-too-many-dots',
      'picture-kind',
      'picture-unknown',
    ]) {
      expect(reached.get(stage) ?? 0, stage).toBeGreaterThan(runs / 2000);
    }
  });
});

function expectSense({ width, height, turned, dotsPerMm }: PictureHeader): void {
  const whole = Number.isInteger(width) && Number.isInteger(height) && width > 0 && height > 0;
  if (!whole || width * height > mostDots) throw new Error(`a size of ${width} by ${height}`);
  if (![1, 2, 3, 4, 5, 6, 7, 8].includes(turned)) throw new Error(`a turn of ${turned}`);
  if (dotsPerMm === null) return;
  for (const n of [dotsPerMm.x, dotsPerMm.y]) if (!(n > 0.7 && n < 400)) throw new Error(`a density of ${n}`);
}

/** One to six wounds, most of them in the first 150 bytes, where headers are: bytes and numbers changed, stretches cut, doubled, swapped. */
function damagedBytes(files: readonly Uint8Array[], random: () => number): Uint8Array {
  const below = (n: number) => Math.floor(random() * n);
  const pick = <T>(from: readonly T[]): T => from[below(from.length)]!;
  let bytes = pick(files).slice();
  const wounds = 1 + below(6);
  for (let i = 0; i < wounds; i++) {
    const at = below(random() < 0.8 ? Math.min(150, bytes.length) : bytes.length);
    const span = Math.floor(random() ** 3 * 60);
    const before = [...bytes.subarray(0, at)];
    const rest = bytes.subarray(at);
    switch (below(9)) {
      case 0:
        bytes = Uint8Array.from([...before, ...rest.subarray(span)]);
        break;
      case 1:
        bytes = Uint8Array.from([...before, ...rest.subarray(0, span), ...rest]);
        break;
      case 2:
        bytes = random() < 0.3 ? bytes.slice(0, at) : bytes;
        break;
      case 3: {
        const other = pick(files);
        const from = below(other.length);
        bytes = Uint8Array.from([...before, ...other.subarray(from, from + span), ...rest]);
        break;
      }
      case 4:
        bytes.set(
          pick([u32(0), u32(0xffffffff), u32(0x7fffffff), u32(1), [0xff, 0xff], [0, 0]]).slice(0, rest.length),
          at,
        );
        break;
      case 5:
        bytes = Uint8Array.from([
          ...before,
          0xff,
          pick([0xc0, 0xc2, 0xc3, 0xd8, 0xd9, 0xda, 0xe1, 0xff, 0x00]),
          ...rest,
        ]);
        break;
      default:
        bytes[at] = below(256);
    }
  }
  return bytes;
}
