import { type Chain, median, normalsOf } from './chain';
import type { Picture } from './picture';
import type { PictureView } from './pictureView';
import { toPicture } from './viewPoint';

/** mm. The piece's own colour is read this far inside its edge. */
const ownFrom = -7;
const ownTo = -3;
const ownStep = 0.5;

/** mm. Depth of the strips on both sides of the edge that are looked at, and of the table's colour beyond. */
const stripDepth = 0.5;
const beyondDepth = 1.5;
const fine = 0.15;

/** What blur mixes is not looked at: so many dots, and no less than so many mm. */
const clearDots = 1.8;
const clearLeast = 0.35;

/** mm along the edge over which colours are taken together. */
const around = 15;

/** mm between the places that are looked at. */
const spacingWanted = 0.9;

/** Share of the difference between piece and table. Inside differs by no more, outside by no less, where the edge is right. */
const mostInside = 0.25;
const leastOutside = 0.35;

/** mm. A mark or thread crossing the edge is narrower than this. */
const widestMark = 2;

/**
 * Looks at an outline on the table (mm, inside at the right hand) without asking how it was found: 1 where the strip just
 * inside it has not the piece's own colour, or the strip just outside has. An edge that is half a millimetre to a
 * millimetre (on small pictures more) beside the true one shows in this way, and so does a thing lying on it.
 */
export function oddPlaces(picture: Picture, view: PictureView, chain: Chain, spacing: number, dot: number): Uint8Array {
  const n = chain.xs.length;
  const every = Math.max(1, Math.round(spacingWanted / spacing));
  const count = Math.floor(n / every);
  const normals = normalsOf(chain, Math.max(2, Math.round(3 / spacing)));
  const clear = Math.max(clearLeast, clearDots * dot);
  const inner = strip(-clear - stripDepth, -clear);
  const outer = strip(clear, clear + stripDepth);
  const beyond = strip(clear, clear + beyondDepth);
  const deep = Array.from({ length: Math.round((ownTo - ownFrom) / ownStep) + 1 }, (_, k) => ownFrom + k * ownStep);
  const reach = Math.max(clear + beyondDepth, -ownFrom);

  const rows = Array.from({ length: count }, (_, i) => {
    const j = i * every;
    const [x, y] = [chain.xs[j]!, chain.ys[j]!];
    const [ox, oy] = [normals.xs[j]! * reach, normals.ys[j]! * reach];
    // Over so short a way the view is straight.
    const a = toPicture(view, { x: x - ox, y: y - oy });
    const b = toPicture(view, { x: x + ox, y: y + oy });
    const read = (at: readonly number[]) =>
      at.map((mm) => {
        const t = (mm / reach + 1) / 2;
        return colourAt(picture, a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
      });
    return { deep: read(deep), inner: read(inner), outer: read(outer), beyond: read(beyond) };
  });

  const half = Math.min(count >> 1, Math.round(around / (every * spacing)));
  const own = [0, 1, 2].map((c) =>
    runningMedian(
      Float64Array.from(rows, (row) => median(row.deep.map((colour) => colour[c]!))),
      half,
    ),
  );
  const away = (of: 'deep' | 'inner' | 'outer' | 'beyond') =>
    Float64Array.from(rows, (row, i) => {
      const sum = row[of].reduce(
        (all, [r, g, b]) => all + Math.hypot(r - own[0]![i]!, g - own[1]![i]!, b - own[2]![i]!),
        0,
      );
      return sum / row[of].length;
    });
  const noise = median(away('deep'));
  const far = away('beyond');
  const usual = median(far);
  const contrast = runningMedian(far, half).map((there) => Math.max(1, Math.min(there, usual) - noise));
  const inside = away('inner').map((d, i) => Math.max(0, d - noise) / contrast[i]!);
  const outside = away('outer').map((d, i) => Math.max(0, d - noise) / contrast[i]!);
  const few = Math.max(1, Math.round(widestMark / (every * spacing)));
  const odd = lasting(
    Uint8Array.from(inside, (d, i) => (d > mostInside || outside[i]! < leastOutside ? 1 : 0)),
    few,
  );
  return Uint8Array.from({ length: n }, (_, j) => odd[Math.min(count - 1, Math.floor(j / every))]!);
}

function strip(from: number, to: number): number[] {
  return Array.from({ length: Math.round((to - from) / fine) + 1 }, (_, k) => from + k * fine);
}

/** Coded colour between four dots; that of the nearest outside the picture. */
function colourAt({ data, width, height }: Picture, px: number, py: number): readonly [number, number, number] {
  const x = Math.min(width - 1.001, Math.max(0, px - 0.5));
  const y = Math.min(height - 1.001, Math.max(0, py - 0.5));
  const column = Math.floor(x);
  const row = Math.floor(y);
  const [u, v] = [x - column, y - row];
  const at = 4 * (row * width + column);
  const below = at + 4 * width;
  const mix = (c: number) =>
    (data[at + c]! * (1 - u) + data[at + 4 + c]! * u) * (1 - v) +
    (data[below + c]! * (1 - u) + data[below + 4 + c]! * u) * v;
  return [mix(0), mix(1), mix(2)];
}

/** The middle value of the `half` places to each side, round the end. */
function runningMedian(values: Float64Array, half: number): Float64Array {
  const n = values.length;
  const near = new Float64Array(2 * half + 1);
  return values.map((_, i) => {
    for (let k = -half; k <= half; k++) near[k + half] = values[(i + k + n) % n]!;
    return median(near);
  });
}

/** The flags that stand in rows of more than `few`, round the end. */
function lasting(flags: Uint8Array, few: number): Uint8Array {
  const n = flags.length;
  const start = flags.indexOf(0);
  if (start < 0) return flags;
  const kept = new Uint8Array(n);
  let run = 0;
  for (let k = 1; k <= n; k++) {
    if (flags[(start + k) % n] === 1) run++;
    else {
      if (run > few) for (let b = 1; b <= run; b++) kept[(start + k - b + n) % n] = 1;
      run = 0;
    }
  }
  return kept;
}
