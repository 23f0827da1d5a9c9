import { type Affine, affine, chain } from '../drawing/affine';
import type { Block } from './document';
import { type Entry, numberIn, textIn } from './pairs';

/** Where an INSERT puts its block, and how often. */
export interface Placing {
  readonly block: string;
  readonly columns: number;
  readonly rows: number;
  /** The map of one copy, in the plane of the INSERT. */
  copy(block: Block, column: number, row: number): Affine;
}

/** Reads an INSERT; null when a number in it is none. Rows and columns run along the turned axes and are not scaled. */
export function placingOf(entry: Entry): Placing | null {
  const [x, y] = [numberIn(entry, 10, 0), numberIn(entry, 20, 0)];
  const [across, down] = [numberIn(entry, 41, 1), numberIn(entry, 42, 1)];
  const degrees = numberIn(entry, 50, 0);
  const [columnStep, rowStep] = [numberIn(entry, 44, 0), numberIn(entry, 45, 0)];
  const columns = numberIn(entry, 70, 1);
  const rows = numberIn(entry, 71, 1);
  if (![x, y, across, down, degrees, columnStep, rowStep].every((value) => Math.abs(value) <= 1e12)) return null;
  if (!Number.isInteger(columns) || !Number.isInteger(rows)) return null;
  const angle = ((degrees % 360) * Math.PI) / 180;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return {
    block: textIn(entry, 2) ?? '',
    columns: Math.max(1, columns),
    rows: Math.max(1, rows),
    copy: (block, column, row) => {
      const turned = affine(c, s, -s, c, x, y);
      const shifted = affine(across, 0, 0, down, column * columnStep, row * rowStep);
      return chain(chain(turned, shifted), affine(1, 0, 0, 1, -block.baseX, -block.baseY));
    },
  };
}
