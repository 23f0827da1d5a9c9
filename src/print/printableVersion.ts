import type { VersionReport } from '../measure/versionReport';
import type { Garment } from '../pattern/garment';
import { findStep, findVersion, recipeOf } from '../pattern/lookUp';
import type { PrintablePiece } from './printablePiece';

/** The pieces of a worked version (or of the block) as they go to the printer. `date` is printed as given. */
export function printableVersion(garment: Garment, report: VersionReport, date: string): PrintablePiece[] {
  const version = findVersion(garment, report.version)?.name ?? 'Block';
  return report.pieces.map(({ block, piece, cutLine }) => ({
    garment: garment.name,
    version,
    date,
    unit: garment.unit,
    piece,
    cutLine,
    finish: findStep(recipeOf(garment, report.version, block.id), 'finish') ?? null,
  }));
}
