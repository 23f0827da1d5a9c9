import type { Bounds } from '../geometry/bounds';
import type { Point } from '../geometry/point';
import { type Ink, inkBounds } from './ink';
import { type PrintSettings, pageSize } from './paper';
import { isInside } from './roomFor';

/**
 * How a sheet is cut into pages. The sheet is a grid of cells, `pitchX` by `pitchY` mm, cell (row 0, column 0) with its
 * upper left corner at the origin. A page prints its cell and half the overlap beyond it on all four sides; the lines
 * between cells are the lines along which pages are trimmed and joined.
 */
export interface TileGrid {
  readonly pitchX: number;
  readonly pitchY: number;
  readonly overlap: number;
}

export interface Cell {
  readonly row: number;
  readonly column: number;
}

export function tileGrid(settings: PrintSettings): TileGrid {
  const page = pageSize(settings);
  return {
    pitchX: page.width - 2 * settings.margin - settings.overlap,
    pitchY: page.height - 2 * settings.margin - settings.overlap,
    overlap: settings.overlap,
  };
}

export function cellBounds(grid: TileGrid, { row, column }: Cell): Bounds {
  return {
    minX: column * grid.pitchX,
    minY: row * grid.pitchY,
    maxX: (column + 1) * grid.pitchX,
    maxY: (row + 1) * grid.pitchY,
  };
}

/** What the page of a cell prints: the cell and half the overlap around it. */
export function printedBounds(grid: TileGrid, cell: Cell): Bounds {
  const core = cellBounds(grid, cell);
  const half = grid.overlap / 2;
  return { minX: core.minX - half, minY: core.minY - half, maxX: core.maxX + half, maxY: core.maxY + half };
}

export class CellSet {
  private readonly cells = new Map<number, Cell>();

  has(row: number, column: number): boolean {
    return this.cells.has(keyOf(row, column));
  }
  add(row: number, column: number): void {
    const key = keyOf(row, column);
    if (!this.cells.has(key)) this.cells.set(key, { row, column });
  }
  get size(): number {
    return this.cells.size;
  }
  /** In reading order: row by row, each from the left. */
  inOrder(): Cell[] {
    return [...this.cells.values()].sort((a, b) => a.row - b.row || a.column - b.column);
  }
}

function keyOf(row: number, column: number): number {
  return row * 0x10000 + column;
}

/**
 * The cells whose pages the ink needs. A page is left out when no ink lies in its cell, or when every bit that does is
 * printed by a neighbour in its overlap. Cells that would hang together only by a corner are joined by the cell between.
 */
export function inkedCells(ink: Ink, grid: TileGrid): CellSet {
  const cells = new CellSet();
  const onStrips: { x: number; y: number }[] = [];
  const half = grid.overlap / 2;
  visitBits(ink, grid, (x, y) => {
    const column = Math.floor(x / grid.pitchX);
    const row = Math.floor(y / grid.pitchY);
    const inX = x - column * grid.pitchX;
    const inY = y - row * grid.pitchY;
    const own = inX > half && inX < grid.pitchX - half && inY > half && inY < grid.pitchY - half;
    if (own) cells.add(row, column);
    else onStrips.push({ x, y });
  });
  const bounds = inkBounds(ink);
  const centre = { x: (bounds.minX + bounds.maxX) / 2, y: (bounds.minY + bounds.maxY) / 2 };
  for (const p of onStrips) {
    if (isPrinted(p, cells, grid)) continue;
    // Of the pages that print it, the one towards the middle of the ink: no page is begun for the rim alone.
    const inward = { x: p.x + Math.sign(centre.x - p.x) * half, y: p.y + Math.sign(centre.y - p.y) * half };
    cells.add(Math.floor(inward.y / grid.pitchY), Math.floor(inward.x / grid.pitchX));
  }
  joinCorners(cells);
  return cells;
}

/**
 * Adds the cells that lie inside a closed outline without a line of ink in their own. Told by the middle of the cell,
 * which is enough: no ink comes farther into such a cell than half the overlap.
 */
export function addCellsInside(cells: CellSet, outline: readonly Point[], grid: TileGrid): void {
  const inked = cells.inOrder();
  const rows = inked.map((cell) => cell.row);
  const columns = inked.map((cell) => cell.column);
  for (let row = Math.min(...rows); row <= Math.max(...rows); row++) {
    for (let column = Math.min(...columns); column <= Math.max(...columns); column++) {
      const middle = { x: (column + 0.5) * grid.pitchX, y: (row + 0.5) * grid.pitchY };
      if (!cells.has(row, column) && isInside(middle, outline)) cells.add(row, column);
    }
  }
}

/** Adds a cell wherever two parts of the set touch only at a corner, so that every page can be joined by an edge. */
function joinCorners(cells: CellSet): void {
  for (const { row, column } of cells.inOrder()) {
    for (const side of [-1, 1]) {
      const diagonal = cells.has(row + 1, column + side);
      if (!diagonal || cells.has(row + 1, column) || cells.has(row, column + side)) continue;
      if (!linked(cells, { row, column }, { row: row + 1, column: column + side })) cells.add(row + 1, column);
    }
  }
}

/** Whether one can get from cell to cell over shared edges. */
function linked(cells: CellSet, from: Cell, to: Cell): boolean {
  const seen = new CellSet();
  const open = [from];
  seen.add(from.row, from.column);
  for (let at = open.pop(); at; at = open.pop()) {
    if (at.row === to.row && at.column === to.column) return true;
    for (const [dr, dc] of [
      [0, 1],
      [0, -1],
      [1, 0],
      [-1, 0],
    ] as const) {
      const row = at.row + dr;
      const column = at.column + dc;
      if (cells.has(row, column) && !seen.has(row, column)) {
        seen.add(row, column);
        open.push({ row, column });
      }
    }
  }
  return false;
}

function isPrinted(p: { x: number; y: number }, cells: CellSet, grid: TileGrid): boolean {
  const half = grid.overlap / 2;
  const column0 = Math.floor((p.x - half) / grid.pitchX);
  const column1 = Math.floor((p.x + half) / grid.pitchX);
  const row0 = Math.floor((p.y - half) / grid.pitchY);
  const row1 = Math.floor((p.y + half) / grid.pitchY);
  for (const row of row0 === row1 ? [row0] : [row0, row1]) {
    for (const column of column0 === column1 ? [column0] : [column0, column1]) if (cells.has(row, column)) return true;
  }
  return false;
}

/** Visits the middles of the bits into which cell and strip borders cut the ink: each lies in one cell, and in one strip or none. */
function visitBits(ink: Ink, grid: TileGrid, visit: (x: number, y: number) => void): void {
  const { pitchX, pitchY } = grid;
  const half = grid.overlap / 2;
  for (const chain of ink) {
    for (let i = 1; i < chain.length; i++) {
      const a = chain[i - 1]!;
      const b = chain[i]!;
      const within =
        zone(a.x, pitchX, half) === zone(b.x, pitchX, half) && zone(a.y, pitchY, half) === zone(b.y, pitchY, half);
      if (within) {
        visit((a.x + b.x) / 2, (a.y + b.y) / 2);
        continue;
      }
      const cuts = [0, 1];
      borders(a.x, b.x, pitchX, half, cuts);
      borders(a.y, b.y, pitchY, half, cuts);
      cuts.sort((p, q) => p - q);
      for (let k = 1; k < cuts.length; k++) {
        const t = (cuts[k - 1]! + cuts[k]!) / 2;
        visit(a.x + t * (b.x - a.x), a.y + t * (b.y - a.y));
      }
    }
  }
}

/** Numbers the strips and the parts between them along one axis. */
function zone(v: number, pitch: number, half: number): number {
  const cell = Math.floor(v / pitch);
  const within = v - cell * pitch;
  return 3 * cell + (within < half ? 0 : within < pitch - half ? 1 : 2);
}

/** Adds the parameters at which a coordinate passes a border between cells or the edge of a strip. */
function borders(a: number, b: number, pitch: number, half: number, cuts: number[]): void {
  if (a === b) return;
  const low = Math.min(a, b);
  const high = Math.max(a, b);
  for (let k = Math.floor((low - half) / pitch); k <= Math.ceil((high + half) / pitch); k++) {
    for (const border of half > 0 ? [k * pitch - half, k * pitch, k * pitch + half] : [k * pitch]) {
      const t = (border - a) / (b - a);
      if (t > 0 && t < 1) cuts.push(t);
    }
  }
}

/** Row letters A to Z, then AA, AB ...; columns count from 1. */
export function cellName({ row, column }: Cell): string {
  let letters = '';
  for (let n = row + 1; n > 0; n = Math.floor((n - 1) / 26))
    letters = String.fromCharCode(65 + ((n - 1) % 26)) + letters;
  return `${letters}${column + 1}`;
}
