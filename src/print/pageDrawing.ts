import type { PageDrawing } from './drawing';
import { firstPageItems } from './firstPage';
import type { PagePlan } from './pagePlan';
import { pageSize } from './paper';
import { tileItems } from './tilePage';

/** One page of the plan as lines and words; the preview on screen and the PDF both draw this. */
export function pageDrawing(plan: PagePlan, pageIndex: number): PageDrawing {
  const page = plan.pages[pageIndex];
  if (!page) throw new RangeError(`The plan has no page ${pageIndex}.`);
  return {
    ...pageSize(plan.settings),
    items: page.kind === 'first' ? firstPageItems(plan) : tileItems(plan, page),
  };
}
