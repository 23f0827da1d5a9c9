import type { Point } from '../geometry/point';
import { type Cell, cellBounds, type TileGrid } from './tileGrid';

const joinShapes = ['diamond', 'circle', 'square', 'hexagon'] as const;
export type JoinShape = (typeof joinShapes)[number];

/** A mark printed half on one page and half on the next. */
export interface JoinMark {
  /** On the line between the two cells, sheet coordinates. */
  readonly at: Point;
  readonly shape: JoinShape;
  /** A different one for every mark of the print. */
  readonly number: number;
}

/** Two pages that are laid together along one line. */
export interface Join {
  readonly kind: 'beside' | 'below';
  /** The page that lies under: left of or above the other. */
  readonly under: Cell;
  /** The page that is trimmed along the line and laid over. */
  readonly over: Cell;
  readonly marks: readonly JoinMark[];
}

/** Joins between the pages of each block of cells that belong together; marks are numbered through. */
export function joinsOf(blocks: readonly (readonly Cell[])[], grid: TileGrid): Join[] {
  const joins: Join[] = [];
  let number = 0;
  for (const block of blocks) {
    for (const under of block) {
      for (const kind of ['beside', 'below'] as const) {
        const over =
          kind === 'beside'
            ? { row: under.row, column: under.column + 1 }
            : { row: under.row + 1, column: under.column };
        if (!block.some((c) => c.row === over.row && c.column === over.column)) continue;
        const core = cellBounds(grid, under);
        const marks = [0.25, 0.75].map((part): JoinMark => {
          const at =
            kind === 'beside'
              ? { x: core.maxX, y: core.minY + part * grid.pitchY }
              : { x: core.minX + part * grid.pitchX, y: core.maxY };
          number += 1;
          return { at, shape: joinShapes[number % joinShapes.length]!, number };
        });
        joins.push({ kind, under, over, marks });
      }
    }
  }
  return joins;
}
