import { distance, type Point } from '../geometry/point';
import { words } from './draw';
import type { DrawnItem } from './drawing';
import type { Ink } from './ink';
import { labelLines } from './labelText';
import type { PrintablePiece } from './printablePiece';
import { type Room, roomFor } from './roomFor';
import { textWidth } from './textWidth';
import type { Cell, TileGrid } from './tileGrid';

/** Font size of the plain lines, mm, and the smaller ones tried on small pieces. */
const sizes = [5, 4.2, 3.5, 2.9, 2.4];
const leading = 1.32;

/**
 * The label of a placed piece, where it fits inside the piece clear of its marks, if possible within one page and on a
 * page that is printed anyway. `outline` and `obstacles` are in sheet coordinates. Without room for even the smallest
 * size the label is centred on the outline's middle all the same: it must not be lost.
 */
export function labelItems(
  printable: PrintablePiece,
  outline: readonly Point[],
  obstacles: Ink,
  shift: Point,
  grid: TileGrid,
  cells: readonly Cell[],
): DrawnItem[] {
  const anchor = printable.piece.labelAt;
  const wanted = anchor ? { x: anchor.x + shift.x, y: anchor.y + shift.y } : null;
  for (const size of sizes) {
    const room = roomOf(printable, size);
    const at = roomFor(room, outline, obstacles, (centre) => {
      const crossing = crossesJoin(centre, room, grid) ? 60 : 0;
      const blank = isPrinted(centre, grid, cells) ? 0 : 200;
      return crossing + blank + (wanted ? distance(centre, wanted) : 0);
    });
    if (at) return label(printable, size, at);
  }
  return label(printable, sizes[sizes.length - 1]!, wanted ?? middle(outline));
}

function roomOf(printable: PrintablePiece, size: number): Room {
  const lines = labelLines(printable);
  return {
    width: Math.max(...lines.map((l) => textWidth(l.text, size * l.scale, l.bold))) + size,
    height: lines.reduce((sum, l) => sum + l.scale * size * leading, 0) + size * 0.6,
  };
}

function label(printable: PrintablePiece, size: number, centre: Point): DrawnItem[] {
  const lines = labelLines(printable);
  let y = centre.y - lines.reduce((sum, l) => sum + l.scale * size * leading, 0) / 2;
  return lines.map((l) => {
    y += l.scale * size * leading;
    return words(l.text, { x: centre.x, y: y - 0.33 * l.scale * size }, l.scale * size, {
      align: 'middle',
      bold: l.bold,
    });
  });
}

/** Whether the box comes into the strips at a line between pages, where it would be cut or printed twice. */
function crossesJoin(centre: Point, room: Room, grid: TileGrid): boolean {
  const clear = grid.overlap / 2 + 1;
  const cell = (v: number, pitch: number) => Math.floor(v / pitch);
  const halfX = room.width / 2 + clear;
  const halfY = room.height / 2 + clear;
  return (
    cell(centre.x - halfX, grid.pitchX) !== cell(centre.x + halfX, grid.pitchX) ||
    cell(centre.y - halfY, grid.pitchY) !== cell(centre.y + halfY, grid.pitchY)
  );
}

function isPrinted(p: Point, grid: TileGrid, cells: readonly Cell[]): boolean {
  const row = Math.floor(p.y / grid.pitchY);
  const column = Math.floor(p.x / grid.pitchX);
  return cells.some((c) => c.row === row && c.column === column);
}

function middle(outline: readonly Point[]): Point {
  const xs = outline.map((p) => p.x);
  const ys = outline.map((p) => p.y);
  return { x: (Math.min(...xs) + Math.max(...xs)) / 2, y: (Math.min(...ys) + Math.max(...ys)) / 2 };
}
