import type { PDFDocumentLoadingTask, PDFDocumentProxy } from 'pdfjs-dist';
import { forgetMeshes } from './hungryParts';
import { pdfLimits } from './limits';
import { OwnDecoders } from './pictureDecoders';

type Library = typeof import('pdfjs-dist');

let loading: Promise<Library> | null = null;

/**
 * The PDF library, loaded when it is first needed. Its worker part is loaded before it and puts itself where the library
 * looks before it would start a worker of its own: all runs where this is called, which in the app is a worker already.
 * (There it also greets the page with one message of its own, which has no `id` and is passed over by `helper`.) The
 * build for older browsers is taken, for the newer one asks for parts of the language that many tablets do not have.
 */
export function pdfLibrary(): Promise<Library> {
  loading ??= load();
  return loading;
}

async function load(): Promise<Library> {
  await import('pdfjs-dist/legacy/build/pdf.worker.mjs');
  return import('pdfjs-dist/legacy/build/pdf.mjs');
}

/**
 * Begins to open a file that lies in memory. Nothing in it is run (no script, no form), nothing is fetched: neither
 * fonts nor character tables, and no links are followed. Its pictures are decoded by what comes with this program.
 */
export async function openDocument(bytes: Uint8Array): Promise<PDFDocumentLoadingTask> {
  const { getDocument } = await pdfLibrary();
  // The library takes the memory it is given; the caller keeps its own.
  const data = bytes.slice();
  forgetMeshes(data);
  return getDocument({
    data,
    verbosity: 0,
    stopAtErrors: false,
    enableXfa: false,
    disableFontFace: true,
    useSystemFonts: false,
    useWorkerFetch: false,
    // Only for the decoders of pictures, which are needed for lines too: a mask is decoded before it is named.
    useWasm: true,
    // Larger ones are passed over before their dots are laid out in memory.
    maxImageSize: pdfLimits.dots,
    disableAutoFetch: true,
    disableRange: true,
    disableStream: true,
    isOffscreenCanvasSupported: false,
    isImageDecoderSupported: false,
    disableWorkerRendering: true,
    BinaryDataFactory: OwnDecoders,
  } as Parameters<typeof getDocument>[0]);
}

export type { PDFDocumentLoadingTask, PDFDocumentProxy };
