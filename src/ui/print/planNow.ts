import type { Outcome } from '../../geometry/outcome';
import type { VersionReport } from '../../measure/versionReport';
import type { Garment } from '../../pattern/garment';
import { findStep, findVersion, recipeOf } from '../../pattern/lookUp';
import { openedOut } from '../../print/openedOut';
import { type PagePlan, planPages } from '../../print/pagePlan';
import { defaultPrintSettings, type PrintSettings, papers } from '../../print/paper';
import type { PrintablePiece } from '../../print/printablePiece';
import type { PrintChoice } from './printDesk';

let last: { report: VersionReport; key: string; plan: Outcome<PagePlan> } | null = null;

/** The pages of the version on the table. The tray and the preview ask for the same ones, so the last is kept. */
export function planNow(garment: Garment, report: VersionReport, choice: PrintChoice): Outcome<PagePlan> {
  const { page: _, ...laid } = choice;
  const key = JSON.stringify([laid, garment.unit, garment.name]);
  if (last?.report !== report || last.key !== key) {
    const settings = settingsOf(choice);
    const pieces = printables(garment, report)
      .filter(({ piece }) => !choice.leftOut.includes(piece.id))
      .map((printable) => (choice.opened.includes(printable.piece.id) ? openedOut(printable) : printable));
    last = { report, key, plan: planPages(pieces, settings) };
  }
  return last.plan;
}

function settingsOf({ paper, landscape, margin, overlap }: PrintChoice): PrintSettings {
  const size = papers.find((candidate) => candidate.name === paper) ?? defaultPrintSettings.paper;
  return { paper: size, landscape, margin, overlap };
}

function printables(garment: Garment, report: VersionReport): readonly PrintablePiece[] {
  const version = findVersion(garment, report.version);
  return report.pieces.map(({ block, piece, cutLine }) => ({
    garment: garment.name,
    version: version?.name ?? 'Block',
    date: new Date().toLocaleDateString(undefined, { year: 'numeric', month: 'short', day: 'numeric' }),
    unit: garment.unit,
    piece,
    cutLine,
    finish: findStep(recipeOf(garment, report.version, block.id), 'finish') ?? null,
  }));
}
