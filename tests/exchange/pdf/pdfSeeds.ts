import { createCipheriv, createHash } from 'node:crypto';
import { deflateSync } from 'node:zlib';
import { bytesOf, textOfBytes } from './pdfText';

/**
 * Small whole files, each with other parts of the format (ISO 32000-1), to be damaged. `parts` are drawings and
 * dictionaries that `make` writes into a sound file: wounds inside them leave everything round them whole, offsets, lengths
 * and packings included, so that such a file goes further than one cut about anywhere.
 */
export interface PdfSeed {
  readonly name: string;
  /** Lines on its pages, counted by hand. */
  readonly lines: number;
  readonly parts: readonly string[];
  readonly make: (parts: readonly string[]) => string;
}

const flate = (text: string) => textOfBytes(new Uint8Array(deflateSync(bytesOf(text))));
const hex = (text: string) => `${Buffer.from(bytesOf(text)).toString('hex')}>`;
const stream = (dictionary: string, data: string) =>
  `<< ${dictionary} /Length ${data.length} >>\nstream\n${data}\nendstream`;
const packed = (dictionary: string, data: string) => stream(`${dictionary} /Filter /FlateDecode`, flate(data));

/** A file of numbered objects with a plain cross-reference table (7.5.4). */
function file(objects: readonly (readonly [number, string])[], trailer = ''): string {
  let text = '%PDF-1.7\n';
  const entries = objects.map(([number, body]) => {
    const at = text.length;
    text += `${number} 0 obj\n${body}\nendobj\n`;
    return `${number} 1\n${String(at).padStart(10, '0')} 00000 n \n`;
  });
  const start = text.length;
  const size = Math.max(...objects.map(([number]) => number)) + 1;
  return `${text}xref\n0 1\n0000000000 65535 f \n${entries.join('')}trailer\n<< /Size ${size} /Root 1 0 R ${trailer} >>\nstartxref\n${start}\n%%EOF\n`;
}

const catalog = '<< /Type /Catalog /Pages 2 0 R >>';
const pages = '<< /Type /Pages /Count 1 /Kids [3 0 R] >>';
const page = (more = '') => `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 300 400] /Contents 4 0 R ${more} >>`;
const piece = '1 0 0 RG 20 30 m 200 30 l 210 300 l 150 330 90 310 30 300 c h S 50 60 m 52 200 l S';

const table: PdfSeed = {
  name: 'a plain table, one page',
  lines: 2,
  parts: [piece, page('/Rotate 90 /CropBox [5 5 290 390] /UserUnit 2')],
  make: ([drawing, leaf]) =>
    file([
      [1, catalog],
      [2, pages],
      [3, leaf!],
      [4, stream('', drawing!)],
    ]),
};

const objectStream: PdfSeed = {
  name: 'a cross-reference stream and objects inside a stream',
  lines: 2,
  parts: [piece, catalog, pages, page()],
  make: ([drawing, ...inside]) => {
    let heads = '';
    let bodies = '';
    inside.forEach((body, i) => {
      heads += `${i + 1} ${bodies.length} `;
      bodies += `${body} `;
    });
    let text = '%PDF-1.7\n';
    const at = [text.length];
    text += `4 0 obj\n${packed('', drawing!)}\nendobj\n`;
    at.push(text.length);
    text += `5 0 obj\n${packed(`/Type /ObjStm /N ${inside.length} /First ${heads.length}`, heads + bodies)}\nendobj\n`;
    at.push(text.length);
    const row = (kind: number, place: number, index: number) =>
      String.fromCharCode(kind, place >> 8, place & 255, index);
    const rows = [row(0, 0, 0), row(2, 5, 0), row(2, 5, 1), row(2, 5, 2), ...at.map((place) => row(1, place, 0))];
    const table = packed('/Type /XRef /Size 7 /W [1 2 1] /Root 1 0 R', rows.join(''));
    return `${text}6 0 obj\n${table}\nendobj\nstartxref\n${at[2]}\n%%EOF\n`;
  },
};

const filters: PdfSeed = {
  name: 'every packing',
  lines: 5,
  parts: [piece, '10 10 m 90 10 l S', '10 20 m 90 20 l S', '10 30 m 90 30 l S'],
  make: ([first, second, third, fourth]) =>
    file([
      [1, catalog],
      [2, pages],
      [3, page().replace('4 0 R', '[4 0 R 5 0 R 6 0 R 7 0 R]')],
      [4, stream('/Filter [/ASCIIHexDecode /FlateDecode]', hex(flate(first!)))],
      [5, stream('/Filter /RunLengthDecode', `${String.fromCharCode(second!.length - 1)}${second}\u0080`)],
      [6, stream('/Filter [/AHx /AHx]', hex(hex(third!)))],
      [
        7,
        stream(
          '/Filter /FlateDecode /DecodeParms << /Predictor 12 /Columns 5 >>',
          flate(
            (fourth!.padEnd(5 * Math.ceil(fourth!.length / 5)).match(/.{5}/gs) ?? []).map((r) => `\0${r}`).join(''),
          ),
        ),
      ],
    ]),
};

const forms: PdfSeed = {
  name: 'forms, groups, masks',
  lines: 4,
  parts: [
    'q 1 0 0 1 20 30 cm /A Do Q /M gs /B Do 50 50 m 250 60 l S',
    '10 20 m 150 20 l 160 200 l S /B Do',
    '/Type /XObject /Subtype /Form /BBox [0 0 300 400] /Matrix [1 0.2 -0.2 1 5 5] /Group << /S /Transparency /I true >> /Resources << /XObject << /B 6 0 R >> >>',
    '/XObject << /A 5 0 R /B 6 0 R >> /ExtGState << /M << /SMask << /S /Luminosity /G 6 0 R >> /CA 0.5 /LW 2 /D [[3 1] 0] >> >>',
  ],
  make: ([content, inner, dictionary, resources]) =>
    file([
      [1, catalog],
      [2, pages],
      [3, page(`/Resources << ${resources} >>`)],
      [4, stream('', content!)],
      [5, stream(dictionary!, inner!)],
      [6, stream('/Type /XObject /Subtype /Form /BBox [0 0 90 90] /Group << /S /Transparency >>', '5 5 m 80 9 l S')],
    ]),
};

const layers: PdfSeed = {
  name: 'layers',
  lines: 3,
  parts: [
    '/OC /L BDC 20 30 m 200 30 l S EMC /OC /N BDC 20 60 m 200 60 l S EMC /Span BMC 20 90 m 200 95 l S EMC',
    '/OCProperties << /OCGs [5 0 R 6 0 R] /D << /OFF [6 0 R] /Order [5 0 R [(inner) 6 0 R]] /AS [<< /Event /View /OCGs [5 0 R] /Category [/View] >>] >> >>',
    '<< /Type /OCMD /OCGs [5 0 R 6 0 R] /P /AnyOff /VE [/And 5 0 R [/Not 6 0 R]] >>',
  ],
  make: ([content, properties, membership]) =>
    file([
      [1, `<< /Type /Catalog /Pages 2 0 R ${properties} >>`],
      [2, pages],
      [3, page('/Resources << /Properties << /L 5 0 R /N 7 0 R >> >>')],
      [4, stream('', content!)],
      [5, '<< /Type /OCG /Name (Size 12) >>'],
      [6, '<< /Type /OCG /Name <FEFF0053> /Usage << /View << /ViewState /OFF >> >> >>'],
      [7, membership!],
    ]),
};

const pictures: PdfSeed = {
  name: 'pictures and notes',
  lines: 1,
  parts: [
    'q 250 0 0 350 20 20 cm /I Do Q q 30 0 0 30 9 9 cm BI /W 4 /H 2 /BPC 1 /IM true /F /AHx ID a0 50> EI Q 10 10 m 90 10 l S',
    '/Type /XObject /Subtype /Image /Width 2 /Height 2 /ColorSpace [/Indexed /DeviceRGB 1 <ff000000ff00>] /BitsPerComponent 8 /Mask [0 0] /Decode [0 1]',
    '<< /Type /Annot /Subtype /Square /Rect [9 9 90 90] /AP << /N 6 0 R >> /F 4 >>',
  ],
  make: ([content, dictionary, note]) =>
    file([
      [1, catalog],
      [2, pages],
      [3, page('/Resources << /XObject << /I 5 0 R >> >> /Annots [7 0 R]')],
      [4, stream('', content!)],
      [5, stream(dictionary!, '\0\u0001\u0001\0')],
      [6, stream('/Type /XObject /Subtype /Form /BBox [0 0 9 9]', '0 0 m 9 9 l S')],
      [7, note!],
    ]),
};

const words: PdfSeed = {
  name: 'words in fonts of several kinds',
  lines: 1,
  parts: [
    'BT /T 12 Tf 14 TL 60 300 Td (Bodice) Tj T* [(fr) 20 (ont)] TJ 1 0 0 1 60 200 Tm 2 Tc 110 Tz (S) Tj /D 10 Tf <41> Tj ET 20 20 m 200 25 l S',
    '<< /Type /Font /Subtype /Type3 /FontBBox [0 0 9 9] /FontMatrix [0.1 0 0 0.1 0 0] /FirstChar 65 /LastChar 65 /Widths [9] /Encoding << /Differences [65 /a] >> /CharProcs << /a 6 0 R >> /Resources << >> >>',
    '<< /Type /Font /Subtype /TrueType /BaseFont /Arial /FirstChar 65 /LastChar 67 /Widths [600 500 400] /Encoding /WinAnsiEncoding >>',
  ],
  make: ([content, drawn, plain]) =>
    file([
      [1, catalog],
      [2, pages],
      [3, page('/Resources << /Font << /D 5 0 R /T 7 0 R >> >>')],
      [4, stream('', content!)],
      [5, drawn!],
      [6, stream('', '9 0 0 0 9 9 d1 0 0 9 9 re f')],
      [7, plain!],
    ]),
};

const colours: PdfSeed = {
  name: 'colours, patterns, shadings',
  lines: 2,
  parts: [
    '/S cs 0.5 scn 10 10 90 90 re B /Pattern CS /P SCN 20 20 m 200 250 l S /H sh 0.1 0.2 0.3 0.4 K 30 30 m 150 180 200 180 v S',
    '[/Separation /Spot /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 1 1 0] /N 1 >>]',
    '/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9 /Resources << >>',
    '<< /ShadingType 2 /ColorSpace /DeviceGray /Coords [0 0 9 9] /Function 7 0 R /Extend [true true] >>',
    '/FunctionType 0 /Domain [0 1] /Range [0 1] /Size [2] /BitsPerSample 8',
  ],
  make: ([content, space, tiling, shading, sampled]) =>
    file([
      [1, catalog],
      [2, pages],
      [3, page('/Resources << /ColorSpace << /S 5 0 R >> /Pattern << /P 6 0 R >> /Shading << /H 8 0 R >> >>')],
      [4, stream('', content!)],
      [5, space!],
      [6, stream(tiling!, '0 0 m 9 9 l S')],
      [7, stream(sampled!, 'a\u00f0')],
      [8, shading!],
    ]),
};

const tree: PdfSeed = {
  name: 'a page tree that hands down',
  lines: 3,
  parts: [
    '<< /Type /Pages /Count 2 /Kids [5 0 R] /MediaBox [0 0 300 400] /Rotate 270 /Resources << /ExtGState << /G << /LW 3 >> >> >> >>',
    '<< /Type /Pages /Parent 2 0 R /Count 2 /Kids [3 0 R 6 0 R] >>',
    `/G gs ${piece}`,
    '30 30 m 150 190 l 170 40 l s',
  ],
  make: ([root, branch, first, second]) =>
    file([
      [1, catalog],
      [2, root!],
      [5, branch!],
      [3, '<< /Type /Page /Parent 5 0 R /Contents 4 0 R >>'],
      [6, '<< /Type /Page /Parent 5 0 R /Contents 7 0 R /MediaBox [10 10 400 300] >>'],
      [4, stream('', first!)],
      [7, stream('', second!)],
    ]),
};

const again: PdfSeed = {
  name: 'a file written on, with a hybrid table',
  lines: 1,
  parts: [piece, '20 40 m 200 44 l 210 200 l h S'],
  make: ([before, after]) => {
    const old = file([
      [1, catalog],
      [2, pages],
      [3, page()],
      [4, stream('', before!)],
    ]);
    const oldStart = old.lastIndexOf('xref\n0 1');
    const place = old.length;
    const body = `4 0 obj\n${stream('', after!)}\nendobj\n`;
    const rows = String.fromCharCode(1, place >> 8, place & 255);
    const tableAt = place + body.length;
    const hidden = `5 0 obj\n${stream('/Type /XRef /Size 6 /W [1 2 0] /Index [4 1] /Root 1 0 R', rows)}\nendobj\n`;
    const start = tableAt + hidden.length;
    return `${old}${body}${hidden}xref\n4 1\n${String(place).padStart(10, '0')} 00000 n \ntrailer\n<< /Size 6 /Root 1 0 R /Prev ${oldStart} /XRefStm ${tableAt} >>\nstartxref\n${start}\n%%EOF\n`;
  },
};

/** Filling of passwords, and the key for an empty one, as algorithms 2 and 3 of ISO 32000-1, 7.6.3 have it (revision 2, RC4 of 40 bits). */
const filling = bytesOf(
  '\u0028\u00bf\u004e\u005e\u004e\u0075\u008a\u0041\u0064\u0000\u004e\u0056\u00ff\u00fa\u0001\u0008\u002e\u002e\u0000\u00b6\u00d0\u0068\u003e\u0080\u002f\u000c\u00a9\u00fe\u0064\u0053\u0069\u007a',
);

function rc4(key: Uint8Array, data: Uint8Array): Uint8Array {
  const box = Array.from({ length: 256 }, (_, i) => i);
  for (let i = 0, j = 0; i < 256; i++) {
    j = (j + box[i]! + key[i % key.length]!) & 255;
    [box[i], box[j]] = [box[j]!, box[i]!];
  }
  let [i, j] = [0, 0];
  return data.map((byte) => {
    i = (i + 1) & 255;
    j = (j + box[i]!) & 255;
    [box[i], box[j]] = [box[j]!, box[i]!];
    return byte ^ box[(box[i]! + box[j]!) & 255]!;
  });
}

const md5 = (...parts: readonly Uint8Array[]) =>
  new Uint8Array(parts.reduce((hash, part) => hash.update(part), createHash('md5')).digest());
const owner = rc4(md5(filling).subarray(0, 5), filling);
const key = md5(filling, owner, bytesOf('\u00fc\u00ff\u00ff\u00ff'), bytesOf('0123456789abcdef')).subarray(0, 5);

const locked: PdfSeed = {
  name: 'locked with an empty password',
  lines: 2,
  parts: [piece, '/Filter /Standard /V 1 /R 2 /P -4'],
  make: ([drawing, dictionary]) => {
    const own = md5(key, bytesOf('\u0004\0\0\0\0')).subarray(0, 10);
    const user = rc4(key, filling);
    return file(
      [
        [1, catalog],
        [2, pages],
        [3, page()],
        [4, stream('', textOfBytes(rc4(own, bytesOf(drawing!))))],
        [5, `<< ${dictionary} /O <${hex(textOfBytes(owner))} /U <${hex(textOfBytes(user))} >>`],
      ],
      `/Encrypt 5 0 R /ID [<${hex('0123456789abcdef')} <${hex('0123456789abcdef')}]`,
    );
  },
};

/** AES of 128 bits with an empty password (revision 4, PDF 1.6). */
const aesKey = (() => {
  const start = (hash: Uint8Array) => Array.from({ length: 50 }).reduce<Uint8Array>((h) => md5(h), hash);
  const ownerKey = start(md5(filling));
  let sealed: Uint8Array = filling;
  for (let i = 0; i < 20; i++)
    sealed = rc4(
      ownerKey.map((byte) => byte ^ i),
      sealed,
    );
  return {
    owner: sealed,
    key: start(md5(filling, sealed, bytesOf('\u00fc\u00ff\u00ff\u00ff'), bytesOf('0123456789abcdef'))),
  };
})();

const aes: PdfSeed = {
  name: 'locked with AES and an empty password',
  lines: 2,
  parts: [
    piece,
    '/Filter /Standard /V 4 /R 4 /Length 128 /P -4 /StmF /StdCF /StrF /StdCF /CF << /StdCF << /CFM /AESV2 /AuthEvent /DocOpen /Length 16 >> >>',
  ],
  make: ([drawing, dictionary]) => {
    const own = md5(aesKey.key, bytesOf('\u0004\0\0\0\0sAlT'));
    const first = bytesOf('fedcba9876543210');
    const cipher = createCipheriv('aes-128-cbc', own, first);
    const data = textOfBytes(first) + textOfBytes(Buffer.concat([cipher.update(bytesOf(drawing!)), cipher.final()]));
    let user: Uint8Array = md5(filling, bytesOf('0123456789abcdef'));
    for (let i = 0; i < 20; i++)
      user = rc4(
        aesKey.key.map((byte) => byte ^ i),
        user,
      );
    return file(
      [
        [1, catalog],
        [2, pages],
        [3, page()],
        [4, stream('', data)],
        [5, `<< ${dictionary} /O <${hex(textOfBytes(aesKey.owner))} /U <${hex(textOfBytes(user).padEnd(32, '\0'))} >>`],
      ],
      `/Encrypt 5 0 R /ID [<${hex('0123456789abcdef')} <${hex('0123456789abcdef')}]`,
    );
  },
};

const tiles: PdfSeed = {
  name: 'two pages of one sheet',
  lines: 5,
  parts: [
    '40 30 m 300 42 l S 60 350 m 300 320 l S 60 350 m 40 30 l S',
    '0 42 m 200 51 l S 0 320 m 180 300 l 200 51 l S',
  ],
  make: ([left, right]) =>
    file([
      [1, catalog],
      [2, '<< /Type /Pages /Count 2 /Kids [3 0 R 5 0 R] >>'],
      [3, page()],
      [4, stream('', left!)],
      [5, page().replace('4 0 R', '6 0 R')],
      [6, stream('', right!)],
    ]),
};

export const pdfSeeds: readonly PdfSeed[] = [
  table,
  objectStream,
  filters,
  forms,
  layers,
  pictures,
  words,
  colours,
  tree,
  again,
  locked,
  aes,
  tiles,
];
