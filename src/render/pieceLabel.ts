import { containsPoint } from '../geometry/area';
import { pathBounds } from '../geometry/bounds';
import { type Point, point } from '../geometry/point';
import type { Path } from '../geometry/segment';
import type { ScenePiece } from '../gestures/scene';
import type { BlockPiece } from '../pattern/garment';
import type { Ink, Label } from './drawing';

/**
 * Name of the piece and how it is cut, small and quiet. It belongs to the block, so it stays put while strips swing; the
 * printed label has its own place, which slash lines may run through.
 */
export function placeLabel(piece: ScenePiece, ink: Ink): Label[] {
  const at = restingPlace(piece.block);
  return [
    { at, text: piece.block.name, ink, size: 14, bold: true, align: 'center' },
    { at, text: cutWords(piece.block), ink: 'ink-soft', size: 11.5, align: 'center', shift: [0, 17] },
  ];
}

function cutWords(block: BlockPiece): string {
  return block.fold === null ? `cut ${block.cutCount}` : `cut ${block.cutCount} on fold`;
}

/** Places to try, as shares of the piece's height and width, the best looking first. */
const downTries = [0.28, 0.31, 0.25, 0.36, 0.22, 0.4, 0.45, 0.5, 0.6] as const;
const acrossTries = [0.5, 0.45, 0.55, 0.6, 0.4, 0.65, 0.35] as const;

/** Room the words need round the place, mm. */
const room = { across: 40, above: 20, below: 32 };

/** A quiet place in the upper half of the piece, inside it and clear of its marks where there is one. */
function restingPlace(block: BlockPiece): Point {
  const outline = block.edges.flatMap((edge) => edge.path);
  const { minX, minY, maxX, maxY } = pathBounds(outline);
  const places = downTries.flatMap((down) =>
    acrossTries.map((across) => point(minX + (maxX - minX) * across, minY + (maxY - minY) * down)),
  );
  return places.find((place) => isInside(outline, place) && isClear(block, place)) ?? places[0]!;
}

function isInside(outline: Path, at: Point): boolean {
  const corners = [-room.across, room.across].flatMap((right) =>
    [-room.above, room.below].map((down) => point(at.x + right, at.y + down)),
  );
  return corners.every((corner) => containsPoint(outline, corner));
}

function isClear(block: BlockPiece, at: Point): boolean {
  const spots = [
    ...block.drillHoles.map((hole) => hole.at),
    ...block.darts.flatMap((dart) => [dart.apex, ...dart.legs]),
  ];
  const touchesSpot = spots.some(
    (p) => Math.abs(p.x - at.x) < room.across && p.y > at.y - room.above && p.y < at.y + room.below,
  );
  if (touchesSpot || block.grainline === null) return !touchesSpot;
  const { start, end } = block.grainline;
  const top = Math.min(start.y, end.y);
  const bottom = Math.max(start.y, end.y);
  const beside = Math.min(Math.abs(start.x - at.x), Math.abs(end.x - at.x));
  return beside > room.across || at.y + room.below < top || at.y - room.above > bottom;
}
