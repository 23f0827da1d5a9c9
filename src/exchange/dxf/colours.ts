/** The nine named colours of the index (status: from memory). 7 is drawn black on paper, white on a dark screen. */
const named = [
  '#ff0000',
  '#ffff00',
  '#00ff00',
  '#00ffff',
  '#0000ff',
  '#ff00ff',
  '#000000',
  '#414141',
  '#808080',
] as const;

/** Brightness of the five rows of the colour wheel, and the greys at the end (status: from memory). */
const rows = [255, 189, 129, 104, 79] as const;
const greys = [51, 80, 105, 130, 190, 255] as const;

/**
 * `#rrggbb` of an AutoCAD colour index: 1 to 9 by name, 10 to 249 a wheel of 24 hues in ten strengths (computed; status of
 * the layout: from memory), 250 to 255 greys. Null for anything else. Only used to tell lines apart.
 */
export function indexColour(index: number): string | null {
  if (!Number.isInteger(index) || index < 1 || index > 255) return null;
  if (index < 10) return named[index - 1]!;
  if (index >= 250) return hex([greys[index - 250]!, greys[index - 250]!, greys[index - 250]!]);
  const hue = Math.floor(index / 10) - 1;
  const brightest = rows[Math.floor((index % 10) / 2)]!;
  const least = index % 2 === 1 ? (2 / 3) * brightest : 0;
  // 24 hues: four steps from each of the six pure colours to the next.
  const part = (shift: number) => {
    const step = (hue + shift) % 24;
    if (step <= 4 || step >= 20) return 1;
    if (step >= 8 && step <= 16) return 0;
    return step < 8 ? (8 - step) / 4 : (step - 16) / 4;
  };
  return hex([part(0), part(16), part(8)].map((share) => Math.floor(least + (brightest - least) * share)));
}

/** `#rrggbb` of a colour written as one number of 24 bits; null when it is none. */
export function trueColour(value: number): string | null {
  if (!Number.isInteger(value) || value < 0 || value > 0xffffff) return null;
  return `#${value.toString(16).padStart(6, '0')}`;
}

function hex(channels: readonly number[]): string {
  return `#${channels.map((channel) => channel.toString(16).padStart(2, '0')).join('')}`;
}
