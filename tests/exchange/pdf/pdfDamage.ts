import type { PdfSeed } from './pdfSeeds';

/** Put in place of a number of a drawing or a dictionary. */
const numbers = [
  '0',
  '-1',
  '1',
  '2',
  '255',
  '65536',
  '1e9',
  '2147483648',
  '4294967296',
  '-250',
  '0.0001',
  '99999999999999999999',
  '1 2',
  '',
  '-',
  '.',
  'null',
  'true',
  '[0 0]',
  '<< >>',
  '(x)',
  '/X',
  '1 0 R',
  '4 0 R',
  '99 0 R',
] as const;

/** Names that mean something somewhere in the format. */
const names = [
  '/Type',
  '/Page',
  '/Pages',
  '/Kids',
  '/Count',
  '/Parent',
  '/Contents',
  '/Resources',
  '/MediaBox',
  '/Length',
  '/Filter',
  '/FlateDecode',
  '/LZWDecode',
  '/RunLengthDecode',
  '/ASCII85Decode',
  '/ASCIIHexDecode',
  '/DCTDecode',
  '/JPXDecode',
  '/CCITTFaxDecode',
  '/JBIG2Decode',
  '/Crypt',
  '/DecodeParms',
  '/Predictor',
  '/Subtype',
  '/Form',
  '/Image',
  '/XObject',
  '/Font',
  '/Type0',
  '/Type1',
  '/ExtGState',
  '/SMask',
  '/Group',
  '/Pattern',
  '/DeviceN',
  '/ICCBased',
  '/Lab',
  '/Indexed',
  '/FunctionType',
  '/ShadingType',
  '/Size',
  '/Prev',
  '/W',
  '/Index',
  '/Root',
  '/Encrypt',
  '/OC',
  '/Identity-H',
  '/A#00B',
  '/',
] as const;

/** Put in anywhere. */
const fragments = [
  ' q ',
  ' Q ',
  ' cm ',
  ' Do ',
  ' BT ',
  ' ET ',
  ' EMC ',
  ' BI ',
  ' ID ',
  ' EI ',
  ' W n ',
  ' S ',
  ' re ',
  ' l ',
  ' c ',
  ' h ',
  ' sh ',
  ' gs ',
  ' 0 0 0 0 0 0 cm ',
  ' 1e30 0 0 1e30 0 0 cm ',
  ' endobj ',
  ' endstream ',
  ' stream\n',
  ' obj ',
  ' R ',
  '<<',
  '>>',
  '[',
  ']',
  '(',
  ')',
  '<',
  '>',
  '%',
  '{',
  '}',
  '\0',
  '\u00ff',
  'trailer ',
  'xref\n',
  'startxref\n0\n',
  '%%EOF',
  '%PDF-1.4\n',
] as const;

export interface DamagedPdf {
  readonly text: string;
  /** Which seed it was, and whether only its parts were hurt (the file round them is sound). */
  readonly seed: string;
  readonly soundFrame: boolean;
}

/**
 * One to six wounds to a seed: three of five files only inside their parts, which are then written into a sound file; the
 * others anywhere, offsets and packed bytes included, some of them cut short.
 */
export function damagedPdf(seeds: readonly PdfSeed[], random: () => number): DamagedPdf {
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)]!;
  const seed = pick(seeds);
  const soundFrame = random() < 0.6;
  const wounds = 1 + Math.floor(random() * 6);
  if (soundFrame) {
    const parts = [...seed.parts];
    for (let i = 0; i < wounds; i++) {
      const k = Math.floor(random() * parts.length);
      parts[k] = wounded(parts[k]!, random, pick);
    }
    return { text: seed.make(parts), seed: seed.name, soundFrame };
  }
  let text = seed.make(seed.parts);
  for (let i = 0; i < wounds; i++) text = wounded(text, random, pick);
  if (random() < 0.1) text = text.slice(0, Math.floor(random() * text.length));
  return { text, seed: seed.name, soundFrame };
}

type Pick = <T>(from: readonly T[]) => T;

function wounded(text: string, random: () => number, pick: Pick): string {
  const at = Math.floor(random() * (text.length + 1));
  const span = Math.floor(random() ** 3 * 120);
  switch (Math.floor(random() * 10)) {
    case 0:
    case 1:
    case 2:
      return replaced(
        text,
        /-?\d+(?:\.\d+)?/g,
        at,
        random() < 0.3 ? String(Math.round(random() * 400)) : pick(numbers),
      );
    case 3:
    case 4:
      return replaced(text, /\/[A-Za-z]\w*/g, at, pick(names));
    case 5:
      return replaced(text, /\d+ 0 R/g, at, `${Math.floor(random() * 9)} 0 R`);
    case 6:
      return text.slice(0, at) + text.slice(at + span);
    case 7:
      return text.slice(0, at + span) + text.slice(at, at + span) + text.slice(at + span);
    case 8:
      return text.slice(0, at) + String.fromCharCode(Math.floor(random() * 256)) + text.slice(at + 1);
    default:
      return text.slice(0, at) + pick(fragments) + text.slice(at);
  }
}

/** The first such thing after `at` becomes something else. */
function replaced(text: string, what: RegExp, at: number, by: string): string {
  what.lastIndex = at;
  const found = what.exec(text);
  return found ? text.slice(0, found.index) + by + text.slice(found.index + found[0].length) : text;
}
