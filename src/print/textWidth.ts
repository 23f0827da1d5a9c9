/**
 * Widths of Helvetica, thousandths of the em, for the characters from space to tilde.
 * Source: Adobe's font metrics for the 14 standard PDF fonts (from memory; held against the PDF library's own table by a test).
 */
const widths = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
  556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833,
  722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556,
  556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334,
  260, 334, 584,
];

/** Wide enough for most letters outside that range, in the embedded font as well. */
const otherWidth = 680;
/** Bold is at most this much wider, on average over words. */
const boldFactor = 1.09;

/** Width of a line of text, mm, for a font size in mm. An estimate, good to a few per cent; used only for layout. */
export function textWidth(text: string, size: number, bold = false): number {
  let sum = 0;
  for (const character of text) sum += widths[character.codePointAt(0)! - 32] ?? otherWidth;
  return (sum / 1000) * size * (bold ? boldFactor : 1);
}

/** Breaks a sentence into lines no wider than `width` mm. A single word that is wider stands alone. */
export function wrapText(text: string, size: number, width: number, bold = false): string[] {
  const lines: string[] = [];
  let current = '';
  for (const word of text.split(' ')) {
    const longer = current === '' ? word : `${current} ${word}`;
    if (current !== '' && textWidth(longer, size, bold) > width) {
      lines.push(current);
      current = word;
    } else {
      current = longer;
    }
  }
  if (current !== '') lines.push(current);
  return lines;
}

/** The text, shortened with three dots when it is wider than `width` mm. */
export function shortened(text: string, size: number, width: number, bold = false): string {
  if (textWidth(text, size, bold) <= width) return text;
  const characters = [...text];
  while (characters.length > 1 && textWidth(`${characters.join('')}...`, size, bold) > width) characters.pop();
  return `${characters.join('').trimEnd()}...`;
}
