import { distance, type Point } from '../../geometry/point';
import { type LightPatch, lightPatch } from './lightPatch';
import type { Picture } from './picture';
import type { PictureView } from './pictureView';
import { toPicture, toTable } from './viewPoint';

export interface Snapped {
  /** mm. */
  readonly at: Point;
  /** The middle of a dark line, or the place of a step from light to dark. */
  readonly kind: 'line' | 'edge';
}

/** mm. Cells of the patch looked at are at least this large, so that a fine scan takes no longer than a photograph. */
const finestCell = 0.18;

/** mm. Blur before lines are looked for: a pen line of up to 1.3 mm then has one ridge, not two sides. */
const lineBlur = 0.4;

/** Cells. Patches reach no farther than this, whatever reach is asked for. */
const mostCells = 45;

/** Parts of white light. A line or step of less cannot be told from noise. */
const faintest = 0.025;

/** Ratio. A line or step this much weaker than the strongest in reach is passed over. */
const muchWeaker = 0.35;

/** A place on a line or edge within the patch, cells, with its unit normal. */
interface Candidate {
  readonly x: number;
  readonly y: number;
  readonly nx: number;
  readonly ny: number;
  readonly strength: number;
}

/**
 * The nearest place on the middle of a dark line within `reach` mm of a place on the table, or where there is none on a
 * strong edge; null when there is neither. Lines are found where the brightness along the sharpest bend has its lowest
 * place within a dot (C. Steger, An unbiased detector of curvilinear structures, 1998, from memory), edges where the
 * slope is steepest; a straight line through the places around then gives the answer to a tenth of a dot or so.
 */
export function snapToLine(picture: Picture, view: PictureView, at: Point, reach: number): Snapped | null {
  const dot = toPicture(view, at);
  const beside = toPicture(view, { x: at.x + 0.5, y: at.y });
  const below = toPicture(view, { x: at.x, y: at.y + 0.5 });
  const mmPerDot = 0.5 / Math.sqrt(distance(dot, beside) * distance(dot, below));
  if (!Number.isFinite(mmPerDot) || !(reach > 0)) return null;
  const cell = Math.max(1, Math.floor(finestCell / mmPerDot));
  const mmPerCell = cell * mmPerDot;
  const blur = Math.min(2.5, Math.max(0.8, lineBlur / mmPerCell));
  const near = Math.min(mostCells, reach / mmPerCell);
  const patch = lightPatch(picture, dot.x, dot.y, Math.ceil(near) + Math.ceil(3 * blur) + 4, cell, blur);
  const own = { x: (dot.x - patch.left) / cell - 0.5, y: (dot.y - patch.top) / cell - 0.5 };
  for (const kind of ['line', 'edge'] as const) {
    const found = nearest(kind === 'line' ? linesIn(patch, blur) : edgesIn(patch, blur), own, near);
    if (!found) continue;
    return {
      at: toTable(view, { x: patch.left + (found.x + 0.5) * cell, y: patch.top + (found.y + 0.5) * cell }),
      kind,
    };
  }
  return null;
}

function linesIn({ size, data }: LightPatch, blur: number): Candidate[] {
  const found: Candidate[] = [];
  const side = 2 * blur + 1;
  for (let y = 1; y < size - 1; y++) {
    for (let x = 1; x < size - 1; x++) {
      const i = y * size + x;
      const here = data[i]!;
      const gx = (data[i + 1]! - data[i - 1]!) / 2;
      const gy = (data[i + size]! - data[i - size]!) / 2;
      const xx = data[i + 1]! - 2 * here + data[i - 1]!;
      const yy = data[i + size]! - 2 * here + data[i - size]!;
      const xy = (data[i + size + 1]! - data[i + size - 1]! - data[i - size + 1]! + data[i - size - 1]!) / 4;
      const bend = (xx + yy) / 2 + Math.sqrt(((xx - yy) / 2) ** 2 + xy * xy);
      if (!(bend * blur * blur > faintest / 3)) continue;
      const length = Math.hypot(xy, bend - xx) || 1;
      const [nx, ny] = Math.abs(xy) < 1e-12 ? (xx >= yy ? [1, 0] : [0, 1]) : [xy / length, (bend - xx) / length];
      const t = -(gx * nx + gy * ny) / bend;
      if (!(Math.abs(t * nx) <= 0.6 && Math.abs(t * ny) <= 0.6)) continue;
      const one = valueAt(data, size, x + nx * side, y + ny * side) - here;
      const other = valueAt(data, size, x - nx * side, y - ny * side) - here;
      const strength = Math.min(one, other);
      // The dark foot of a step is bent too, but darker than one side only.
      if (!(strength > faintest && strength > 0.4 * Math.max(one, other))) continue;
      found.push({ x: x + t * nx, y: y + t * ny, nx, ny, strength });
    }
  }
  return found;
}

function edgesIn({ size, data }: LightPatch, blur: number): Candidate[] {
  const found: Candidate[] = [];
  const slopeAt = (x: number, y: number, nx: number, ny: number) =>
    valueAt(data, size, x + nx / 2, y + ny / 2) - valueAt(data, size, x - nx / 2, y - ny / 2);
  for (let y = 2; y < size - 2; y++) {
    for (let x = 2; x < size - 2; x++) {
      const i = y * size + x;
      const gx = (data[i + 1]! - data[i - 1]!) / 2;
      const gy = (data[i + size]! - data[i - size]!) / 2;
      const slope = Math.hypot(gx, gy);
      // A step blurred by `blur` has a slope of 0.4 of its height over the blur.
      const strength = (slope * blur) / 0.4;
      if (!(strength > 2 * faintest)) continue;
      const nx = gx / slope;
      const ny = gy / slope;
      const before = slopeAt(x - nx, y - ny, nx, ny);
      const now = slopeAt(x, y, nx, ny);
      const after = slopeAt(x + nx, y + ny, nx, ny);
      const bend = before - 2 * now + after;
      if (!(bend < 0)) continue;
      const t = (0.5 * (before - after)) / bend;
      if (!(Math.abs(t * nx) <= 0.6 && Math.abs(t * ny) <= 0.6)) continue;
      found.push({ x: x + t * nx, y: y + t * ny, nx, ny, strength });
    }
  }
  return found;
}

function valueAt(data: Float64Array, size: number, x: number, y: number): number {
  const x0 = Math.floor(x);
  const y0 = Math.floor(y);
  if (!(x0 >= 0 && y0 >= 0 && x0 < size - 1 && y0 < size - 1)) return Number.NaN;
  const fx = x - x0;
  const fy = y - y0;
  const i = y0 * size + x0;
  return (
    (1 - fy) * ((1 - fx) * data[i]! + fx * data[i + 1]!) + fy * ((1 - fx) * data[i + size]! + fx * data[i + size + 1]!)
  );
}

/** The place nearest to `own` on a line through the candidates around the nearest strong one. */
function nearest(candidates: readonly Candidate[], own: Point, near: number): Point | null {
  const within = candidates.filter((c) => distance(c, own) <= near);
  const strongest = within.reduce((most, c) => Math.max(most, c.strength), 0);
  let best: Candidate | null = null;
  for (const c of within) {
    if (c.strength >= muchWeaker * strongest && (!best || distance(c, own) < distance(best, own))) best = c;
  }
  if (!best) return null;
  const { x, y, nx, ny } = best;
  // Its neighbours along the line, each weighed by its strength: across = a + b * along.
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let b0 = 0;
  let b1 = 0;
  for (const c of candidates) {
    const along = (c.y - y) * nx - (c.x - x) * ny;
    const across = (c.x - x) * nx + (c.y - y) * ny;
    if (Math.abs(along) > 3.5 || Math.abs(across) > 1 || Math.abs(c.nx * nx + c.ny * ny) < 0.9) continue;
    s0 += c.strength;
    s1 += c.strength * along;
    s2 += c.strength * along * along;
    b0 += c.strength * across;
    b1 += c.strength * across * along;
  }
  const determinant = s0 * s2 - s1 * s1;
  const lean = determinant > 1e-9 * s0 * s0 ? (s0 * b1 - s1 * b0) / determinant : 0;
  const level = (b0 - lean * s1) / s0;
  // The foot of the perpendicular from the pointer, no farther than the neighbours reach.
  const ownAlong = (own.y - y) * nx - (own.x - x) * ny;
  const ownAcross = (own.x - x) * nx + (own.y - y) * ny;
  const along = Math.max(-3, Math.min(3, (ownAlong + lean * (ownAcross - level)) / (1 + lean * lean)));
  const across = level + lean * along;
  return { x: x + across * nx - along * ny, y: y + across * ny + along * nx };
}
