import { type Bounds, segmentBounds } from '../geometry/bounds';
import { flattenPath } from '../geometry/flatten';
import type { Point } from '../geometry/point';
import { line, type Path, type Segment } from '../geometry/segment';

/** mm. A curve that is cut at a border is drawn as straight steps this near to it; no eye sees that on the table. */
const drawnWithin = 0.05;

/** The parts of a path inside a box, for drawing only. */
export function clipPath(path: Path, box: Bounds): readonly Path[] {
  const parts: Segment[][] = [];
  let open: Segment[] | null = null;
  const add = (segment: Segment) => {
    const last = open?.at(-1)?.end;
    if (open === null || last === undefined || last.x !== segment.start.x || last.y !== segment.start.y) {
      open = [];
      parts.push(open);
    }
    open.push(segment);
  };
  for (const segment of path) {
    const bounds = segmentBounds(segment);
    if (isWithin(bounds, box)) {
      add(segment);
      continue;
    }
    if (isBeyond(bounds, box)) continue;
    const points = flattenPath([segment], drawnWithin);
    for (let i = 0; i + 1 < points.length; i++) {
      const part = clipLine(points[i]!, points[i + 1]!, box);
      if (part !== null) add(part);
    }
  }
  return parts;
}

function isWithin(bounds: Bounds, box: Bounds): boolean {
  return bounds.minX >= box.minX && bounds.minY >= box.minY && bounds.maxX <= box.maxX && bounds.maxY <= box.maxY;
}

function isBeyond(bounds: Bounds, box: Bounds): boolean {
  return bounds.maxX < box.minX || bounds.maxY < box.minY || bounds.minX > box.maxX || bounds.minY > box.maxY;
}

/** The part of a straight line inside a box, after Liang and Barsky (from memory); null when there is none. */
function clipLine(from: Point, to: Point, box: Bounds): Segment | null {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  let enters = 0;
  let leaves = 1;
  for (const [towards, room] of [
    [-dx, from.x - box.minX],
    [dx, box.maxX - from.x],
    [-dy, from.y - box.minY],
    [dy, box.maxY - from.y],
  ] as const) {
    if (towards === 0) {
      if (room < 0) return null;
    } else if (towards < 0) enters = Math.max(enters, room / towards);
    else leaves = Math.min(leaves, room / towards);
  }
  if (enters >= leaves) return null;
  const at = (t: number) => ({ x: from.x + dx * t, y: from.y + dy * t });
  return line(enters === 0 ? from : at(enters), leaves === 1 ? to : at(leaves));
}
