import type { Point } from '../../geometry/point';
import { line, type Segment } from '../../geometry/segment';
import { NumberReader } from './numbers';
import type { PathReading } from './pathData';

/**
 * Reads the `points` of a polyline, or of a polygon (`closed`). An odd number of coordinates, or something that is no
 * number, ends it there.
 */
export function readPoints(text: string, closed: boolean, mostSegments: number): PathReading {
  const reader = new NumberReader(text);
  const segments: Segment[] = [];
  let first: Point | null = null;
  let here: Point | null = null;
  let count = 0;
  let stoppedAt: number | null = null;
  reader.skipSpace();
  while (!reader.done && count <= mostSegments) {
    const at = reader.at;
    const next = readPair(reader);
    if (!next) {
      stoppedAt = at;
      break;
    }
    first ??= next;
    if (here && !same(here, next)) segments.push(line(here, next));
    here = next;
    count++;
    reader.skipSeparator();
  }
  if (closed && first && here && !same(here, first)) segments.push(line(here, first));
  const subPaths = segments.length > 0 ? [{ segments, closed }] : [];
  return { subPaths, stoppedAt, count, tooMany: count > mostSegments };
}

function readPair(reader: NumberReader): Point | null {
  const x = reader.number();
  if (x === null) return null;
  reader.skipSeparator();
  const y = reader.number();
  return y === null ? null : { x, y };
}

function same(a: Point, b: Point): boolean {
  return a.x === b.x && a.y === b.y;
}
