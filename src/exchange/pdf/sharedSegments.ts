import { distance, mix } from '../../geometry/point';
import { type Path, reverseSegment, type Segment } from '../../geometry/segment';
import { borderMatch } from '../../geometry/tolerance';
import { lookOf } from './lineEnds';
import type { SheetShape } from './sheetShapes';

interface Held {
  readonly segment: Segment;
  readonly page: number;
}

/**
 * Programs that draw on each page only the stretches of a line that touch it draw those at a border twice, on both
 * pages. Stretches already drawn on an earlier page are left out; what is left of a line stays in one or more parts.
 */
export function withoutSharedSegments(shapes: readonly SheetShape[]): {
  readonly shapes: readonly SheetShape[];
  readonly shared: number;
} {
  const cells = new Map<string, Held[]>();
  let shared = 0;
  const kept = shapes.flatMap((shape): SheetShape[] => {
    const look = `${lookOf(shape)}/${shape.filled}`;
    const isShared = shape.path.map((segment) => isHeld(cells, look, segment, shape.page));
    for (const segment of shape.path) {
      const [key] = keysOf(segment, look, 0) as [string];
      const held = cells.get(key);
      if (held) held.push({ segment, page: shape.page });
      else cells.set(key, [{ segment, page: shape.page }]);
    }
    const count = isShared.filter(Boolean).length;
    if (count === 0) return [shape];
    shared += count;
    return runsLeft(shape.path, isShared, shape.closed).map((path, i) => ({
      ...shape,
      id: i === 0 ? shape.id : `${shape.id}-part-${i + 1}`,
      path,
      closed: false,
    }));
  });
  return { shapes: kept, shared };
}

/** The stretches of a path that are not shared; of a closed one, the stretch over its start in one piece. */
function runsLeft(path: Path, isShared: readonly boolean[], closed: boolean): Path[] {
  const from = closed ? Math.max(0, isShared.indexOf(true)) : 0;
  const runs: Segment[][] = [];
  let open = false;
  for (let k = 0; k < path.length; k++) {
    const i = (from + k) % path.length;
    if (isShared[i]) {
      open = false;
      continue;
    }
    if (open) runs.at(-1)!.push(path[i]!);
    else runs.push([path[i]!]);
    open = true;
  }
  return runs;
}

function isHeld(cells: ReadonlyMap<string, readonly Held[]>, look: string, segment: Segment, page: number): boolean {
  const back = reverseSegment(segment);
  return keysOf(segment, look, borderMatch).some((key) =>
    cells
      .get(key)
      ?.some((held) => held.page !== page && (areSame(held.segment, segment) || areSame(held.segment, back))),
  );
}

/** mm. Middles of equal segments fall into the same or a neighbouring cell. */
const cell = 2;

function keysOf({ start, end }: Segment, look: string, give: number): string[] {
  const middle = mix(start, end, 0.5);
  const steps = (value: number) =>
    [...new Set(give === 0 ? [value] : [value - give, value + give])].map((v) => Math.floor(v / cell));
  return steps(middle.x).flatMap((x) => steps(middle.y).map((y) => `${look}/${x},${y}`));
}

function areSame(a: Segment, b: Segment): boolean {
  if (a.kind !== b.kind || distance(a.start, b.start) > borderMatch || distance(a.end, b.end) > borderMatch)
    return false;
  if (a.kind === 'line' || b.kind === 'line') return true;
  return distance(a.control1, b.control1) <= borderMatch && distance(a.control2, b.control2) <= borderMatch;
}
