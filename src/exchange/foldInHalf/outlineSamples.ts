import { segmentBounds } from '../../geometry/bounds';
import { type NearestPlace, nearestOnSegment } from '../../geometry/nearest';
import { distance, norm, type Point, quarterTurn, subtract, unit } from '../../geometry/point';
import { line, type Path, type Segment, segmentPointAt } from '../../geometry/segment';
import { unitTangentAt } from '../../geometry/tangent';
import { boxTree } from './boxTree';

/** A point of an outline that stands for `weight` mm of its length. */
export interface Sample {
  readonly p: Point;
  readonly weight: number;
}

/** The nearest place of an outline: how far (signed along `normal`), and the direction in which that distance grows. */
export interface Foot {
  readonly gap: number;
  readonly normal: Point;
}

/** Points on the outline itself, about `count` of them and no fewer than two to a segment; every joint is one. */
export function samplesOf(outline: Path, count: number): Sample[] {
  const rough = outline.map(roughLength);
  const step = rough.reduce((sum, length) => sum + length, 0) / count;
  return outline.flatMap((segment, i) => {
    const parts = Math.max(1, Math.ceil(rough[i]! / step));
    return Array.from({ length: parts }, (_, k) => ({
      p: segmentPointAt(segment, k / parts),
      weight: rough[i]! / parts,
    }));
  });
}

/** Finds feet on an outline; remembered by outline, since a fold that is dragged asks again with every move. */
export function footFinder(outline: Path): (p: Point) => Foot {
  const before = known.get(outline);
  if (before !== undefined) return before;
  const finder = outline.every(({ kind }) => kind === 'line')
    ? chainFootFinder(outline.map(({ start }) => start))
    : curveFootFinder(outline);
  known.set(outline, finder);
  return finder;
}

const known = new WeakMap<Path, (p: Point) => Foot>();

function curveFootFinder(outline: Path): (p: Point) => Foot {
  const tree = boxTree(outline.map(segmentBounds));
  let last = 0;
  return (p) => {
    let best: NearestPlace | null = null;
    const square = (i: number) => {
      const found = nearestOnSegment(outline[i]!, p);
      if (best === null || found.distance < best.distance) best = found;
      return found.distance * found.distance;
    };
    last = tree.nearest(p, square, last);
    const { t, point } = best! as NearestPlace;
    return footAt(outline[last]!, t, point, p);
  };
}

function footAt(segment: Segment, t: number, foot: Point, p: Point): Foot {
  const off = subtract(p, foot);
  const gap = norm(off);
  const normal = quarterTurn(unitTangentAt(segment, t));
  // Over a corner the distance grows straight away from it.
  if (gap > onChain && (t === 0 || t === 1)) return { gap, normal: unit(off) };
  return { gap: off.x * normal.x + off.y * normal.y, normal };
}

/** mm. Nearer than this the way to the foot has no direction that could be told. */
const onChain = 1e-7;

/** Finds feet on a closed chain of points, much faster and as true as its chords. */
export function chainFootFinder(chain: readonly Point[]): (p: Point) => Foot {
  const count = chain.length;
  const x = Float64Array.from(chain, (p) => p.x);
  const y = Float64Array.from(chain, (p) => p.y);
  const after = (i: number) => (i + 1 === count ? 0 : i + 1);
  const tree = boxTree(chain.map((p, i) => segmentBounds(line(p, chain[after(i)]!))));
  let last = 0;
  let px = 0;
  let py = 0;
  let offX = 0;
  let offY = 0;
  const square = (i: number) => {
    const j = after(i);
    const dx = x[j]! - x[i]!;
    const dy = y[j]! - y[i]!;
    const along = (px - x[i]!) * dx + (py - y[i]!) * dy;
    const share = Math.min(1, Math.max(0, along / (dx * dx + dy * dy || 1)));
    offX = px - x[i]! - share * dx;
    offY = py - y[i]! - share * dy;
    return offX * offX + offY * offY;
  };
  return (p) => {
    px = p.x;
    py = p.y;
    last = tree.nearest(p, square, last);
    const gap = Math.sqrt(square(last));
    if (gap > onChain) return { gap, normal: { x: offX / gap, y: offY / gap } };
    return { gap, normal: quarterTurn(unit(subtract(chain[after(last)]!, chain[last]!))) };
  };
}

function roughLength(segment: Segment): number {
  if (segment.kind === 'line') return distance(segment.start, segment.end);
  const { start, control1, control2, end } = segment;
  const polygon = distance(start, control1) + distance(control1, control2) + distance(control2, end);
  return (polygon + distance(start, end)) / 2;
}
