import type { Point } from '../geometry/point';
import type { Camera } from '../store/appState';

/**
 * Three frames meet on the table, and their points have different member names so that they cannot be mixed:
 * screen (CSS pixels from the canvas's top left), table (mm on the sheet, where pieces lie side by side), and a
 * piece's own frame (plain `Point`, mm, as stored in the document).
 */
export interface ScreenPoint {
  /** CSS pixels from the left edge of the canvas. */
  readonly left: number;
  /** CSS pixels from its top edge. */
  readonly top: number;
}

export interface TablePoint {
  /** mm to the right on the sheet. */
  readonly across: number;
  /** mm down on the sheet. */
  readonly down: number;
}

/** Size of the canvas, CSS pixels. */
export interface ViewSize {
  readonly width: number;
  readonly height: number;
}

export function tablePoint(across: number, down: number): TablePoint {
  return { across, down };
}

/** Where a point of a piece lies on the table when the piece's origin is laid at `offset`. */
export function onTable(p: Point, offset: TablePoint): TablePoint {
  return { across: p.x + offset.across, down: p.y + offset.down };
}

/** The same place in the piece's own frame. */
export function inPiece(p: TablePoint, offset: TablePoint): Point {
  return { x: p.across - offset.across, y: p.down - offset.down };
}

/** The table's point that is seen at a place on the screen. */
export function tableAt(camera: Camera, view: ViewSize, at: ScreenPoint): TablePoint {
  return {
    across: camera.centre.x + (at.left - view.width / 2) / camera.pixelsPerMm,
    down: camera.centre.y + (at.top - view.height / 2) / camera.pixelsPerMm,
  };
}

/** Where on the screen a point of the table is seen. */
export function screenAt(camera: Camera, view: ViewSize, at: TablePoint): ScreenPoint {
  return {
    left: view.width / 2 + (at.across - camera.centre.x) * camera.pixelsPerMm,
    top: view.height / 2 + (at.down - camera.centre.y) * camera.pixelsPerMm,
  };
}

export function screenDistance(a: ScreenPoint, b: ScreenPoint): number {
  return Math.hypot(b.left - a.left, b.top - a.top);
}
