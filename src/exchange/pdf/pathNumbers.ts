import type { Point } from '../../geometry/point';
import { cubic, line, type Path, type Segment } from '../../geometry/segment';
import { endsMeet } from '../../geometry/tolerance';
import { type Affine, mapPoint } from '../drawing/affine';
import { controlBox } from '../drawing/nearText';
import { pdfLimits } from './limits';
import { pathOp } from './operators';

/** One stroke of a path, mm on the page. */
export interface Stroke {
  readonly path: Path;
  readonly closed: boolean;
}

export interface Strokes {
  readonly strokes: readonly Stroke[];
  /** Segments met, those of no use included. */
  readonly count: number;
  /** Strokes with a coordinate that is no number or impossibly far out. */
  readonly tooFar: number;
}

/** The strokes a path's numbers spell out. An area of colour (`filled`) is closed whether it says so or not. */
export function readStrokes(numbers: ArrayLike<number>, map: Affine, filled: boolean): Strokes {
  const strokes: Stroke[] = [];
  let tooFar = 0;
  let count = 0;
  let segments: Segment[] = [];
  let start: Point = mapPoint(map, { x: 0, y: 0 });
  let here = start;
  let closedByWord = false;
  const finish = () => {
    if (segments.length > 0) {
      const stroke = finished(segments, closedByWord || filled);
      if (stroke === 'too-far') tooFar++;
      else if (stroke) strokes.push(stroke);
    }
    segments = [];
    closedByWord = false;
  };
  const at = (i: number): Point => mapPoint(map, { x: numbers[i] ?? Number.NaN, y: numbers[i + 1] ?? Number.NaN });
  for (let i = 0; i < numbers.length; ) {
    const code = numbers[i];
    i++;
    if (code === pathOp.move) {
      finish();
      start = at(i);
      here = start;
      i += 2;
      continue;
    }
    if (code === pathOp.close) {
      closedByWord = true;
      finish();
      here = start;
      continue;
    }
    count++;
    if (code === pathOp.line) {
      const end = at(i);
      if (end.x !== here.x || end.y !== here.y) segments.push(line(here, end));
      here = end;
      i += 2;
    } else if (code === pathOp.cubic) {
      const end = at(i + 4);
      segments.push(cubic(here, at(i), at(i + 2), end));
      here = end;
      i += 6;
    } else if (code === pathOp.quadratic) {
      const middle = at(i);
      const end = at(i + 2);
      segments.push(cubic(here, towards(here, middle), towards(end, middle), end));
      here = end;
      i += 4;
    } else break;
  }
  finish();
  return { strokes, count, tooFar };
}

/** Two thirds of the way: a quadratic's handle as a cubic's. */
function towards(from: Point, to: Point): Point {
  return { x: from.x + (2 / 3) * (to.x - from.x), y: from.y + (2 / 3) * (to.y - from.y) };
}

function finished(segments: Segment[], close: boolean): Stroke | 'too-far' | null {
  const box = controlBox(segments);
  const sides = [box.minX, box.minY, box.maxX, box.maxY];
  if (!sides.every((side) => Math.abs(side) <= pdfLimits.coordinate)) return 'too-far';
  const extent = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  if (!(extent > 0)) return null;
  const start = segments[0]!.start;
  const last = segments.at(-1)!;
  const apart = Math.hypot(last.end.x - start.x, last.end.y - start.y);
  // A single straight line stays open even where it is closed by word: back and forth is one line.
  if (segments.length < 2 && last.kind === 'line') return { path: segments, closed: false };
  if (apart <= endsMeet * extent) return { path: [...segments.slice(0, -1), { ...last, end: start }], closed: true };
  return close ? { path: [...segments, line(last.end, start)], closed: true } : { path: segments, closed: false };
}
