import { type Affine, affine, chain, mapPoint, meanScale } from '../drawing/affine';
import type { PlacedText } from '../drawing/nearText';
import type { GraphicsState } from './graphicsState';
import { pdfLimits } from './limits';
import { isList } from './operators';

interface Run extends PlacedText {
  /** Where the next letter would go, and along what direction the line runs. */
  readonly endX: number;
  readonly endY: number;
  readonly dirX: number;
  readonly dirY: number;
}

/** Follows the place of the letters and gathers words; programs often place every word, or every letter, by itself. */
export class TextRuns {
  private readonly runs: Run[] = [];
  private matrix: Affine = affine(1, 0, 0, 1, 0, 0);
  private x = 0;
  private y = 0;
  private lineX = 0;
  private lineY = 0;

  /** Starts a text, or places it by a matrix. */
  place(matrix: Affine): void {
    this.matrix = matrix;
    this.x = this.lineX = 0;
    this.y = this.lineY = 0;
  }

  /** Moves to the start of a line, in the text's own units. */
  move(dx: number, dy: number): void {
    if (!Number.isFinite(dx) || !Number.isFinite(dy)) return;
    this.x = this.lineX += dx;
    this.y = this.lineY += dy;
  }

  show(glyphs: unknown, state: GraphicsState): void {
    if (!isList(glyphs)) return;
    const { text } = state;
    const from = this.x;
    let words = '';
    for (let i = 0; i < glyphs.length; i++) {
      const glyph = glyphs[i];
      if (typeof glyph === 'number') {
        // ISO 32000-1, 9.4.3: thousandths of the size, to be taken off.
        if (glyph < -200 && words !== '' && !words.endsWith(' ')) words += ' ';
        this.x -= (glyph / 1000) * text.size * text.stretch;
        continue;
      }
      if (typeof glyph !== 'object' || glyph === null) continue;
      const { unicode, width, isSpace } = glyph as { unicode?: unknown; width?: unknown; isSpace?: unknown };
      if (typeof unicode === 'string' && words.length < pdfLimits.words) words += unicode;
      const wide = typeof width === 'number' ? (width / 1000) * text.size : 0;
      this.x += (wide + text.charSpacing + (isSpace === true ? text.wordSpacing : 0)) * text.stretch;
    }
    if (!Number.isFinite(this.x)) this.x = from;
    if (!text.invisible && this.runs.length < pdfLimits.texts) this.keep(words, from, state);
  }

  private keep(words: string, from: number, state: GraphicsState): void {
    const map = chain(state.map, this.matrix);
    const start = mapPoint(map, { x: from, y: this.y });
    const end = mapPoint(map, { x: this.x, y: this.y });
    const size = Math.abs(state.text.size) * meanScale(map);
    const numbers = [start.x, start.y, end.x, end.y, size];
    if (words.trim() === '' || !numbers.every((n) => Math.abs(n) <= pdfLimits.coordinate)) return;
    const { clip } = state;
    if (start.x < clip.minX || start.x > clip.maxX || start.y < clip.minY || start.y > clip.maxY) return;
    const length = Math.hypot(map.a, map.b) || 1;
    const run: Run = {
      words,
      x: start.x,
      y: start.y,
      size,
      endX: end.x,
      endY: end.y,
      dirX: map.a / length,
      dirY: map.b / length,
    };
    const last = this.runs.at(-1);
    const joined = last && goesOn(last, run);
    if (joined) this.runs[this.runs.length - 1] = joined;
    else this.runs.push(run);
  }

  texts(): PlacedText[] {
    return this.runs
      .map(({ words, x, y, size }) => ({
        words: words.replace(/\s+/g, ' ').trim().slice(0, pdfLimits.words),
        x,
        y,
        size,
      }))
      .filter(({ words }) => words !== '');
  }
}

/** Both as one when the second goes on where the first ends, on the same line and of the same size. */
function goesOn(last: Run, next: Run): Run | null {
  if (Math.abs(last.size - next.size) > 0.01 * last.size) return null;
  if (last.dirX * next.dirX + last.dirY * next.dirY < 0.999) return null;
  const dx = next.x - last.endX;
  const dy = next.y - last.endY;
  const along = dx * last.dirX + dy * last.dirY;
  const off = Math.abs(dy * last.dirX - dx * last.dirY);
  if (off > 0.1 * last.size || along < -0.3 * last.size || along > 0.5 * last.size) return null;
  const gap = along > 0.15 * last.size && !/\s$/.test(last.words) && !/^\s/.test(next.words) ? ' ' : '';
  return { ...last, words: last.words + gap + next.words, endX: next.endX, endY: next.endY };
}
