import type { Bounds } from '../geometry/bounds';
import { add, type Point } from '../geometry/point';
import { type Ink, inkBounds, shiftInk } from './ink';
import { addCellsInside, type Cell, CellSet, inkedCells, type TileGrid } from './tileGrid';

/** Where a piece lies on the sheet, and the pages it needs. */
export interface Placement {
  readonly shift: Point;
  readonly cells: readonly Cell[];
}

/** What a piece needs of the paper: where it puts ink, and its cut line as points (none for what is not cut out). */
export interface Footprint {
  readonly ink: Ink;
  readonly outline: readonly Point[];
}

export interface Packing {
  readonly placements: readonly Placement[];
  /** True when pieces share pages; false when every piece has pages of its own. */
  readonly shared: boolean;
}

/** Free space between a piece and the edge of what is printed, mm. */
const clearance = 2;
/** Free space between pieces that share pages, mm: room for scissors. */
const gap = 8;
/** Positions tried across the room that is left on the pages of a piece. */
const triesPerAxis = 5;

/**
 * Lays pieces on the grid of pages, never turned. Each piece gets a block of pages of its own, in the position that
 * needs fewest; only when laying pieces beside each other on common pages saves paper do they share pages.
 */
export function packPieces(pieces: readonly Footprint[], grid: TileGrid): Packing {
  const own = ownBlocks(pieces, grid);
  if (pieces.length < 2) return { placements: own, shared: false };
  const common = commonSheet(pieces, grid, pageCount(own));
  return common ? { placements: common, shared: true } : { placements: own, shared: false };
}

/** Different cells of all placements. */
function pageCount(placements: readonly Placement[]): number {
  const all = new CellSet();
  for (const p of placements) for (const cell of p.cells) all.add(cell.row, cell.column);
  return all.size;
}

/** The pages a shifted piece needs: those with ink, and those that lie inside it, so that its paper has no holes. */
function neededCells({ ink, outline }: Footprint, shift: Point, grid: TileGrid): readonly Cell[] {
  const cells = inkedCells(shiftInk(ink, shift), grid);
  addCellsInside(
    cells,
    outline.map((p) => add(p, shift)),
    grid,
  );
  return cells.inOrder();
}

function ownBlocks(pieces: readonly Footprint[], grid: TileGrid): Placement[] {
  const blocks = pieces.map((piece) => bestBlock(piece, grid));
  const total = blocks.reduce((sum, b) => sum + b.rows * b.columns, 0);
  const widest = Math.max(...blocks.map((b) => b.columns));
  const limit = Math.max(widest, Math.ceil(Math.sqrt(total) * 1.4));
  const placements: Placement[] = [];
  let top = 0;
  let left = 0;
  let shelf = 0;
  for (const block of blocks) {
    if (left > 0 && left + block.columns > limit) {
      top += shelf;
      left = 0;
      shelf = 0;
    }
    placements.push({
      shift: { x: block.shift.x + left * grid.pitchX, y: block.shift.y + top * grid.pitchY },
      cells: block.cells.map((c) => ({ row: c.row + top, column: c.column + left })),
    });
    left += block.columns;
    shelf = Math.max(shelf, block.rows);
  }
  return placements;
}

interface Block {
  readonly rows: number;
  readonly columns: number;
  readonly shift: Point;
  readonly cells: readonly Cell[];
}

/** The position of one piece on cells counted from row 0, column 0 that needs fewest pages. */
function bestBlock(piece: Footprint, grid: TileGrid): Block {
  const bounds = inkBounds(piece.ink);
  const across = positions(bounds.maxX - bounds.minX, grid.pitchX, grid.overlap);
  const down = positions(bounds.maxY - bounds.minY, grid.pitchY, grid.overlap);
  let best: Block | null = null;
  for (const y of down.starts) {
    for (const x of across.starts) {
      const shift = { x: x - bounds.minX, y: y - bounds.minY };
      const cells = neededCells(piece, shift, grid);
      if (!best || cells.length < best.cells.length) {
        best = { rows: down.count, columns: across.count, shift, cells };
      }
    }
  }
  return best!;
}

/** How many cells a length needs, and starts to try, the one in the middle first. The outer overlap strips may be used too. */
function positions(length: number, pitch: number, overlap: number): { count: number; starts: number[] } {
  const count = Math.max(1, Math.ceil((length + 2 * clearance - overlap) / pitch));
  const first = clearance - overlap / 2;
  const slack = count * pitch + overlap - 2 * clearance - length;
  const fractions = Array.from({ length: triesPerAxis }, (_, i) => i / (triesPerAxis - 1));
  fractions.sort((a, b) => Math.abs(a - 0.5) - Math.abs(b - 0.5));
  return { count, starts: fractions.map((f) => first + f * slack) };
}

/** Pieces side by side on shelves over common pages; null unless that needs fewer pages than `limit`. */
function commonSheet(pieces: readonly Footprint[], grid: TileGrid, limit: number): Placement[] | null {
  const bounds = pieces.map(({ ink }) => inkBounds(ink));
  const order = pieces.map((_, i) => i).sort((a, b) => height(bounds[b]!) - height(bounds[a]!) || a - b);
  const widest = Math.max(...bounds.map(width));
  const widthSum = bounds.reduce((sum, b) => sum + width(b) + gap, 0);
  const least = Math.max(1, Math.ceil((widest + 2 * clearance - grid.overlap) / grid.pitchX));
  const most = Math.max(least, Math.ceil(widthSum / grid.pitchX));
  let best: Placement[] | null = null;
  let bestCount = limit;
  let bestSpan = 0;
  for (let columns = least; columns <= Math.min(most, least + 7); columns++) {
    const shifts = shelves(order, bounds, columns * grid.pitchX + grid.overlap, grid);
    const placements = pieces.map((piece, i) => ({
      shift: shifts[i]!,
      cells: neededCells(piece, shifts[i]!, grid),
    }));
    const count = pageCount(placements);
    const span = spanOf(placements);
    if (count < bestCount || (best && count === bestCount && span < bestSpan)) {
      best = placements;
      bestCount = count;
      bestSpan = span;
    }
  }
  return best;
}

/** Rows and columns of the sheet together: of two sheets of as many pages the squarer one is handier. */
function spanOf(placements: readonly Placement[]): number {
  const cells = placements.flatMap((p) => p.cells);
  return Math.max(...cells.map((c) => c.row)) + Math.max(...cells.map((c) => c.column));
}

function shelves(order: readonly number[], bounds: readonly Bounds[], sheetWidth: number, grid: TileGrid): Point[] {
  const shifts: Point[] = [];
  const edge = clearance - grid.overlap / 2;
  let top = edge;
  let left = edge;
  let shelf = 0;
  for (const i of order) {
    const b = bounds[i]!;
    if (left > edge && left + width(b) + clearance > sheetWidth - grid.overlap / 2) {
      top += shelf + gap;
      left = edge;
      shelf = 0;
    }
    shifts[i] = { x: left - b.minX, y: top - b.minY };
    left += width(b) + gap;
    shelf = Math.max(shelf, height(b));
  }
  return shifts;
}

function width(b: Bounds): number {
  return b.maxX - b.minX;
}

function height(b: Bounds): number {
  return b.maxY - b.minY;
}
