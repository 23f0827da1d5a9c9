/** Seeded damage to text files, for fuzzing. The same seed makes the same file. */

/** mulberry32 (public domain, T. Ettinger): a small generator with a whole period of 2^32. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Fragments that have broken readers of drawings before. */
const nasty = [
  'NaN',
  'Infinity',
  '-Infinity',
  '1e999',
  '-1e-999',
  '0',
  '-0',
  '1e9',
  '-1',
  '.',
  '-',
  '+',
  'e',
  ',',
  ';',
  '&',
  '&amp;',
  '&#x0;',
  '&lol;',
  '<',
  '>',
  '/>',
  '</g>',
  '<g>',
  '"',
  "'",
  '=',
  '<!--',
  '-->',
  '<![CDATA[',
  ']]>',
  '<!DOCTYPE svg [',
  ']>',
  '<?',
  '?>',
  ' transform="scale(0)"',
  ' transform="matrix(1 2 3 4 5"',
  ' transform="skewX(90)"',
  ' viewBox="0 0 0 0"',
  ' viewBox="1 1 -1 -1"',
  ' width="100mm"',
  ' height="0"',
  ' width="50%"',
  ' style="display:none"',
  ' style="transform:none"',
  ' xmlns="x"',
  ' xmlns:a=""',
  ' href="#a"',
  ' xlink:href="#self"',
  ' id="a"',
  ' id="self"',
  '<use href="#a"/>',
  '<use href="#self" id="self"/>',
  '<svg viewBox="0 0 1 1"><path d="M0 0h1"/></svg>',
  '<symbol id="a"><use href="#a"/></symbol>',
  '<style>*{</style>',
  '<style>@</style>',
  'M',
  'z',
  'Z',
  'A1 1 0 0 1 0 0',
  'a0,0,0,0,0',
  'A1e9 1e-9 45 1 1 1e9 1',
  'C',
  'q0 0 0 0',
  't',
  'S',
  'H',
  'v1e308',
  'Q1 1',
  'm0 0',
  'T9',
  '\u0000',
  '\ufffd',
  '\ud800',
  '\u2028',
  '\ufeff',
  'é',
  '\t\r\n',
  '🧵',
] as const;

/** Put in place of a number: a drawing with these in it is still well-formed, so it goes further than one cut in two. */
const valueWounds = [
  '0',
  '-1',
  '1e6',
  '1e9',
  '1e-9',
  '0.1',
  '359.9',
  '7',
  '-250',
  '1e5',
  'NaN',
  '',
  '1 2',
  '1 1 A 50 80 30 1 0 60 60',
  'Z M 5 5',
  'Q 9 9 90 90',
  'C -900 0 900 900 5 5',
  'S 7 7 8 8',
  'z',
  '1e999',
  '100mm',
  '3in',
  '50%',
  '2em',
] as const;

/**
 * One to six wounds. Half of the files are cut about anywhere (characters changed, stretches cut, doubled, swapped with
 * another file's, nasty fragments put in); the others only have their numbers changed.
 */
export function damaged(texts: readonly string[], random: () => number): string {
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)]!;
  const gentle = random() < 0.5;
  const wounds = 1 + Math.floor(random() * 6);
  let text = pick(texts);
  for (let i = 0; i < wounds; i++) {
    const at = Math.floor(random() * (text.length + 1));
    text = gentle
      ? numberChanged(text, at, random() < 0.3 ? String(random() * 1000) : pick(valueWounds))
      : torn(text, at);
  }
  return text;

  function torn(whole: string, at: number): string {
    const span = Math.floor(random() ** 3 * 200);
    const before = whole.slice(0, at);
    const piece = whole.slice(at, at + span);
    const after = whole.slice(at + span);
    switch (Math.floor(random() * 8)) {
      case 0:
        return before + String.fromCharCode(Math.floor(random() * 256)) + whole.slice(at + 1);
      case 1:
        return before + after;
      case 2:
        return before + piece + piece + after;
      case 3:
        return before;
      case 4: {
        const other = pick(texts);
        const from = Math.floor(random() * other.length);
        return before + other.slice(from, from + span) + after;
      }
      default:
        return before + pick(nasty) + whole.slice(at);
    }
  }
}

/** The first number after `at` becomes something else. */
function numberChanged(text: string, at: number, value: string): string {
  const number = /-?\d+(?:\.\d+)?/g;
  number.lastIndex = at;
  const found = number.exec(text);
  return found ? text.slice(0, found.index) + value + text.slice(found.index + found[0].length) : text;
}
