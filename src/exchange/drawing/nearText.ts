import type { Path } from '../../geometry/segment';

/** Words on the drawing and where they start, in the drawing's units. */
export interface PlacedText {
  readonly words: string;
  readonly x: number;
  readonly y: number;
  readonly size: number;
}

interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** How far outside a shape's box its name may stand, as a share of the box's diagonal. */
const nearShare = 0.15;

/** Box round all end points and handles; for a curve a little too large, which is enough to tell what stands near. A coordinate that is no number makes the box so. */
export function controlBox(path: Path): Box {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const segment of path) {
    const points =
      segment.kind === 'line'
        ? [segment.start, segment.end]
        : [segment.start, segment.control1, segment.control2, segment.end];
    for (const { x, y } of points) {
      minX = Math.min(minX, x);
      minY = Math.min(minY, y);
      maxX = Math.max(maxX, x);
      maxY = Math.max(maxY, y);
    }
  }
  return { minX, minY, maxX, maxY };
}

/** The words to offer as a shape's name: the largest inside its box, or else the nearest close by. */
export function textNear(box: Box, texts: readonly PlacedText[]): string | null {
  const reach = nearShare * Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
  let best: PlacedText | null = null;
  let bestAway = Number.POSITIVE_INFINITY;
  for (const text of texts) {
    const away = Math.hypot(
      Math.max(box.minX - text.x, 0, text.x - box.maxX),
      Math.max(box.minY - text.y, 0, text.y - box.maxY),
    );
    if (away > reach) continue;
    if (!best || away < bestAway || (away === bestAway && text.size > best.size)) {
      best = text;
      bestAway = away;
    }
  }
  return best?.words ?? null;
}
