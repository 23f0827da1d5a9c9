import type { PdfPage } from './pdfReading';

/** Row and column of a page in the sheet, from 0. */
export interface GridPlace {
  readonly row: number;
  readonly column: number;
}

const letterNumber = /^([A-Z])\s?-?\s?(\d{1,2})$/;
const rowColumn = /^row\s*(\d{1,2})\s*[,/;-]?\s*col(?:umn|\.)?\s*(\d{1,2})$/i;

/**
 * Where each page says it belongs: `B3` (letter the row, number the column; common practice, no source) or
 * `row 2 column 3`. A page that holds several such words is a plan of all pages and says nothing of itself; a place
 * that two pages claim is believed of neither.
 */
export function pageLabels(pages: readonly PdfPage[]): ReadonlyMap<number, GridPlace> {
  const found = new Map<number, GridPlace>();
  const claims = new Map<string, number>();
  for (const page of pages) {
    const named = new Map(
      page.texts.flatMap(({ words }) => {
        const place = readLabel(words.trim());
        return place ? [[`${place.row}/${place.column}`, place] as const] : [];
      }),
    );
    if (named.size !== 1) continue;
    const [[key, place]] = [...named] as [[string, GridPlace]];
    found.set(page.number, place);
    claims.set(key, (claims.get(key) ?? 0) + 1);
  }
  for (const [page, { row, column }] of found) if (claims.get(`${row}/${column}`) !== 1) found.delete(page);
  return found;
}

function readLabel(words: string): GridPlace | null {
  const letter = letterNumber.exec(words);
  if (letter) return { row: letter[1]!.charCodeAt(0) - 65, column: Number(letter[2]) - 1 };
  const spelled = rowColumn.exec(words);
  return spelled ? { row: Number(spelled[1]) - 1, column: Number(spelled[2]) - 1 } : null;
}
