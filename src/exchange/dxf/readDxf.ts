import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import type { DrawingReading } from '../drawing/drawingReading';
import { binaryPairs, isBinary } from './binaryPairs';
import { type DxfDocument, readDocument } from './document';
import { Drawing } from './drawing';
import { WarningCount } from './dxfWarnings';
import { decoderFor, western } from './encoding';
import { dxfLimits } from './limits';
import { annotation } from './pieceFile';
import { refusals } from './refusals';
import { statedScale } from './statedScale';
import { textPairs } from './textPairs';
import { believed } from './unlikelySize';

/**
 * Reads a DXF file (text or binary, release 12 to 2018) into plain lines and curves in its own units, y down, with what it
 * says about scale (see docs/bring-in-dxf.md). Nothing in it is run, and nothing outside it is fetched.
 *
 * Refuses, with a sentence: what is not DXF, damaged and cut-short files, files beyond the limits, blocks made to grow, and
 * drawings with no lines.
 */
export function readDxf(bytes: Uint8Array): Outcome<DrawingReading> {
  const foreign = notDxf(bytes);
  if (foreign) return foreign;
  const decode = decoderFor(bytes);
  const pairs = isBinary(bytes) ? binaryPairs(bytes, decode) : textPairs(withoutMark(decode(bytes)));
  if (!pairs.ok) return pairs;
  const read = readDocument(pairs.value.pairs, pairs.value.endsInside);
  if (!read.ok) return read;
  const warnings = new WarningCount();
  if (!read.value.ended) warnings.note('no-end');
  const gathered = new Drawing(read.value, warnings).gather();
  if ('ok' in gathered) return gathered;
  const sentences = warnings.sentences();
  const { shapes, marks } = gathered;
  if (shapes.length === 0) {
    return fail('dxf-no-lines', ['There are no lines to open in this file.', ...sentences].join(' '));
  }
  const { units, measurement } = read.value;
  const scale = believed(statedScale({ units, measurement, note: unitsNote(read.value) }), shapes);
  return succeed({ shapes, scale, warnings: sentences, ...(marks ? { marks } : {}) });
}

/** A note "UNITS: METRIC" or "UNITS: ENGLISH", as pattern programs write it (status: from memory). */
function unitsNote({ entities, blocks }: DxfDocument): 'metric' | 'english' | null {
  for (const entries of [entities, ...[...blocks.values()].map((block) => block.entries)]) {
    for (const entry of entries) {
      const note = annotation(entry);
      if (note?.key !== 'units') continue;
      if (/^metric\b/i.test(note.value)) return 'metric';
      if (/^(english|imperial)\b/i.test(note.value)) return 'english';
    }
  }
  return null;
}

function withoutMark(text: string): string {
  return text.startsWith('\ufeff') ? text.slice(1) : text;
}

/** Common mix-ups, told apart by how the file begins. */
function notDxf(bytes: Uint8Array): Failure | null {
  const head = western.decode(bytes.subarray(0, 512));
  if (head.trim() === '' && bytes.length <= 512) {
    return fail('dxf-empty', 'This file is empty. Save the piece again in the program that made it.');
  }
  if (bytes.length > dxfLimits.bytes) return refusals.large();
  if (head.startsWith('%PDF')) return fail('not-dxf', 'This is a PDF file, not a DXF drawing.');
  if (/^AC\d{4}/.test(head)) {
    return fail(
      'dxf-is-dwg',
      'This is a DWG file, which is not read here. Save it as DXF in the program that made it.',
    );
  }
  if (/^\s*</.test(head))
    return fail('not-dxf', 'This is not a DXF drawing. If it is an SVG drawing, let its name end in .svg.');
  if (head.startsWith('PK')) {
    return fail('not-dxf', 'This is a packed (zip) file. Unpack it and open the drawing inside.');
  }
  if (head.startsWith('ÿþ') || head.startsWith('þÿ')) {
    return fail('dxf-encoding', 'This file is written in UTF-16, which no DXF drawing is. Save it again as DXF.');
  }
  return isBinary(bytes) || startsWithSection(head) ? null : notDrawing();
}

/** Whether the first pair opens a section, or is a comment (code 999). */
function startsWithSection(head: string): boolean {
  return /^(?:ï»¿)?\s*(?:999[ \t]*[\r\n]|0[ \t]*[\r\n]\s*SECTION\b)/i.test(head);
}

function notDrawing(): Failure {
  return fail('not-dxf', 'This is not a DXF drawing. Choose a file that ends in .dxf, saved by a drawing program.');
}
