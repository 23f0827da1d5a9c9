import type { Point } from '../../geometry/point';
import type { PageClusters } from './pageClusters';
import type { PageJoin } from './pageJoin';
import { type GridPlace, pageLabels } from './pageLabels';
import type { PdfPage } from './pdfReading';

/** How far pages lie apart from column to column and from row to row, mm. */
interface GridStep {
  readonly x: number;
  readonly y: number;
}

/**
 * Joins by what is written on the pages, for pages that nothing else has joined to the rest. The steps of the grid are
 * those of the joins found by lines, else the size of the page: then the pages may be a margin off, which is told.
 */
export function labelJoins(pages: readonly PdfPage[], clusters: PageClusters): PageJoin[] {
  const labels = pageLabels(pages);
  const labelled = pages.filter(({ number }) => labels.has(number));
  const [head] = labelled;
  if (labelled.length < 2 || !head) return [];
  const step = gridStep(labels, clusters) ?? { x: head.width, y: head.height };
  return labelled.slice(1).map(({ number }) => ({
    first: head.number,
    second: number,
    shift: shiftBetween(labels.get(head.number)!, labels.get(number)!, step),
    how: 'labels' as const,
    matches: 1,
    agreement: 1,
    worst: 0,
    sure: false,
  }));
}

function shiftBetween(from: GridPlace, to: GridPlace, step: GridStep): Point {
  return { x: (to.column - from.column) * step.x, y: (to.row - from.row) * step.y };
}

/** The steps that pages joined by their lines have in common with what is written on them. */
function gridStep(labels: ReadonlyMap<number, GridPlace>, clusters: PageClusters): GridStep | null {
  const across: number[] = [];
  const down: number[] = [];
  for (const { first, second, shift } of clusters.used) {
    const a = labels.get(first);
    const b = labels.get(second);
    if (!a || !b) continue;
    if (b.column !== a.column && b.row === a.row) across.push(shift.x / (b.column - a.column));
    if (b.row !== a.row && b.column === a.column) down.push(shift.y / (b.row - a.row));
  }
  if (across.length === 0 && down.length === 0) return null;
  const x = middle(across);
  const y = middle(down);
  return x === null || y === null ? null : { x, y };
}

function middle(values: readonly number[]): number | null {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? null;
}
