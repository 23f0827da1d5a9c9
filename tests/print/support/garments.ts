import { defaultFinish, finish } from '../../../src/operations/finish';
import type { Piece } from '../../../src/pattern/piece';
import { type PagePlan, planPages } from '../../../src/print/pagePlan';
import { defaultPrintSettings, type PaperSize, type PrintSettings, papers } from '../../../src/print/paper';
import type { PrintablePiece } from '../../../src/print/printablePiece';

/** A piece ready to print, with the default allowances. */
export function printable(piece: Piece, rest: Partial<PrintablePiece> = {}): PrintablePiece {
  const step = defaultFinish();
  const cut = finish(piece, step);
  if (!cut.ok) throw new Error(cut.sentence);
  return {
    garment: 'Plain top',
    version: 'Swing',
    date: '2026-02-14',
    unit: 'cm',
    piece,
    cutLine: cut.value,
    finish: step,
    ...rest,
  };
}

export function paperNamed(name: string): PaperSize {
  const paper = papers.find((p) => p.name === name);
  if (!paper) throw new Error(`No paper ${name}`);
  return paper;
}

export function planned(pieces: readonly PrintablePiece[], settings: Partial<PrintSettings> = {}): PagePlan {
  const plan = planPages(pieces, { ...defaultPrintSettings, ...settings });
  if (!plan.ok) throw new Error(`${plan.code}: ${plan.sentence}`);
  return plan.value;
}
