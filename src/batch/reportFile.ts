import { fanCuts } from '../measure/fromDarts';
import { grainTurns } from '../measure/grainTurn';
import type { SeamReport, VersionReport } from '../measure/versionReport';
import type { TrueReport, WorkedPiece } from '../operations/worked';
import type { Garment } from '../pattern/garment';
import { findVersion } from '../pattern/lookUp';
import { formatLength, type LengthUnit } from '../units/length';

const degrees = 180 / Math.PI;

/** A length in mm beside its text in the maker's unit. */
interface Length {
  readonly mm: number;
  readonly text: string;
}

/**
 * Everything measured on a version, for a JSON file: lengths as `{ mm, text }`, areas in mm2, angles in degrees.
 * The numbers are the ones on screen, unrounded; only the texts are rounded.
 */
export function reportFile(garment: Garment, report: VersionReport, unit: LengthUnit) {
  const length = (mm: number): Length => ({ mm, text: formatLength(mm, unit) });
  const orNull = (mm: number | null): Length | null => (mm === null ? null : length(mm));
  const version = findVersion(garment, report.version);
  return {
    format: 'hingeline-report',
    formatVersion: 1,
    garment: garment.name,
    version: version ? { id: version.id, name: version.name, note: version.note, made: version.made } : null,
    unit,
    sweep: {
      before: orNull(report.garmentSweepBefore),
      after: orNull(report.garmentSweepAfter),
      ratio: ratio(report.garmentSweepBefore, report.garmentSweepAfter),
    },
    pieces: report.pieces.map((piece) => pieceRecord(piece, length, orNull)),
    seams: report.seams.map((seam) => seamRecord(seam, length)),
  };
}

function pieceRecord(
  worked: WorkedPiece,
  length: (mm: number) => Length,
  orNull: (mm: number | null) => Length | null,
) {
  const { block, fanned } = worked;
  return {
    id: block.id,
    name: block.name,
    cutCount: block.cutCount,
    onFold: block.fold !== null,
    sweep: {
      before: orNull(worked.sweepBefore),
      after: orNull(worked.sweepAfter),
      ratio: ratio(worked.sweepBefore, worked.sweepAfter),
    },
    area: { beforeMm2: worked.areaBefore, afterMm2: worked.areaAfter },
    edges: worked.lengths.map((e) => ({ id: e.id, name: e.name, before: length(e.before), after: length(e.after) })),
    openings: (fanned === null ? [] : fanCuts(fanned)).map((cut) => ({
      id: cut.id,
      chord: length(cut.chord),
      turnDegrees: cut.angle * degrees,
    })),
    fromDarts: (fanned?.closed?.darts ?? []).map((dart) => ({
      id: dart.dart,
      share: dart.share,
      opening: length(dart.opening),
      turnDegrees: dart.angle * degrees,
    })),
    grainTurns: grainTurns(worked),
    centreDrop: orNull(fanned ? fanned.centreDrop : null),
    centreFill: orNull(fanned ? fanned.centreFill : null),
    trued: worked.trued ? truedRecord(worked.trued, length) : null,
    allowancesIncluded: worked.cutLine !== null,
    warnings: worked.warnings,
  };
}

function truedRecord(trued: TrueReport, length: (mm: number) => Length) {
  return {
    sweep: length(trued.sweep),
    hemDeviation: length(trued.hemDeviation),
    blendLoss: length(trued.blendLoss),
    cornerCentreDegrees: trued.cornerCentre * degrees,
    cornerSideDegrees: trued.cornerSide * degrees,
    curvatureSignChanges: trued.curvatureSignChanges,
    smoothed: trued.smoothed.map(({ edge, moved, longer }) => ({ edge, moved: length(moved), longer: length(longer) })),
    areaMm2: trued.area,
  };
}

function seamRecord(seam: SeamReport, length: (mm: number) => Length) {
  return {
    id: seam.link,
    first: { piece: seam.first.piece, edge: seam.first.edge, length: length(seam.first.length) },
    second: { piece: seam.second.piece, edge: seam.second.edge, length: length(seam.second.length) },
    difference: length(seam.difference),
    verdict: seam.verdict,
    joinedHemCornerDegrees: seam.joinedHemCorner === null ? null : seam.joinedHemCorner * degrees,
    notchOffsets: seam.notchOffsets.map(length),
  };
}

function ratio(before: number | null, after: number | null): number | null {
  return before === null || after === null || before === 0 ? null : after / before;
}
