import { constants, deflateSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { forgetMeshes, isHungry } from '../../../src/exchange/pdf/hungryParts';
import { inflate } from '../../../src/exchange/pdf/inflate';
import { unpackAscii85, unpackHex } from '../../../src/exchange/pdf/letterPackings';
import { unpackLzw, unpackRuns } from '../../../src/exchange/pdf/otherPackings';
import { unpacksTooLarge } from '../../../src/exchange/pdf/packedParts';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { UnpackedBytes } from '../../../src/exchange/pdf/unpackedBytes';
import { bytesOf, pdfFile, textOfBytes } from './pdfText';

const enough = 1e6;
const line = '10 10 m 100 10 l S';

function unpacked(by: (into: UnpackedBytes) => void): number[] {
  const [kept, counted] = [new UnpackedBytes(enough, true), new UnpackedBytes(enough, false)];
  by(kept);
  by(counted);
  expect(counted.size).toBe(kept.size);
  expect(counted.data.length).toBe(0);
  return [...kept.data.subarray(0, kept.size)];
}

/** A page whose drawing is packed: `packed` are its bytes, one to a letter. */
function packedPage(packed: string, filter: string, before = ''): Uint8Array {
  return pdfFile(
    [{ content: line, resources: '/XObject << /A 100 0 R >>' }],
    [{ number: 100, dictionary: `/Type /XObject ${before} /Filter ${filter}`, stream: packed }],
  );
}

/** A file locked as its dictionary says, with passwords that are none. */
function lockedBy(key: string, before = '', after = ''): Uint8Array {
  const none = `<${'00'.repeat(32)}>`;
  const dictionary = `<< ${before} /Filter /Standard ${after} /V 2 /R 3 /P -4 ${key} /O ${none} /U ${none} >>`;
  return pdfFile([{ content: line }], [{ number: 100, dictionary }], '', '/Encrypt 100 0 R /ID [<00> <00>]');
}

/** Codes written as LZW does, 9 to 12 bits, one step early, with a clearing code first and an end. */
function lzw(text: Uint8Array): string {
  const bits: string[] = [];
  let known = new Map<string, number>();
  let width = 9;
  const put = (code: number) => bits.push(code.toString(2).padStart(width, '0'));
  put(256);
  let held = '';
  const codeOf = (word: string) => (word.length === 1 ? word.charCodeAt(0) : known.get(word)!);
  for (const byte of text) {
    const next = held + String.fromCharCode(byte);
    if (next.length === 1 || known.has(next)) {
      held = next;
      continue;
    }
    put(codeOf(held));
    known.set(next, 258 + known.size);
    const reached = 258 + known.size;
    width = reached >= 2048 ? 12 : reached >= 1024 ? 11 : reached >= 512 ? 10 : 9;
    if (reached >= 4094) {
      put(256);
      known = new Map();
      width = 9;
    }
    held = String.fromCharCode(byte);
  }
  put(codeOf(held));
  const reached = 258 + known.size + 1;
  width = reached >= 2048 ? 12 : reached >= 1024 ? 11 : reached >= 512 ? 10 : 9;
  put(257);
  const all = bits.join('');
  const padded = all.padEnd(8 * Math.ceil(all.length / 8), '0');
  return (padded.match(/.{8}/g) ?? []).map((byte) => String.fromCharCode(Number.parseInt(byte, 2))).join('');
}

/** Spaces as LZW, each stretch one longer than the one before: 7 MB to every round of codes. */
function lzwSpaces(rounds: number): string {
  const bits: string[] = [];
  for (let round = 0; round < rounds; round++) {
    bits.push((256).toString(2).padStart(round === 0 ? 9 : 12, '0'), (32).toString(2).padStart(9, '0'));
    for (let code = 258; code < 4094; code++) {
      const width = code >= 2047 ? 12 : code >= 1023 ? 11 : code >= 511 ? 10 : 9;
      bits.push(code.toString(2).padStart(width, '0'));
    }
  }
  return (bits.join('').match(/.{8}/g) ?? []).map((byte) => String.fromCharCode(Number.parseInt(byte, 2))).join('');
}

const hex = (text: string) => Buffer.from(bytesOf(text)).toString('hex');

/** ASCII85 as ISO 32000-1, 7.4.3 has it, without its short form for zeros. */
function ascii85(plain: Uint8Array): string {
  let letters = '';
  for (let i = 0; i < plain.length; i += 4) {
    const count = Math.min(4, plain.length - i);
    let value = 0;
    for (let k = 0; k < 4; k++) value = value * 256 + (plain[i + k] ?? 0);
    const five = [4, 3, 2, 1, 0].map((power) => String.fromCharCode(33 + (Math.floor(value / 85 ** power) % 85)));
    letters += five.slice(0, count + 1).join('');
  }
  return `${letters}~>`;
}

describe('packed parts are unpacked', () => {
  const words = fc.oneof(
    fc.uint8Array({ maxLength: 3000 }),
    fc.array(fc.constantFrom(32, 48, 49, 109, 108, 10), { maxLength: 5000 }).map((list) => Uint8Array.from(list)),
    fc.nat({ max: 60_000 }).map((length) => new Uint8Array(length).fill(32)),
  );

  it('as zlib packs them, at any level and with any code (zlib, independent)', () => {
    const { Z_FIXED, Z_HUFFMAN_ONLY, Z_RLE, Z_DEFAULT_STRATEGY } = constants;
    fc.assert(
      fc.property(
        words,
        fc.integer({ min: 0, max: 9 }),
        fc.constantFrom(Z_FIXED, Z_HUFFMAN_ONLY, Z_RLE, Z_DEFAULT_STRATEGY),
        (plain, level, strategy) => {
          const packed = new Uint8Array(deflateSync(plain, { level, strategy }));
          expect(unpacked((into) => inflate(packed, 0, into))).toEqual([...plain]);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('damaged ones up to the damage, without an exception', () => {
    fc.assert(
      fc.property(words, fc.nat(), fc.nat({ max: 255 }), (plain, place, byte) => {
        const packed = new Uint8Array(deflateSync(plain));
        packed[place % packed.length] = byte;
        for (const part of [packed, packed.subarray(0, place % packed.length)]) {
          unpacked((into) => inflate(part, 0, into));
          unpacked((into) => unpackLzw(part, 0, into, true));
          unpacked((into) => unpackRuns(part, 0, into));
        }
      }),
      { numRuns: 150 },
    );
  });

  it('LZW and run lengths as the examples of ISO 32000-1 (7.4.4.2, 7.4.5; status: from memory)', () => {
    const example = Uint8Array.from([0x80, 0x0b, 0x60, 0x50, 0x22, 0x0c, 0x0c, 0x85, 0x01]);
    expect(unpacked((into) => unpackLzw(example, 0, into, true))).toEqual([45, 45, 45, 45, 45, 65, 45, 45, 45, 66]);
    const runs = Uint8Array.from([2, 7, 8, 9, 254, 5, 128, 1, 1]);
    expect(unpacked((into) => unpackRuns(runs, 0, into))).toEqual([7, 8, 9, 5, 5, 5]);
  });

  it('letters: hex as Node writes it, ASCII85 as Python 3.11 writes it (base64.a85encode), both as the library reads them', async () => {
    fc.assert(
      fc.property(words, fc.constantFrom('', '>', ' >x'), (plain, end) => {
        const letters = Buffer.from(plain).toString('hex');
        expect(unpacked((into) => unpackHex(bytesOf(letters + end), 0, into))).toEqual([...plain]);
      }),
      { numRuns: 50 },
    );
    expect(unpacked((into) => unpackHex(bytesOf('4 1\n7>'), 0, into))).toEqual([0x41, 0x70]);
    const letters = '9jqo^BlbD-BleB1DJ+*+F(f,q!!"PmDJsV>Df0B:zz+C]Trz+T~>';
    const plain = 'Man is distinguished\0\0, not only\0\0\0\0\0\0\0\0 by\0\0\0\0\0!';
    expect(textOfBytes(Uint8Array.from(unpacked((into) => unpackAscii85(bytesOf(letters), 0, into))))).toBe(plain);
    const drawn = await readPdf(pdfFile([{ content: ascii85(bytesOf(line)), filter: '/A85' }]));
    expect(drawn.ok && drawn.value.pages[0]!.shapes.length).toBe(1);
    expect(unpacked((into) => unpackAscii85(bytesOf(ascii85(bytesOf(line))), 0, into))).toEqual([...bytesOf(line)]);
  });

  it('LZW with codes of every width, as the PDF library reads it too', async () => {
    const numbers = Array.from({ length: 4000 }, (_, i) => `${(i * 7919) % 997} ${(i * 104729) % 991} m`).join(' ');
    const plain = bytesOf(`${numbers} ${line}`);
    const packed = lzw(plain);
    expect(unpacked((into) => unpackLzw(bytesOf(packed), 0, into, true))).toEqual([...plain]);
    const form = packedPage(packed, '/LZWDecode', '/Subtype /Form /BBox [0 0 600 900]');
    const read = await readPdf(
      bytesOf(textOfBytes(form).replace(`${line}\nendstream`, '/A Do              \nendstream')),
    );
    expect(read.ok && read.value.pages[0]!.shapes.length).toBe(1);
  });
});

describe('files made to fill the memory', () => {
  const packed = (bytes: Uint8Array) => textOfBytes(new Uint8Array(deflateSync(bytes, { level: 9 })));
  const spaces = (count: number) => new Uint8Array(count).fill(32);

  it.each([
    ['spaces', () => packedPage(packed(spaces(41e6)), '/FlateDecode')],
    ['spaces packed twice', () => packedPage(packed(bytesOf(packed(spaces(41e6)))), '[/FlateDecode /FlateDecode]')],
    ['a name written with numbers', () => packedPage(packed(bytesOf(packed(spaces(41e6)))), '[/Fl#61teDecode /Fl]')],
    ['a filter said elsewhere', () => packedPage(packed(spaces(41e6)), '9 0 R')],
    ['run lengths in LZW', () => packedPage(lzw(bytesOf('\x81 '.repeat(330_000))), '[/LZWDecode /RunLengthDecode]')],
    ['ASCII85 in Flate', () => packedPage(packed(bytesOf('z'.repeat(10.1e6))), '[/Fl /A85]')],
    ['Flate in ASCII85', () => packedPage(ascii85(bytesOf(packed(spaces(41e6)))), '[/ASCII85Decode /FlateDecode]')],
    ['Flate in hex', () => packedPage(hex(packed(spaces(41e6))), '[ /ASCIIHexDecode/FlateDecode ]')],
    ['LZW said elsewhere', () => packedPage(lzwSpaces(6), '9 0 R')],
    ['LZW in hex, half of it said elsewhere', () => packedPage(hex(lzwSpaces(6)), '[/ASCIIHexDecode 9 0 R]')],
    ['two filters, the worse one last', () => packedPage(lzwSpaces(6), '/Crypt /Filter /LZWDecode')],
    ['a filter far before its part', () => packedPage(lzwSpaces(6), `/LZWDecode ${' '.repeat(3000)}`)],
    [
      'a function of ever so many values',
      () => packedPage('', '/A85 /FunctionType 0 /Size [70000 60000] /Range [0 1]'),
    ],
    ['its values said elsewhere', () => packedPage('', '/A85 /FunctionType 0 /Size 9 0 R /Range [0 1]')],
    ['its kind said elsewhere', () => packedPage('', '/A85 /FunctionType 9 0 R /Size [70000 60000] /Range [0 1]')],
    ['its colours said elsewhere', () => packedPage('', '/A85 /FunctionType 0 /Size [70000 60000] /Range 9 0 R')],
    ['a size twice', () => packedPage('', '/A85 /FunctionType 0 /Size [2] /Size [70000 -60000] /Range [0 1]')],
    ['bits with a sign', () => packedPage('', '/A85 /FunctionType 0 /Size [2] /Range [0 1] /BitsPerSample +400000000')],
    ['bits said elsewhere', () => packedPage('', '/A85 /FunctionType 0 /Size [2] /Range [0 1] /BitsPerSample 9 0 R')],
    ['a comment between', () => packedPage('', '/A85 /FunctionType %x\n0 /Size [70000 60000] /Range [0 1]')],
    ['no comment, but a word', () => packedPage('', '/A85 /X (%) /FunctionType 0 /Size [70000 60000] /Range [0 1]')],
    ['a key of ever so many bits', () => lockedBy('/Length 1600000000')],
    ['words that begin no part', () => bytesOf(`${textOfBytes(packedPage('', '/A85'))}${'stream '.repeat(3000)}`)],
    ['rows without end', () => packedPage('', '/Fl /DecodeParms << /Predictor 12 /Columns 999999999 >>')],
    ['a picture', () => packedPage(packed(spaces(241e6)), '/FlateDecode', '/Subtype /Image')],
  ])('%s: refused before the library sees them, and quickly', async (_, make) => {
    const bytes = make();
    expect(bytes.length).toBeLessThan(700_000);
    const before = process.cpuUsage().user;
    expect(await readPdf(bytes)).toMatchObject({ ok: false, code: 'pdf-unpacks-too-large' });
    expect((process.cpuUsage().user - before) / 1e6).toBeLessThan(2);
  });

  it('many parts that are each within the limit, but not all together', () => {
    const part = packed(spaces(39e6));
    const parts = (count: number) =>
      pdfFile(
        [{ content: line }],
        Array.from({ length: count }, (_, i) => ({
          number: 100 + i,
          dictionary: '/Filter /FlateDecode',
          stream: part,
        })),
      );
    expect(unpacksTooLarge(parts(10))).toBe(false);
    expect(unpacksTooLarge(parts(11))).toBe(true);
  });

  it('a colour mesh is forgotten, what is drawn beside it is read', async () => {
    // Twenty bytes to a patch of sixteen places; laid out they would take some GB.
    const mesh = packed(Uint8Array.from({ length: 3e6 }, (_, i) => (i % 37 === 0 ? 0 : (i * 77) % 256)));
    const file = pdfFile(
      [{ content: `/S sh ${line}`, resources: '/Shading << /S 100 0 R >>' }],
      [
        {
          number: 100,
          dictionary:
            '/ShadingType 6 /ColorSpace /DeviceRGB /BitsPerCoordinate 8 /BitsPerComponent 8 /BitsPerFlag 8 /Decode [0 600 0 900 0 1 0 1 0 1] /Filter /FlateDecode',
          stream: mesh,
        },
      ],
    );
    const before = process.cpuUsage().user;
    const read = await readPdf(file);
    expect(read.ok && read.value.pages[0]!.shapes.length).toBe(1);
    expect((process.cpuUsage().user - before) / 1e6).toBeLessThan(2);
    const text = bytesOf('/ShadingType 6 /ShadingType\n7 /ShadingType 3 /ShadingType/4');
    forgetMeshes(text);
    expect(textOfBytes(text)).toBe('/ShadingType 9 /ShadingType\n9 /ShadingType 3 /ShadingType/4');
  });

  it('colours of more than 32 bits, the most there are (ISO 32000-1, 7.10.2)', () => {
    expect(isHungry('/BitsPerComponent 33')).toBe(true);
    expect(isHungry('/BitsPerComponent 32')).toBe(false);
    expect(isHungry('/BitsPerSample -33')).toBe(true);
  });

  it('what only looks like a key of impossible length is read', async () => {
    const long = { number: 101, dictionary: '', stream: '% x\n'.repeat(300_000) };
    const files = [
      pdfFile([{ content: line }], [{ number: 100, dictionary: '<< /BaseEncoding /StandardEncoding >>' }, long]),
      pdfFile([{ content: line }], [{ number: 100, dictionary: '<< /S /Standard /A << /O /Layout >> >>' }, long]),
      pdfFile([{ content: `${line} BT (/Filter /Standard /Length 14000000000) Tj ET` }]),
    ];
    for (const bytes of files) {
      const read = await readPdf(bytes);
      expect(read.ok && read.value.pages[0]!.shapes.length).toBe(1);
    }
    // A lock of its own beside a long part is asked for its password.
    const beside = bytesOf(
      textOfBytes(lockedBy('/Length 128')).replace('%PDF-1.7\n', '%PDF-1.7\n<< /Length 9000000 >>\n'),
    );
    expect(await readPdf(beside)).toMatchObject({ ok: false, code: 'pdf-locked' });
  });

  it('what is within the limits is read', async () => {
    const drawing = `${' '.repeat(1e6)}${line}`;
    const form = packedPage(packed(bytesOf(drawing)), '/FlateDecode', '/Subtype /Form /BBox [0 0 600 900]');
    const read = await readPdf(
      bytesOf(textOfBytes(form).replace(`${line}\nendstream`, '/A Do              \nendstream')),
    );
    expect(read.ok && read.value.pages[0]!.shapes.length).toBe(1);
  });
});
