import { reportVersion } from '../../src/measure/report';
import { drawPdf } from '../../src/print/drawPdf';
import { planPages } from '../../src/print/pagePlan';
import { defaultPrintSettings } from '../../src/print/paper';
import { printableVersion } from '../../src/print/printableVersion';
import { must, sampleTop } from './pieces';
import { show } from './timing';

/** Draws the sample top, as often as it takes to fill at least 60 A4 pages, into one PDF. */
export async function pdf(): Promise<void> {
  const garment = sampleTop();
  const once = printableVersion(garment, must(reportVersion(garment, null)), '2026-01-01');
  let pieces = once;
  let plan = must(planPages(pieces, defaultPrintSettings));
  while (plan.pages.length < 60) {
    pieces = [...pieces, ...once];
    plan = must(planPages(pieces, defaultPrintSettings));
  }
  const spans: number[] = [];
  let bytes = 0;
  for (let run = 0; run < 7; run += 1) {
    const start = performance.now();
    bytes = (await drawPdf(must(planPages(pieces, defaultPrintSettings)))).length;
    spans.push(performance.now() - start);
  }
  spans.sort((a, b) => a - b);
  const median = spans[3] ?? Number.NaN;
  const pages = plan.pages.length;
  console.log(
    `PDF of ${pages} A4 pages, planned and drawn: ${show(median)}, ${((1000 * pages) / median).toFixed(0)} pages a second, ${(bytes / pages).toFixed(0)} bytes a page (goal 60 pages in 300 ms)`,
  );
}
