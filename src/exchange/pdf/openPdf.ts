import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import { pdfLimits } from './limits';
import { unpacksTooLarge } from './packedParts';
import { openDocument, type PDFDocumentLoadingTask, type PDFDocumentProxy } from './pdfLibrary';

/** How far into a file its mark may stand; some programs write a few lines before it (ISO 32000-1, annex H, note 13). */
const headerReach = 1024;

/**
 * Opens a file, hands it to `use`, and lets go of it whatever happens. Refuses, with a sentence: what is empty, too
 * large, not a PDF, damaged beyond reading, locked with a password, or has too many pages.
 */
export async function withPdf<T>(
  bytes: Uint8Array,
  use: (document: PDFDocumentProxy) => Promise<Outcome<T>>,
): Promise<Outcome<T>> {
  const refused = notPdf(bytes);
  if (refused) return refused;
  const task = await openDocument(bytes);
  try {
    const document = await opened(task);
    return document.ok ? await use(document.value) : document;
  } finally {
    // Stops whatever of the file is still being worked through.
    await task.destroy().catch(() => undefined);
  }
}

async function opened(task: PDFDocumentLoadingTask): Promise<Outcome<PDFDocumentProxy>> {
  try {
    const document = await task.promise;
    if (document.numPages > pdfLimits.pages) {
      return fail(
        'pdf-too-many-pages',
        `This file has ${document.numPages} pages; at most ${pdfLimits.pages} are read. Save the pages with the pattern pieces into a file of their own.`,
      );
    }
    if (!(document.numPages >= 1)) return damaged();
    return succeed(document);
  } catch (error) {
    return (error as { name?: unknown } | null)?.name === 'PasswordException' ? locked() : damaged();
  }
}

function notPdf(bytes: Uint8Array): Failure | null {
  if (bytes.length === 0) return fail('pdf-empty', 'This file is empty. Save or download it once more.');
  if (bytes.length > pdfLimits.bytes) {
    return fail(
      'pdf-too-large',
      `This file is larger than ${pdfLimits.bytes / 1e6} MB. Save only the pages with the pattern pieces and open those.`,
    );
  }
  let head = '';
  for (const byte of bytes.subarray(0, headerReach)) head += String.fromCharCode(byte);
  if (head.includes('%PDF-')) return unpacksTooLarge(bytes) ? tooPacked() : null;
  return fail('not-pdf', 'This is not a PDF file. Choose a file that ends in .pdf, as it was downloaded or saved.');
}

function tooPacked(): Failure {
  return fail(
    'pdf-unpacks-too-large',
    'A part of this file unpacks to far more than a pattern needs, more than the memory may hold. Print only the pages with the pattern pieces to a new PDF and open that.',
  );
}

function locked(): Failure {
  return fail(
    'pdf-locked',
    'This file is locked with a password. Open it where you know the password, save a copy without one, and open that.',
  );
}

export function damaged(): Failure {
  return fail('pdf-damaged', 'This PDF file is damaged or cut short. Save or download it once more.');
}
