import { type Bounds, noBounds, unionBounds } from '../geometry/bounds';
import { nearestOnPath } from '../geometry/nearest';
import type { Point } from '../geometry/point';
import { type CubicSegment, line, type Path, type Segment } from '../geometry/segment';

/** A run of lines that is painted in one go or not at all. */
export interface Bundle {
  readonly bounds: Bounds;
  /** Each begins where the one before it ends, or anew. */
  readonly strands: readonly Strand[];
}

export interface Strand {
  readonly segments: readonly Segment[];
  /** Its last end meets its first start, and it is drawn as closed. */
  readonly closed: boolean;
}

/** Lines and curves in one bundle: browsers stroke many short runs faster than a long one. */
export const mostInBundle = 400;

/** Cells of the grid, each way, by which what lies near one another is bundled. */
const cells = 12;

/**
 * Parts lines into bundles that lie together, so that those out of sight can be passed over. A line longer than a bundle is
 * cut, unless `whole`, which keeps the rhythm of its dashes.
 */
export function bundle(paths: readonly Path[], whole: boolean): readonly Bundle[] {
  const strands = paths.filter((path) => path.length > 0).flatMap((path) => (whole ? [strandOf(path)] : cut(path)));
  const laid = strands.map((strand) => ({ strand, bounds: hullBounds(strand.segments) }));
  const all = laid.reduce((sum, { bounds }) => unionBounds(sum, bounds), noBounds);
  const size = Math.max(all.maxX - all.minX, all.maxY - all.minY, 1e-9) / cells;
  const byCell = new Map<number, { strand: Strand; bounds: Bounds }[]>();
  for (const one of laid) {
    const column = Math.floor(((one.bounds.minX + one.bounds.maxX) / 2 - all.minX) / size);
    const row = Math.floor(((one.bounds.minY + one.bounds.maxY) / 2 - all.minY) / size);
    const key = row * (cells + 1) + column;
    const there = byCell.get(key);
    if (there === undefined) byCell.set(key, [one]);
    else there.push(one);
  }
  const bundles: Bundle[] = [];
  for (const there of byCell.values()) {
    let strands: Strand[] = [];
    let bounds = noBounds;
    let count = 0;
    for (const one of there) {
      if (count > 0 && count + one.strand.segments.length > mostInBundle) {
        bundles.push({ bounds, strands });
        strands = [];
        bounds = noBounds;
        count = 0;
      }
      strands.push(one.strand);
      bounds = unionBounds(bounds, one.bounds);
      count += one.strand.segments.length;
    }
    bundles.push({ bounds, strands });
  }
  return bundles;
}

/** Encloses the handles too: far quicker than the exact bounds, and no smaller. */
function hullBounds(path: Path): Bounds {
  let { minX, minY, maxX, maxY } = noBounds;
  const include = ({ x, y }: Point) => {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  };
  for (const segment of path) {
    include(segment.start);
    include(segment.end);
    if (segment.kind === 'line') continue;
    include(segment.control1);
    include(segment.control2);
  }
  return { minX, minY, maxX, maxY };
}

export function strandOf(path: Path): Strand {
  const first = path[0]!.start;
  const last = path.at(-1)!.end;
  return { segments: path, closed: first.x === last.x && first.y === last.y };
}

function cut(path: Path): Strand[] {
  if (path.length <= mostInBundle) return [strandOf(path)];
  const parts: Strand[] = [];
  for (let from = 0; from < path.length; from += mostInBundle) {
    parts.push({ segments: path.slice(from, from + mostInBundle), closed: false });
  }
  return parts;
}

/** Takes what is drawn of a strand, point by point. `Path2D` is one. */
export interface LineSink {
  moveTo(x: number, y: number): void;
  lineTo(x: number, y: number): void;
  bezierCurveTo(ax: number, ay: number, bx: number, by: number, x: number, y: number): void;
  closePath(): void;
}

/**
 * Draws a strand without the steps that stay within `apart` mm of where they began; its ends are kept. Curves
 * whose handles lie as near to their chord are drawn straight. Nothing drawn lies three times `apart` off the line.
 */
export function drawStrand({ segments, closed }: Strand, apart: number, sink: LineSink): void {
  const { start } = segments[0]!;
  let at = start;
  sink.moveTo(start.x, start.y);
  const last = segments.length - 1;
  for (const [index, segment] of segments.entries()) {
    if (index < last && staysNear(segment, at, apart)) continue;
    at = segment.end;
    // A curve that follows steps left out begins where they began: by less than can be seen.
    if (segment.kind === 'line' || isFlat(segment, apart)) sink.lineTo(at.x, at.y);
    else {
      const { control1: a, control2: b } = segment;
      sink.bezierCurveTo(a.x, a.y, b.x, b.y, at.x, at.y);
    }
  }
  if (closed) sink.closePath();
}

function staysNear(segment: Segment, at: Point, apart: number): boolean {
  if (!isNear(segment.end, at, apart)) return false;
  return segment.kind === 'line' || (isNear(segment.control1, at, apart) && isNear(segment.control2, at, apart));
}

/** A curve never leaves the hull of its ends and handles. */
function isFlat({ start, control1, control2, end }: CubicSegment, apart: number): boolean {
  const chord = [line(start, end)];
  return [control1, control2].every((control) => nearestOnPath(chord, control).distance <= apart);
}

function isNear(a: Point, b: Point, apart: number): boolean {
  return Math.abs(a.x - b.x) <= apart && Math.abs(a.y - b.y) <= apart;
}
