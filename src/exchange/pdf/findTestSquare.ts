import type { Bounds } from '../../geometry/bounds';
import { secondLengthError } from '../../geometry/tolerance';
import type { PlacedText } from '../drawing/nearText';
import type { PdfPage } from './pdfReading';
import { squaresOnPage } from './squaresOnPage';
import { statedSizes } from './statedSize';
import type { TestSquare } from './testSquare';

/** Sides usual for test squares, mm. Common practice, no source. */
const usual = [25.4, 50, 50.8, 100, 101.6];

/** Ratio. A square without words this near to a usual side is mentioned. */
const usualError = 0.002;

/** Ratio. A size written near a square that differs more than this belongs to something else. */
const sameThing = 0.2;

/** mm. How far outside a square its size may be written, at least; or a third of its side. */
const wordsReach = 12;

/**
 * The largest square on the pages whose side is written in or beside it, measured against what is written; else the
 * largest that has a usual side but no words. Null when there is none.
 */
export function findTestSquare(pages: readonly PdfPage[]): TestSquare | null {
  let stated: TestSquare | null = null;
  let silent: TestSquare | null = null;
  for (const page of pages) {
    for (const box of squaresOnPage(page)) {
      const side = boxSide(box);
      const size = sizeWritten(box, page.texts);
      if (size !== null) {
        if (!stated || side > measuredSide(stated)) stated = compared(page.number, box, size);
      } else if (isUsual(box) && (!silent || side > measuredSide(silent))) silent = mentioned(page.number, box);
    }
  }
  return stated ?? silent;
}

function boxSide(box: Bounds): number {
  return (box.maxX - box.minX + box.maxY - box.minY) / 2;
}

function measuredSide({ measuredX, measuredY }: TestSquare): number {
  return (measuredX + measuredY) / 2;
}

/**
 * The size written in a square, or else in the words nearest to it, mm. Of several, as in `2 in (5 cm)`, the one nearest to
 * what is drawn: they differ by 1.6 %, and a drawing off by just that would be a rare accident.
 */
function sizeWritten(box: Bounds, texts: readonly PlacedText[]): number | null {
  const side = boxSide(box);
  const reach = Math.max(wordsReach, side / 3);
  let best: { readonly size: number; readonly away: number } | null = null;
  for (const { words, x, y } of texts) {
    const away = Math.hypot(Math.max(box.minX - x, 0, x - box.maxX), Math.max(box.minY - y, 0, y - box.maxY));
    if (away > reach) continue;
    for (const size of statedSizes(words)) {
      if (off(side, size) > sameThing) continue;
      const nearer = !best || away < best.away || (away === best.away && off(side, size) < off(side, best.size));
      if (nearer) best = { size, away };
    }
  }
  return best?.size ?? null;
}

function off(side: number, size: number): number {
  return Math.abs(side / size - 1);
}

function isUsual(box: Bounds): boolean {
  const sides = [box.maxX - box.minX, box.maxY - box.minY];
  return usual.some((size) => sides.every((side) => Math.abs(side / size - 1) <= usualError));
}

function compared(page: number, box: Bounds, stated: number): TestSquare {
  const measuredX = box.maxX - box.minX;
  const measuredY = box.maxY - box.minY;
  const errors = [measuredX / stated - 1, measuredY / stated - 1];
  const error = Math.abs(errors[0]!) >= Math.abs(errors[1]!) ? errors[0]! : errors[1]!;
  const agrees = Math.abs(error) <= secondLengthError;
  const suggestion = stated / ((measuredX + measuredY) / 2);
  const found = `The test square on page ${page} says ${shown(stated)} mm and measures ${shown(measuredX)} by ${shown(measuredY)} mm in the file`;
  const off = `${(Math.abs(error) * 100).toFixed(2)} %`;
  return {
    page,
    stated,
    measuredX,
    measuredY,
    error,
    suggestion,
    agrees,
    sentence: agrees
      ? `${found}: it agrees within ${off}.`
      : `${found}: ${off} off. Give a length you know, or have the drawing ${suggestion > 1 ? 'enlarged' : 'made smaller'} by ${suggestion.toFixed(4)}.`,
  };
}

function mentioned(page: number, box: Bounds): TestSquare {
  const measuredX = box.maxX - box.minX;
  const measuredY = box.maxY - box.minY;
  return {
    page,
    stated: null,
    measuredX,
    measuredY,
    error: 0,
    suggestion: 1,
    agrees: true,
    sentence: `A square of ${shown(measuredX)} by ${shown(measuredY)} mm is drawn on page ${page}, but its size is not written. Check it against the paper if you can.`,
  };
}

function shown(length: number): string {
  return String(Number(length.toFixed(2)));
}
