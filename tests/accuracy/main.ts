/**
 * `npm run accuracy`: renders every photograph of the published set and of those held back, reads it with nothing told
 * but the sheet's size, and writes the tables of docs/accuracy.md; takes minutes. `npm run accuracy -- 3 7` measures only
 * these and writes nothing.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { measurePhoto } from '../support/photo/measurePhoto';
import { freshSize, heldBackSize, renderSetPhoto, setPhoto, setSize, toldOf } from '../support/photo/photoSet';
import { readingTable, summary, type TableRow } from './table';

const chosen = process.argv.slice(2).map(Number);

function measure(numbers: readonly number[]): TableRow[] {
  return numbers.map((number) => {
    const photo = setPhoto(number - 1);
    const { picture, truth } = renderSetPhoto(photo);
    const row = { photo, measured: measurePhoto(picture, toldOf(photo), truth) };
    const { times, refused, notes } = row.measured;
    const spans = times.map((ms) => ms.toFixed(0)).join(' + ');
    console.log(readingTable([row]).split('\n')[2], spans, 'ms', refused?.sentence ?? notes.join(' '));
    return row;
  });
}

/** Puts the table between its two marks. */
function put(text: string, mark: string, rows: readonly TableRow[]): string {
  const start = `<!-- ${mark} -->`;
  const end = `<!-- end of ${mark} -->`;
  const [before, rest] = text.split(start);
  const after = rest?.split(end)[1];
  if (before === undefined || after === undefined) throw new Error(`${file} has lost the place of its ${mark}`);
  return `${before}${start}\n\n${summary(rows)}\n\n${readingTable(rows)}\n\n${end}${after}`;
}

const file = 'docs/accuracy.md';
if (chosen.length > 0) console.log(summary(measure(chosen)));
else {
  let next = 1;
  let text = readFileSync(file, 'utf8');
  for (const [mark, size] of [
    ['table', setSize],
    ['second table', heldBackSize],
    ['third table', freshSize],
  ] as const) {
    text = put(text, mark, measure(Array.from({ length: size }, () => next++)));
  }
  writeFileSync(file, text);
}
