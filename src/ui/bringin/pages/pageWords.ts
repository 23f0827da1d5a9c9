import type { PageArrangement } from '../../../exchange/pdf/pageArrangement';
import type { PdfPage } from '../../../exchange/pdf/pdfReading';

const howWords: Readonly<Record<PageArrangement['how'], string>> = {
  'same-drawing': 'The pages show parts of one drawing, and each was laid where that drawing goes on.',
  'line-ends':
    'Lines that are cut at the edge of one page go on at the edge of another; the pages were laid so that they meet.',
  marks: 'The pages were laid so that the match marks at their borders meet.',
  labels: 'The pages were laid by the rows and columns written on them.',
  'side-by-side': 'Nothing on the pages says how they belong together, so they lie side by side.',
};

/** How the pages were laid and how sure that is, for the maker. */
export function arrangementWords({ how, notes }: PageArrangement): readonly string[] {
  return [howWords[how], ...notes];
}

/** What is to be known about a page beside its number; empty for a page like any other. */
export function pageRemark({ rasterOnly, shapes }: PdfPage): string {
  if (rasterOnly) return ', a picture without lines';
  return shapes.length === 0 ? ', nothing drawn' : '';
}
