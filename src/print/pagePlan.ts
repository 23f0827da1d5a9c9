import type { Bounds } from '../geometry/bounds';
import { flattenPath } from '../geometry/flatten';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import type { Point } from '../geometry/point';
import { movePath, shiftBy } from '../geometry/rigidMove';
import type { Path } from '../geometry/segment';
import { shifted } from './draw';
import type { DrawnItem } from './drawing';
import { type Ink, inkBounds, inkOf, shiftInk } from './ink';
import { type Join, joinsOf } from './joins';
import { letterWarnings } from './letterWarnings';
import { type Footprint, packPieces } from './packing';
import { checkSettings, isWideSheet, type PrintSettings } from './paper';
import { drawPiece } from './pieceDrawing';
import { labelItems } from './pieceLabel';
import type { PrintablePiece } from './printablePiece';
import { testSquareItems } from './testSquares';
import { type Cell, CellSet, cellName, type TileGrid, tileGrid } from './tileGrid';

/** Everything that is printed, laid out on pages. Plain data; `pageDrawing` draws its pages. */
export interface PagePlan {
  readonly settings: PrintSettings;
  readonly grid: TileGrid;
  readonly title: { readonly garment: string; readonly version: string; readonly date: string };
  readonly pieces: readonly PlacedPiece[];
  readonly sheet: readonly SheetItem[];
  readonly joins: readonly Join[];
  /** In the order they are printed. */
  readonly pages: readonly PlannedPage[];
  /** Pages inside the outer rectangle of each block that lie outside every piece, and so would have been blank. */
  readonly blankPagesLeftOut: number;
  /** Sentences worth showing before printing. */
  readonly warnings: readonly string[];
}

export type PlannedPage =
  | { readonly kind: 'first' }
  /** `name` is its place on the map: row letter and column number. `block` counts the groups of pages that are joined. */
  | { readonly kind: 'tile'; readonly cell: Cell; readonly name: string; readonly block: number };

export interface PlacedPiece {
  readonly printable: PrintablePiece;
  /** From the piece's own coordinates to the sheet. */
  readonly shift: Point;
  readonly cells: readonly Cell[];
  /** The line to cut along, in sheet coordinates. */
  readonly outer: Path;
}

/** An item in sheet coordinates with its extent. */
export interface SheetItem {
  readonly item: DrawnItem;
  readonly bounds: Bounds;
  /** The group of pages that shows it. */
  readonly block: number;
}

/** Chords that stand for a cut line when asking which pages lie inside it, mm. */
const outlineChord = 0.5;

/** More pages than anyone would tape together: a slip of the unit. */
const mostPages = 600;

/**
 * Lays pieces out on pages of the chosen paper: packed, cut into tiles, tiles outside every piece left out, labelled
 * and joined.
 * Sheet and page coordinates are mm, y down. Refuses unusable paper settings, no pieces, and absurd page counts.
 */
export function planPages(pieces: readonly PrintablePiece[], settings: PrintSettings): Outcome<PagePlan> {
  const checked = checkSettings(settings);
  if (!checked.ok) return checked;
  const first = pieces[0];
  if (!first) return fail('nothing-to-print', 'There is no piece to print. Choose at least one.');
  const grid = tileGrid(settings);
  const drawings = pieces.map(drawPiece);
  const wide = isWideSheet(settings);
  const squares = wide ? testSquareItems({ x: 0, y: 0 }, 'down') : [];
  const prints = drawings.map(
    (d): Footprint => ({
      ink: inkOf(d.items),
      outline: flattenPath(d.outer, outlineChord).slice(0, -1),
    }),
  );
  const tooLarge = prints.findIndex(({ ink }) => roughPages(ink, grid) > mostPages);
  if (tooLarge >= 0) {
    return fail(
      'piece-too-large',
      `${pieces[tooLarge]!.piece.name} would need more than ${mostPages} pages. Check its size, or choose larger paper.`,
    );
  }
  const packing = packPieces(wide ? [...prints, { ink: inkOf(squares), outline: [] }] : prints, grid);

  const sheet: SheetItem[] = [];
  const put = (item: DrawnItem, owner: number) =>
    sheet.push({ item, bounds: inkBounds(inkOf([item])), block: packing.shared ? 0 : owner });
  const placed = pieces.map((printable, i): PlacedPiece => {
    const drawing = drawings[i]!;
    const { shift, cells } = packing.placements[i]!;
    for (const item of drawing.items) put(shifted(item, shift), i);
    const inside = drawing.inside.map((p) => ({ x: p.x + shift.x, y: p.y + shift.y }));
    const obstacles = shiftInk(prints[i]!.ink, shift);
    for (const item of labelItems(printable, inside, obstacles, shift, grid, cells)) put(item, i);
    return { printable, shift, cells, outer: movePath(shiftBy(shift), drawing.outer) };
  });
  if (wide) for (const item of squares) put(shifted(item, packing.placements[pieces.length]!.shift), pieces.length);

  const cellsOf = packing.placements.map((p) => p.cells);
  const blocks = packing.shared ? [together(cellsOf)] : cellsOf;
  const tiles = blocks.flatMap((cells, block) =>
    cells.map((cell): PlannedPage => ({ kind: 'tile', cell, name: cellName(cell), block })),
  );
  return succeed({
    settings,
    grid,
    title: { garment: first.garment, version: first.version, date: first.date },
    pieces: placed,
    sheet,
    joins: joinsOf(blocks, grid),
    pages: wide ? tiles : [{ kind: 'first' }, ...tiles],
    blankPagesLeftOut: blocks.reduce((sum, cells) => sum + blanksAmong(cells), 0),
    warnings: [
      ...pieces.flatMap((p) => (p.piece.grainline ? [] : [`${p.piece.name} has no grainline: it prints without one.`])),
      ...letterWarnings(pieces),
    ],
  });
}

function roughPages(ink: Ink, grid: TileGrid): number {
  const b = inkBounds(ink);
  return ((b.maxX - b.minX) / grid.pitchX + 1) * ((b.maxY - b.minY) / grid.pitchY + 1);
}

function together(cellLists: readonly (readonly Cell[])[]): Cell[] {
  const all = new CellSet();
  for (const cells of cellLists) for (const cell of cells) all.add(cell.row, cell.column);
  return all.inOrder();
}

function blanksAmong(cells: readonly Cell[]): number {
  const rows = cells.map((c) => c.row);
  const columns = cells.map((c) => c.column);
  const height = Math.max(...rows) - Math.min(...rows) + 1;
  const width = Math.max(...columns) - Math.min(...columns) + 1;
  return height * width - cells.length;
}
