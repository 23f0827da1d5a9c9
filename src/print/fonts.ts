/** Name under which the embedded font is known in the PDF. */
export const embeddedFont = 'DejaVuSans';

/** Where the app serves the font; its licence lies beside it. */
export function fontUrl(): string {
  return new URL(`${import.meta.env.BASE_URL}fonts/DejaVuSans.ttf`, document.baseURI).href;
}

/** Whether a text has characters outside Latin-1, which the standard fonts of PDF cannot show. */
export function needsEmbeddedFont(text: string): boolean {
  for (const character of text) {
    const code = character.codePointAt(0)!;
    if (code > 0xff || (code >= 0x7f && code < 0xa0)) return true;
  }
  return false;
}
