import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { jsPDF } from 'jspdf';
import { describe, expect, it, vi } from 'vitest';
import { drawPdf } from '../../src/print/drawPdf';
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
