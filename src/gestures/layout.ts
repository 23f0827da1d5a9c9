import { type Bounds, unionBounds } from '../geometry/bounds';
import type { TablePoint } from './frames';

/** Where each piece's origin lies on the table, and how far the sheet reaches. */
export interface TableLayout {
  readonly offsets: ReadonlyMap<string, TablePoint>;
  /** The pieces together, table mm. */
  readonly pieces: Bounds;
  /** The sheet they lie on, table mm. */
  readonly sheet: Bounds;
}

export interface Placed {
  readonly id: string;
  /** Everything drawn for the piece, mm in its own frame. */
  readonly bounds: Bounds;
  /** Highest point of the untouched block, mm in its own frame; it never moves, so neither does the piece. */
  readonly top: number;
  /** Leftmost point of the untouched block. */
  readonly left: number;
}

/** Room between neighbours, mm. */
const gap = 60;
/** Slots grow in steps of this, mm, so that small changes leave the neighbours where they are. */
const slotStep = 50;
/** Sheet kept free round the pieces, mm. */
const sheetMargin = 150;
/** The smallest sheet, mm. */
const smallestSheet = { width: 1100, height: 1000 };
/** What an empty sheet shows, mm: room for a bodice or a skirt front. */
const emptyView = { width: 600, height: 800 };

/**
 * Lays pieces side by side from left to right in the order given, their blocks' tops level. Depends only on what is
 * committed, so nothing jumps while something is dragged; the first block's top left is the table's zero.
 */
export function layOut(pieces: readonly Placed[]): TableLayout {
  const offsets = new Map<string, TablePoint>();
  let all: Bounds | null = null;
  // Next free place to the right; the first piece puts its block's left edge on zero whatever hangs out to the left.
  let free: number | null = null;
  for (const { id, bounds, top, left } of pieces) {
    const overhang = Math.ceil(Math.max(0, left - bounds.minX) / slotStep) * slotStep;
    const across: number = free === null ? -left : free + overhang - left;
    const offset = { across, down: -top };
    offsets.set(id, offset);
    const placed = shifted(bounds, offset);
    all = all === null ? placed : unionBounds(all, placed);
    free = Math.ceil((placed.maxX + gap) / slotStep) * slotStep;
  }
  const piecesBounds = all ?? { minX: 0, minY: 0, maxX: emptyView.width, maxY: emptyView.height };
  return { offsets, pieces: piecesBounds, sheet: sheetRound(piecesBounds) };
}

/** A sheet with room round the given bounds, its edges on whole decimetres. */
function sheetRound(bounds: Bounds): Bounds {
  const down = (value: number) => Math.floor((value - sheetMargin) / 100) * 100;
  const up = (value: number) => Math.ceil((value + sheetMargin) / 100) * 100;
  const minX = down(bounds.minX);
  const minY = down(bounds.minY);
  // A small piece lies in the middle of the smallest sheet.
  const spareAcross = Math.max(0, Math.ceil((smallestSheet.width - (up(bounds.maxX) - minX)) / 200) * 100);
  const spareDown = Math.max(0, Math.ceil((smallestSheet.height - (up(bounds.maxY) - minY)) / 200) * 100);
  return {
    minX: minX - spareAcross,
    minY: minY - spareDown,
    maxX: up(bounds.maxX) + spareAcross,
    maxY: up(bounds.maxY) + spareDown,
  };
}

function shifted(bounds: Bounds, offset: TablePoint): Bounds {
  return {
    minX: bounds.minX + offset.across,
    maxX: bounds.maxX + offset.across,
    minY: bounds.minY + offset.down,
    maxY: bounds.maxY + offset.down,
  };
}
