/** Values put in place of others, and pairs put between others. */
const values = [
  'NaN',
  'Infinity',
  '1e999',
  '-1e-999',
  '0',
  '-1',
  '1',
  '3',
  '7',
  '16',
  '64',
  '256',
  '1e6',
  '1e9',
  '1e-9',
  '0.5',
  '-250',
  '359.9',
  '1e5',
  '',
  ' ',
  '0x1F',
  '1,5',
  '99999999999999999999',
  '-0',
  'a',
  '*U1',
  'Pocket',
  'FRONT-M',
  '%%',
  '{\\f;',
  'é',
  '\u0000',
] as const;

const nasty = [
  '  0\nLINE\n',
  '  0\nPOLYLINE\n',
  '  0\nVERTEX\n',
  '  0\nSEQEND\n',
  '  0\nSPLINE\n',
  '  0\nENDSEC\n',
  '  0\nSECTION\n  2\nBLOCKS\n',
  '  0\nINSERT\n  2\nPocket\n',
  '  0\nINSERT\n  2\nButton\n 70\n9\n 71\n9\n',
  '  0\nBLOCK\n  2\nPocket\n',
  '  0\nENDBLK\n',
  '  0\nEOF\n',
  ' 42\n1\n',
  ' 42\n-1e6\n',
  '230\n-1\n',
  '230\n0\n',
  '210\n1\n',
  ' 67\n1\n',
  ' 60\n1\n',
  ' 70\n1\n',
  ' 70\n8\n',
  '1001\nX\n',
  '999\nx\n',
  ' 40\n1\n',
  ' 41\n0\n',
  ' 71\n5\n',
  ' 10\n5\n',
  ' 20\n5\n',
  '  8\n1\n',
  '\n',
  '\r',
  '-5\nx\n',
  '40000\nx\n',
  ' 11\n1\n 21\n2\n',
] as const;

/**
 * One to six wounds to a text file or, one time in eight, to a binary one. Half of the texts only have values changed, so
 * that they go further than a file cut in two.
 */
export function damagedBytes(
  texts: readonly string[],
  binaries: readonly Uint8Array[],
  random: () => number,
): Uint8Array {
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)]!;
  const wounds = 1 + Math.floor(random() * 6);
  if (random() < 0.125) return wounded(pick(binaries), wounds, random);
  const gentle = random() < 0.5;
  let text = pick(texts);
  for (let i = 0; i < wounds; i++) text = gentle ? valueChanged(text) : torn(text);
  return new TextEncoder().encode(text);

  function valueChanged(whole: string): string {
    const lines = whole.split('\n');
    const at = 2 * Math.floor((random() * lines.length) / 2) + 1;
    if (at < lines.length) lines[at] = random() < 0.3 ? String(random() * 1000) : pick(values);
    return lines.join('\n');
  }

  function torn(whole: string): string {
    const at = Math.floor(random() * (whole.length + 1));
    const span = Math.floor(random() ** 3 * 300);
    const [before, piece, after] = [whole.slice(0, at), whole.slice(at, at + span), whole.slice(at + span)];
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
        // Whole lines of another file, so that the pairs stay pairs.
        const other = pick(texts).split('\n');
        const from = 2 * Math.floor((random() * other.length) / 2);
        return insertedAtPair(whole, `${other.slice(from, from + 2 * Math.floor(random() * 12)).join('\n')}\n`);
      }
      default:
        return insertedAtPair(whole, pick(nasty));
    }
  }

  function insertedAtPair(whole: string, put: string): string {
    const lines = whole.split('\n');
    const at = 2 * Math.floor((random() * lines.length) / 2);
    return [...lines.slice(0, at), put.replace(/\n$/, ''), ...lines.slice(at)].join('\n');
  }
}

function wounded(bytes: Uint8Array, wounds: number, random: () => number): Uint8Array {
  let whole = [...bytes];
  for (let i = 0; i < wounds; i++) {
    const at = Math.floor(random() * whole.length);
    const kind = random();
    if (kind < 0.7) whole[at] = Math.floor(random() * 256);
    else if (kind < 0.8) whole = whole.slice(0, at);
    else whole.splice(at, Math.floor(random() * 20));
  }
  return new Uint8Array(whole);
}
