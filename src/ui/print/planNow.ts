import type { Outcome } from '../../geometry/outcome';
import type { VersionReport } from '../../measure/versionReport';
import type { Garment } from '../../pattern/garment';
import { openedOut, openedWhereWanted } from '../../print/openedOut';
import { type PagePlan, planPages } from '../../print/pagePlan';
import { defaultPrintSettings, type PrintSettings, papers } from '../../print/paper';
import type { PrintablePiece } from '../../print/printablePiece';
import { printableVersion } from '../../print/printableVersion';
import type { PrintChoice } from './printDesk';

let last: { report: VersionReport; key: string; plan: Outcome<PagePlan> } | null = null;

/** The pages of the version on the table. The tray and the preview ask for the same ones, so the last is kept. */
export function planNow(garment: Garment, report: VersionReport, choice: PrintChoice): Outcome<PagePlan> {
  const { page: _, ...laid } = choice;
  const key = JSON.stringify([laid, garment.unit, garment.name]);
  if (last?.report !== report || last.key !== key) {
    const wanted = printables(garment, report).filter(({ piece }) => !choice.leftOut.includes(piece.id));
    const { pieces } = openedWhereWanted(wanted, choice.opened);
    last = { report, key, plan: planPages(pieces, settingsOf(choice)) };
  }
  return last.plan;
}

/** Why pieces on the fold cannot be printed opened out, by their ids; those that can are not in it. */
export function notToOpen(garment: Garment, report: VersionReport): ReadonlyMap<string, string> {
  return new Map(
    printables(garment, report).flatMap((printable) => {
      const opened = openedOut(printable);
      return opened.ok ? [] : [[printable.piece.id, opened.sentence] as const];
    }),
  );
}

function settingsOf({ paper, landscape, margin, overlap }: PrintChoice): PrintSettings {
  const size = papers.find((candidate) => candidate.name === paper) ?? defaultPrintSettings.paper;
  return { paper: size, landscape, margin, overlap };
}

function printables(garment: Garment, report: VersionReport): readonly PrintablePiece[] {
  const today = new Date().toLocaleDateString(undefined, { year: 'numeric', month: 'short', day: 'numeric' });
  return printableVersion(garment, report, today);
}
