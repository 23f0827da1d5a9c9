import { pathBounds } from '../geometry/bounds';
import { movePath, shiftBy } from '../geometry/rigidMove';
import { cubic, line, type Path } from '../geometry/segment';
import { box, closedShape, words } from './draw';
import type { DrawnItem, LineStyle } from './drawing';
import type { PagePlan } from './pagePlan';
import { shortened } from './textWidth';
import { cellBounds } from './tileGrid';

const cellStyle: LineStyle = { width: 0.12, dash: [], tone: 'faint' };
const outlineStyle: LineStyle = { width: 0.2, dash: [], tone: 'ink' };

interface Frame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A small drawing of all pages with their names and of the pieces over them, in the middle of the frame. */
export function mapItems(plan: PagePlan, frame: Frame): DrawnItem[] {
  const tiles = plan.pages.flatMap((page) => (page.kind === 'tile' ? [page] : []));
  const columns = Math.max(...tiles.map((t) => t.cell.column)) + 1;
  const rows = Math.max(...tiles.map((t) => t.cell.row)) + 1;
  const { pitchX, pitchY } = plan.grid;
  const factor = Math.min(frame.width / (columns * pitchX), frame.height / (rows * pitchY), 0.25);
  const origin = { x: frame.x + (frame.width - columns * pitchX * factor) / 2, y: frame.y };
  const nameSize = Math.min(3.4, 0.3 * Math.min(pitchX, pitchY) * factor);
  const cells = tiles.flatMap(({ cell, name }) => {
    const b = cellBounds(plan.grid, cell);
    const x = origin.x + b.minX * factor;
    const y = origin.y + b.minY * factor;
    const corner = { x: x + nameSize * 0.4, y: y + nameSize * 1.1 };
    return [
      closedShape(box(x, y, pitchX * factor, pitchY * factor), cellStyle),
      words(name, corner, nameSize, { tone: 'soft' }),
    ];
  });
  const outlines = plan.pieces.map((piece) =>
    closedShape(movePath(shiftBy(origin), shrunk(piece.outer, factor)), outlineStyle),
  );
  const names = plan.pieces.map(({ outer, printable }) => {
    const b = pathBounds(outer);
    const size = nameSize * 1.15;
    const at = { x: origin.x + ((b.minX + b.maxX) / 2) * factor, y: origin.y + ((b.minY + b.maxY) / 2) * factor };
    const room = (b.maxX - b.minX) * factor * 0.8;
    return words(shortened(printable.piece.name, size, room, true), at, size, { align: 'middle', bold: true });
  });
  return [...cells, ...outlines, ...names];
}

function shrunk(path: Path, factor: number): Path {
  const p = ({ x, y }: { x: number; y: number }) => ({ x: x * factor, y: y * factor });
  return path.map((s) =>
    s.kind === 'line' ? line(p(s.start), p(s.end)) : cubic(p(s.start), p(s.control1), p(s.control2), p(s.end)),
  );
}
