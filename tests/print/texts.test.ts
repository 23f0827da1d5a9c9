import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { jsPDF } from 'jspdf';
import { describe, expect, it, vi } from 'vitest';
import { drawPdf } from '../../src/print/drawPdf';
import { fontHolds } from '../../src/print/fontLetters';
import { needsEmbeddedFont } from '../../src/print/fonts';
import { shortened, textWidth, wrapText } from '../../src/print/textWidth';
import { planned, printable } from './support/garments';
import { rectangle } from './support/pieces';
import { requirePoppler } from './support/poppler';
import { readPdf } from './support/readPdf';

// Drawing and reading back takes seconds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const loadFont = async () => new Uint8Array(readFileSync(resolve('public/fonts/DejaVuSans.ttf')));
const names = ['Юбка-солнце', 'Φούστα ⅜', 'Żakiet Łódź', 'Robe d’été'];

/** Code points beyond Latin-1 with a glyph, read from the font's cmap table for Unicode (platform 3, encoding 1). */
function lettersOf(font: Buffer): Set<number> {
  const tables = Array.from({ length: font.readUInt16BE(4) }, (_, i) => 12 + 16 * i);
  const cmap = font.readUInt32BE(tables.find((at) => font.toString('latin1', at, at + 4) === 'cmap')! + 8);
  const encodings = Array.from({ length: font.readUInt16BE(cmap + 2) }, (_, i) => cmap + 4 + 8 * i);
  const unicode = encodings.find((at) => font.readUInt32BE(at) === 0x30001)!;
  const at = cmap + font.readUInt32BE(unicode + 4);
  const segments = font.readUInt16BE(at + 6) / 2;
  const [ends, starts, deltas, offsets] = [14, 16, 16, 16].map((skip, k) => at + skip + 2 * segments * k) as [
    number,
    number,
    number,
    number,
  ];
  const held = new Set<number>();
  for (let i = 0; i < segments; i += 1) {
    const offset = font.readUInt16BE(offsets + 2 * i);
    for (let code = font.readUInt16BE(starts + 2 * i); code <= font.readUInt16BE(ends + 2 * i); code += 1) {
      const glyph =
        offset === 0
          ? code + font.readUInt16BE(deltas + 2 * i)
          : font.readUInt16BE(offsets + 2 * i + offset + 2 * (code - font.readUInt16BE(starts + 2 * i)));
      if (code > 0xff && code < 0xffff && (glyph & 0xffff) !== 0) held.add(code);
    }
  }
  return held;
}

function popplerText(pdf: Uint8Array): string {
  requirePoppler();
  const folder = mkdtempSync(join(tmpdir(), 'print-text-'));
  try {
    const file = join(folder, 'print.pdf');
    writeFileSync(file, pdf);
    return execFileSync('pdftotext', ['-enc', 'UTF-8', file, '-'], { encoding: 'utf8' });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

describe('words in the PDF', () => {
  it('prints names in other letters and fractions right, as both readers read them', async () => {
    const plan = planned(names.map((name) => printable(rectangle(120, 90, { name }), { garment: 'Ärmel ½' })));
    const pdf = await drawPdf(plan, { loadFont });
    const { pages } = await readPdf(pdf);
    const found = pages.flatMap((p) => p.texts.map((t) => t.text));
    const text = popplerText(pdf);
    for (const name of names) {
      expect(found).toContain(name);
      expect(text).toContain(name);
    }
    expect(text).toContain('Ärmel ½');
    // Only the letters that are used go into the file: the whole font has 757 kB.
    expect(pdf.length).toBeLessThan(150_000);
  });

  it('does not ask for the font while every word is Latin-1', async () => {
    const plan = planned([printable(rectangle(120, 90, { name: 'Größe 38 ½' }))]);
    const pdf = await drawPdf(plan, { loadFont: () => Promise.reject(new Error('asked')) });
    expect(popplerText(pdf)).toContain('Größe 38 ½');
  });

  it('rejects rather than print wrong letters when the font is not to be had', async () => {
    const plan = planned([printable(rectangle(120, 90, { name: 'Юбка' }))]);
    await expect(drawPdf(plan, { loadFont: () => Promise.reject(new Error('no font')) })).rejects.toThrow('no font');
  });

  it('knows which texts the standard fonts can show', () => {
    expect(needsEmbeddedFont('Crêpe, 1/2 · ½')).toBe(false);
    for (const text of ['⅜', 'Ł', '“quoted”', 'Ж']) expect(needsEmbeddedFont(text)).toBe(true);
  });

  it('says which names do not print: those with letters the font lacks, and those read from the right', () => {
    const warned = (name: string) =>
      planned([printable(rectangle(120, 90, { name, grainline: { start: { x: 60, y: 20 }, end: { x: 60, y: 70 } } }))])
        .warnings;
    for (const name of ['Rock', 'Юбка ⅜', 'Żakiet', 'Φούστα']) expect(warned(name)).toEqual([]);
    expect(warned('裙子')).toEqual([
      '“裙子” has letters that do not print (裙 子): they stay blank on paper. Give it a name in other letters before you print.',
    ]);
    expect(warned('スカート👗')[0]).toContain('(ス カ ー …)');
    expect(warned('חצאית')).toEqual([
      '“חצאית” is written from right to left: its letters may print in the wrong order.',
    ]);
    expect(warned('تنورة')[0]).toContain('from right to left');
  });

  it('knows the letters of the font exactly, as its own table (OpenType cmap, format 4) lists them', () => {
    const held = lettersOf(readFileSync(resolve('public/fonts/DejaVuSans.ttf')));
    expect(held.size).toBeGreaterThan(5000);
    for (let code = 0x100; code <= 0xffff; code += 1) {
      if (fontHolds(String.fromCodePoint(code)) !== held.has(code)) throw new Error(`differs at ${code.toString(16)}`);
    }
    expect(fontHolds('👗')).toBe(false);
  });

  it('estimates widths like the PDF library’s own table', () => {
    const doc = new jsPDF({ unit: 'mm' });
    doc.setFontSize((10 * 72) / 25.4);
    for (const text of [
      'Sleeveless top',
      'trim along this line',
      '0123456789',
      'Cut 1 on the fold',
      'WAVE [x] {y} ~ @',
    ]) {
      doc.setFont('helvetica', 'normal');
      expect(Math.abs(textWidth(text, 10) / doc.getTextWidth(text) - 1)).toBeLessThan(0.03);
      doc.setFont('helvetica', 'bold');
      expect(textWidth(text, 10, true)).toBeGreaterThan(doc.getTextWidth(text) * 0.97);
    }
  });

  it('wraps and shortens to a width', () => {
    const lines = wrapText('Measure both squares, across and down.', 4, 40);
    expect(lines.length).toBeGreaterThan(1);
    for (const text of lines) expect(textWidth(text, 4)).toBeLessThanOrEqual(40);
    expect(lines.join(' ')).toBe('Measure both squares, across and down.');
    const short = shortened('A very long garment name indeed', 5, 40);
    expect(short.endsWith('...')).toBe(true);
    expect(textWidth(short, 5)).toBeLessThanOrEqual(40);
    expect(shortened('Top', 5, 40)).toBe('Top');
  });
});
