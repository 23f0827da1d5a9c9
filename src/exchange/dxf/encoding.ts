import { dxfLimits } from './limits';

/** Code pages a file may name, and what a browser calls them. Windows pages are `windows-125x`. */
const pages: ReadonlyMap<string, string> = new Map([
  ['874', 'windows-874'],
  ['932', 'shift_jis'],
  ['936', 'gbk'],
  ['949', 'euc-kr'],
  ['950', 'big5'],
  ...Array.from({ length: 9 }, (_, i): [string, string] => [`125${i}`, `windows-125${i}`]),
]);

/** From this release on files are UTF-8 (status: from memory of the published DXF reference). */
const firstUnicode = 'AC1021';

const strict = new TextDecoder('utf-8', { fatal: true });

/** Also tells bytes apart that are no text: every byte is one letter in it. */
export const western = new TextDecoder('windows-1252');

/** Turns words into text by the release and the code page the file states; without those, UTF-8 where it is valid. */
export function decoderFor(bytes: Uint8Array): (words: Uint8Array) => string {
  const head = western.decode(bytes.subarray(0, dxfLimits.head));
  const release = /\$ACADVER\W{1,20}1?\W{1,20}(AC\d{4})/.exec(head)?.[1];
  const page = pages.get(/\$DWGCODEPAGE\W{1,20}3?\W{1,20}(?:ANSI|dos)_?(\d{3,4})/i.exec(head)?.[1] ?? '');
  const label = release !== undefined && release >= firstUnicode ? 'utf-8' : page;
  if (label !== undefined) {
    const decoder = new TextDecoder(label);
    return (words) => decoder.decode(words);
  }
  return (words) => {
    try {
      return strict.decode(words);
    } catch {
      return western.decode(words);
    }
  };
}

/** Words as a person reads them: `\U+00E9` is é, `%%d` a degree sign, `%%u` and its like only change the look. */
export function plainWords(words: string): string {
  return words
    .slice(0, 4 * dxfLimits.words)
    .replace(/\\U\+([0-9A-Fa-f]{4})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)))
    .replace(/%%([a-zA-Z%])/g, (_, sign: string) => signs[sign.toLowerCase()] ?? '')
    .replace(/\s+/g, ' ')
    .trim()
    .slice(0, dxfLimits.words);
}

const signs: Readonly<{ [sign: string]: string }> = { d: '°', c: '⌀', p: '±', '%': '%' };

/** The words of a text of several lines, without its formatting: `{\fArial;Front}\PSize 12` is "Front Size 12". */
export function plainParagraph(words: string): string {
  const bare = words
    .slice(0, 8 * dxfLimits.words)
    .replace(/\\[Pn~]/g, ' ')
    .replace(/\\[ACFHQTWacfhpqtw][^;\\{}]{0,80};/g, '')
    .replace(/\\S([^;\\{}]{0,40});/g, '$1')
    .replace(/\\[LlOoKk]/g, '')
    .replace(/\\([\\{}])|[{}]/g, (_, kept?: string) => kept ?? '');
  return plainWords(bare);
}
