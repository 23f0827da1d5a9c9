import type { Block } from './document';
import { plainParagraph, plainWords } from './encoding';
import { type Entry, textIn } from './pairs';

/**
 * Files that pattern programs exchange (ASTM D6673) hold one block to the piece and tell by the number of the layer what a
 * line is. Status of the numbers and of the words below: from memory, not checked against the standard.
 */
const meanings: ReadonlyMap<string, string> = new Map([
  ['1', 'boundary'],
  ['2', 'turn points'],
  ['3', 'curve points'],
  ['4', 'notches'],
  ['6', 'mirror line'],
  ['7', 'grainline'],
  ['8', 'internal lines'],
  ['11', 'cut-outs'],
  ['13', 'drill holes'],
  ['14', 'sew line'],
  ['15', 'annotation'],
]);

export const boundaryLayer = '1';
export const notchLayer = '4';
export const grainLayer = '7';
export const drillLayer = '13';

const lines: ReadonlySet<string> = new Set(['POLYLINE', 'LWPOLYLINE', 'LINE', 'ARC', 'SPLINE']);
const pointLayers: ReadonlySet<string> = new Set(['2', '3', '4']);

/** The layer with its meaning in words: `1 (boundary)`. */
export function layerInWords(layer: string): string {
  const meaning = meanings.get(layer);
  return meaning === undefined ? layer : `${layer} (${meaning})`;
}

/** Whether a block is a piece of such a file: an outline on layer 1, with a piece's name or turn, curve or notch points. */
export function isPieceBlock({ entries }: Block): boolean {
  let outlined = false;
  let marked = false;
  for (const entry of entries) {
    const layer = textIn(entry, 8);
    outlined ||= layer === boundaryLayer && lines.has(entry.type);
    marked ||= entry.type === 'POINT' && layer !== null && pointLayers.has(layer);
    marked ||= annotation(entry)?.key === 'piece name';
    if (outlined && marked) return true;
  }
  return false;
}

/** A text of the form `Piece Name: Front`; null for any other entity or text. */
export function annotation(entry: Entry): { readonly key: string; readonly value: string } | null {
  const words = wordsOf(entry);
  const parts = words === null ? null : /^\s*([A-Za-z][A-Za-z ]{1,30}?)\s*:\s*(\S.*)$/.exec(words);
  return parts ? { key: parts[1]!.toLowerCase().replace(/\s+/g, ' '), value: parts[2]!.trim() } : null;
}

/** The words of a text entity; null for anything else. */
export function wordsOf(entry: Entry): string | null {
  if (entry.type === 'TEXT' || entry.type === 'ATTRIB') return plainWords(textIn(entry, 1) ?? '');
  // A long text is written in stretches (code 3), its end last; a name stands at its beginning.
  return entry.type === 'MTEXT' ? plainParagraph(textIn(entry, 3) ?? textIn(entry, 1) ?? '') : null;
}

/** The name to offer for a piece: `Front, size 12` from its annotations; null without a piece name. */
export function pieceName(block: Block): string | null {
  const said = new Map<string, string>();
  for (const entry of block.entries) {
    const note = annotation(entry);
    if (note && !said.has(note.key)) said.set(note.key, note.value);
  }
  const name = said.get('piece name');
  const size = said.get('size');
  if (name === undefined) return null;
  return size === undefined ? name : `${name}, size ${size}`;
}
