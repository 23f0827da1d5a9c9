import type { PDFPageProxy } from 'pdfjs-dist';
import { countingTurns } from './libraryTurns';
import { pdfLimits } from './limits';
import { type OperatorList, op } from './operators';
import { withoutCompiling } from './withoutCompiling';

interface OperatorChunk {
  readonly length: number;
  readonly fnArray: readonly number[];
}

/** Parts of the library's page that are reached into; the library is pinned, and tests hold that this works. */
interface CountedPage {
  _renderPageChunk(chunk: OperatorChunk, state: unknown): void;
}

/** Notes, links and form fields laid over a page are not drawn. */
const noAnnotations = 0;

/**
 * The operators of a page, or `too-many`. Forms inside forms can multiply without end, so they are counted as they
 * arrive, and so are saved states, which take the library ever longer the deeper they lie; the caller then closes the file, which stops the rest.
 */
export function pageOperators(page: PDFPageProxy, most: number): Promise<OperatorList | 'too-many'> {
  return countingTurns(() => withoutCompiling(() => streamed(page, most)));
}

function streamed(page: PDFPageProxy, most: number): Promise<OperatorList | 'too-many'> {
  const counted = page as unknown as CountedPage;
  const take = counted._renderPageChunk.bind(page);
  return new Promise((settle, reject) => {
    let count = 0;
    let forms = 0;
    let depth = 0;
    counted._renderPageChunk = (chunk, state) => {
      count += chunk.length;
      for (const operator of chunk.fnArray) {
        if (operator === op.paintFormXObjectBegin) forms++;
        else if (operator === op.save) depth++;
        else if (operator === op.restore && depth > 0) depth--;
      }
      if (count > most || forms > pdfLimits.forms || depth > pdfLimits.depth) settle('too-many');
      else take(chunk, state);
    };
    page.getOperatorList({ annotationMode: noAnnotations }).then(settle, reject);
  });
}
