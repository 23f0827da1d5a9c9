/** Names of hues by the angle they end at, degrees round the usual colour circle from red over green and blue. Ours. */
const hues: readonly (readonly [number, string])[] = [
  [15, 'red'],
  [45, 'orange'],
  [70, 'yellow'],
  [165, 'green'],
  [195, 'turquoise'],
  [255, 'blue'],
  [290, 'purple'],
  [345, 'pink'],
  [360, 'red'],
];

/** A colour as a file writes it (`#rrggbb`, `#rgb`, `rgb(...)` or a word) in a word for the maker. */
export function colourWord(written: string): string {
  const rgb = readRgb(written.trim().toLowerCase());
  if (!rgb) return /^[a-z]{3,20}$/i.test(written.trim()) ? written.trim().toLowerCase() : 'another colour';
  const [r, g, b] = rgb;
  const most = Math.max(r, g, b);
  const least = Math.min(r, g, b);
  if (most - least < 0.15 * Math.max(most, 128)) {
    if (most < 64) return 'black';
    return least > 235 ? 'white' : most > 190 ? 'light grey' : most > 110 ? 'grey' : 'dark grey';
  }
  if (most < 48) return 'black';
  const angle = hueOf(r, g, b, most, most - least);
  const hue = hues.find(([end]) => angle <= end)?.[1] ?? 'red';
  if ((hue === 'orange' || hue === 'red') && most < 170 && least < 90 && g > 0.3 * r) return 'brown';
  if (most < 150) return `dark ${hue}`;
  return least > 150 ? `light ${hue}` : hue;
}

function hueOf(r: number, g: number, b: number, most: number, span: number): number {
  const sixths = most === r ? (g - b) / span : most === g ? 2 + (b - r) / span : 4 + (r - g) / span;
  return (60 * sixths + 360) % 360;
}

function readRgb(written: string): readonly [number, number, number] | null {
  const long = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/.exec(written);
  if (long) return [hex(long[1]!), hex(long[2]!), hex(long[3]!)];
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/.exec(written);
  if (short) return [17 * hex(short[1]!), 17 * hex(short[2]!), 17 * hex(short[3]!)];
  const parts = /^rgb\(\s*(\d{1,3})[\s,]+(\d{1,3})[\s,]+(\d{1,3})\s*\)$/.exec(written);
  return parts ? [Number(parts[1]), Number(parts[2]), Number(parts[3])] : null;
}

function hex(digits: string): number {
  return Number.parseInt(digits, 16);
}
