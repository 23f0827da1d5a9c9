/** What the library asks for by name when it meets a picture in JPEG 2000, JBIG2 or CCITT (fax) coding. */
interface Wanted {
  readonly kind: string;
  readonly filename: string;
}

/**
 * Hands the library its decoders for such pictures (compiled programs of its own package: OpenJPEG and PDFium's JBIG2 and
 * fax decoder, both BSD). They come with this program, each in a chunk of its own that is loaded when a picture needs it;
 * anything else the library would fetch is refused.
 */
export class OwnDecoders {
  async fetch({ kind, filename }: Wanted): Promise<Uint8Array> {
    const load = kind === 'wasmUrl' ? decoders.get(filename) : undefined;
    if (load === undefined) throw new Error('Nothing outside the file is fetched.');
    return bytesOfDataUrl((await load()).default);
  }
}

const decoders: ReadonlyMap<string, () => Promise<{ readonly default: string }>> = new Map([
  ['jbig2.wasm', () => import('pdfjs-dist/wasm/jbig2.wasm?url&inline')],
  ['openjpeg.wasm', () => import('pdfjs-dist/wasm/openjpeg.wasm?url&inline')],
]);

function bytesOfDataUrl(url: string): Uint8Array {
  return Uint8Array.from(atob(url.slice(url.indexOf(',') + 1)), (letter) => letter.charCodeAt(0));
}
