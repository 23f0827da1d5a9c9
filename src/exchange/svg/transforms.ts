import { type Affine, affine, chain, identity } from '../drawing/affine';
import { svgLimits } from './limits';
import { NumberReader } from './numbers';

const radians = Math.PI / 180;

/**
 * A `transform` attribute as one map: matrix, translate, scale, rotate, skewX, skewY, any number of them, the first
 * written being the outermost. Null when it cannot be read, for then nobody knows where the shape belongs.
 */
export function readTransform(text: string): Affine | null {
  if (text.length > svgLimits.style) return null;
  const reader = new NumberReader(text);
  let map = identity;
  reader.skipSpace();
  while (!reader.done) {
    const step = readStep(reader);
    if (!step) return null;
    map = chain(map, step);
    reader.skipSeparator();
  }
  return Object.values(map).every(Number.isFinite) ? map : null;
}

function readStep(reader: NumberReader): Affine | null {
  const name = /[a-zA-Z]+/y;
  name.lastIndex = reader.at;
  const found = name.exec(reader.text);
  if (!found) return null;
  reader.at = name.lastIndex;
  reader.skipSpace();
  if (reader.text[reader.at] !== '(') return null;
  reader.at++;
  const n: number[] = [];
  reader.skipSpace();
  while (reader.text[reader.at] !== ')') {
    if (n.length > 0) reader.skipSeparator();
    const value = reader.number();
    if (value === null || n.length === 6) return null;
    n.push(value);
    reader.skipSpace();
  }
  reader.at++;
  return stepMap(found[0], n);
}

function stepMap(name: string, n: readonly number[]): Affine | null {
  const [x = 0, y = 0] = n;
  switch (`${name}/${n.length}`) {
    case 'matrix/6':
      return affine(x, y, n[2]!, n[3]!, n[4]!, n[5]!);
    case 'translate/1':
    case 'translate/2':
      return affine(1, 0, 0, 1, x, y);
    case 'scale/1':
      return affine(x, 0, 0, x, 0, 0);
    case 'scale/2':
      return affine(x, 0, 0, y, 0, 0);
    case 'rotate/1':
      return rotation(x);
    case 'rotate/3':
      return chain(affine(1, 0, 0, 1, y, n[2]!), chain(rotation(x), affine(1, 0, 0, 1, -y, -n[2]!)));
    case 'skewX/1':
      return affine(1, 0, Math.tan(x * radians), 1, 0, 0);
    case 'skewY/1':
      return affine(1, Math.tan(x * radians), 0, 1, 0, 0);
    default:
      return null;
  }
}

/** Quarter turns come out exact, so that a piece turned by 90 degrees keeps its straight lines straight to the last digit. */
function rotation(degrees: number): Affine {
  const quarter = (((degrees % 360) + 360) % 360) / 90;
  const exact = [
    affine(1, 0, 0, 1, 0, 0),
    affine(0, 1, -1, 0, 0, 0),
    affine(-1, 0, 0, -1, 0, 0),
    affine(0, -1, 1, 0, 0, 0),
  ];
  const known = exact[quarter];
  if (known) return known;
  const c = Math.cos(degrees * radians);
  const s = Math.sin(degrees * radians);
  return affine(c, s, -s, c, 0, 0);
}
