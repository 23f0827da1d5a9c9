import type { Path, Segment } from '../../geometry/segment';
import { endsMeet } from '../../geometry/tolerance';
import { type Affine, mapPath } from './affine';
import { controlBox } from './nearText';

/**
 * A stroke under a map, closed when it was said to be or when its ends meet there. Null when it has no extent or lies
 * beyond `largest`, the largest coordinate believed.
 */
export function placePath(
  segments: Path,
  closed: boolean,
  map: Affine,
  largest: number,
): { path: Path; closed: boolean } | null {
  const path = mapPath(map, segments);
  const box = controlBox(path);
  if (![box.minX, box.minY, box.maxX, box.maxY].every((value) => Math.abs(value) <= largest)) return null;
  const extent = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  if (!(extent > 0)) return null;
  const start = path[0]!.start;
  const last = path.at(-1)!;
  const apart = Math.hypot(last.end.x - start.x, last.end.y - start.y);
  if (path.length < 2 && last.kind === 'line') return { path, closed: false };
  if (apart > endsMeet * extent) return { path, closed };
  return { path: [...path.slice(0, -1), endingAt(last, start)], closed: true };
}

function endingAt(segment: Segment, end: Segment['end']): Segment {
  return { ...segment, end };
}
