import { useMemo } from 'react';
import { pageDrawing } from '../../print/pageDrawing';
import type { PagePlan, PlannedPage } from '../../print/pagePlan';
import { Complaint } from '../controls/Complaint';
import { useShown } from '../storeContext';
import { PageFigure } from './PageFigure';
import { planNow } from './planNow';
import type { PrintDesk } from './printDesk';
import './print.css';

/** Every page as it will come out of the printer, before any is saved. */
export function PagePreview({ desk }: { readonly desk: PrintDesk }) {
  const shown = useShown();
  if (shown === null) return null;
  const plan = planNow(shown.garment, shown.report, desk.choice);
  return (
    <section className="preview" aria-label="Pages as they will be printed">
      {plan.ok ? <Pages plan={plan.value} desk={desk} /> : <Complaint>{plan.sentence}</Complaint>}
    </section>
  );
}

function Pages({ plan, desk }: { readonly plan: PagePlan; readonly desk: PrintDesk }) {
  const drawings = useMemo(() => plan.pages.map((_, index) => pageDrawing(plan, index)), [plan]);
  const { page } = desk.choice;
  const near = page === null ? undefined : drawings[page];
  const nearPage = page === null ? undefined : plan.pages[page];
  if (page !== null && near !== undefined && nearPage !== undefined) {
    return (
      <div className="preview-near">
        <div className="preview-bar">
          <button type="button" className="button" onClick={() => desk.choose({ page: null })}>
            All pages
          </button>
          <span>
            {pageName(nearPage)}, {page + 1} of {drawings.length}
          </span>
          <button
            type="button"
            className="button"
            disabled={page === 0}
            onClick={() => desk.choose({ page: page - 1 })}
          >
            Before
          </button>
          <button
            type="button"
            className="button"
            disabled={page === drawings.length - 1}
            onClick={() => desk.choose({ page: page + 1 })}
          >
            After
          </button>
        </div>
        <PageFigure drawing={near} label={pageName(nearPage)} thinnest={0.5} />
      </div>
    );
  }
  return (
    <ol className="preview-all">
      {plan.pages.map((planned, index) => {
        const drawing = drawings[index];
        if (drawing === undefined) return null;
        const name = pageName(planned);
        return (
          <li key={name}>
            <button type="button" onClick={() => desk.choose({ page: index })}>
              <span className="unseen">Look closely at </span>
              <PageFigure drawing={drawing} label={name} thinnest={1} />
            </button>
            <span className="quiet">{name}</span>
          </li>
        );
      })}
    </ol>
  );
}

function pageName(page: PlannedPage): string {
  return page.kind === 'first' ? 'First page' : `Page ${page.name}`;
}
