import type { Point } from '../../geometry/point';
import type { PageClusters } from './pageClusters';
import type { PageJoin } from './pageJoin';
import type { PdfPage } from './pdfReading';
import type { ReadingOrder } from './readingOrder';

/**
 * Joins for pages whose lines meet no other page's, in a sheet whose other pages are joined: such a page lies a row
 * below or above its neighbour in the order of the file, if that is a place between the joined ones (a page of
 * instructions before the first tile is not part of the sheet). Never sure.
 */
export function orderJoins(pages: readonly PdfPage[], clusters: PageClusters, order: ReadingOrder): PageJoin[] {
  const apart = order.below;
  const step = rowStep(clusters, order);
  if (apart === null || apart === 0 || !step) return [];
  const numbers = new Set(pages.map(({ number }) => number));
  return pages.flatMap(({ number }): PageJoin[] => {
    if (!clusters.isAlone(number)) return [];
    return [apart, -apart].flatMap((by): PageJoin[] => {
      const first = number - by;
      const shift = by === apart ? step : { x: -step.x, y: -step.y };
      if (!numbers.has(first) || clusters.isAlone(first) || !clusters.liesBetween(first, shift)) return [];
      return [{ first, second: number, shift, how: 'order', matches: 0, agreement: 0, worst: 0, sure: false }];
    });
  });
}

/** How far a page lies below its neighbour, where their lines join them. */
function rowStep(clusters: PageClusters, order: ReadingOrder): Point | null {
  const down = clusters.used.filter((join) => join.how === 'line-ends' && order.holds(join));
  const steps = down.map(({ shift }) => shift).filter(({ x, y }) => Math.abs(y) > Math.abs(x));
  return steps.sort((a, b) => a.y - b.y)[steps.length >> 1] ?? null;
}
