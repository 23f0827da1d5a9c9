/** Writes small PDF files by hand (ISO 32000-1, 7.5), for tests that need to say exactly what stands in them. */

export interface TestPage {
  readonly content: string;
  /** In points; A4 unless said otherwise. */
  readonly mediaBox?: readonly [number, number, number, number];
  /** More entries of the page's dictionary, e.g. `/Rotate 90`. */
  readonly extra?: string;
  /** How `content` is packed already. */
  readonly filter?: string;
  /** Entries of the page's resources. */
  readonly resources?: string;
}

/** An object of the file by its number; numbers from 100 on are free. `stream` makes it a stream. */
export interface TestObject {
  readonly number: number;
  readonly dictionary: string;
  readonly stream?: string;
}

/** points in a mm */
export const pt = 72 / 25.4;

export function pdfFile(
  pages: readonly TestPage[],
  objects: readonly TestObject[] = [],
  catalog = '',
  trailer = '',
): Uint8Array {
  const all = new Map<number, string>();
  const firstPage = 10;
  const kids = pages.map((_, i) => `${firstPage + 2 * i} 0 R`).join(' ');
  all.set(1, `<< /Type /Catalog /Pages 2 0 R ${catalog} >>`);
  all.set(2, `<< /Type /Pages /Count ${pages.length} /Kids [${kids}] >>`);
  all.set(3, '<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>');
  pages.forEach(({ content, mediaBox = [0, 0, 595.276, 841.89], extra = '', resources = '', filter }, i) => {
    const number = firstPage + 2 * i;
    all.set(
      number,
      `<< /Type /Page /Parent 2 0 R /MediaBox [${mediaBox.join(' ')}] /Contents ${number + 1} 0 R /Resources << /Font << /F1 3 0 R >> ${resources} >> ${extra} >>`,
    );
    all.set(number + 1, streamOf(filter === undefined ? '' : `/Filter ${filter}`, content));
  });
  for (const { number, dictionary, stream } of objects) {
    all.set(number, stream === undefined ? dictionary : streamOf(dictionary, stream));
  }
  let text = '%PDF-1.7\n';
  const at = new Map<number, number>();
  for (const [number, body] of all) {
    at.set(number, text.length);
    text += `${number} 0 obj\n${body}\nendobj\n`;
  }
  const size = Math.max(...all.keys()) + 1;
  const start = text.length;
  text += `xref\n0 ${size}\n0000000000 65535 f \n`;
  for (let number = 1; number < size; number++) {
    const offset = at.get(number);
    text += offset === undefined ? '0000000000 65535 f \n' : `${String(offset).padStart(10, '0')} 00000 n \n`;
  }
  text += `trailer\n<< /Size ${size} /Root 1 0 R ${trailer} >>\nstartxref\n${start}\n%%EOF\n`;
  return bytesOf(text);
}

function streamOf(dictionary: string, content: string): string {
  return `<< ${dictionary} /Length ${content.length} >>\nstream\n${content}\nendstream`;
}

/** One byte a character. */
export function bytesOf(text: string): Uint8Array {
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0) & 255);
}

export function textOfBytes(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return text;
}
