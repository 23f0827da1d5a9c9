import type { VersionReport } from '../measure/versionReport';
import type { WorkedPiece } from '../operations/worked';
import { fanOrStill } from '../pattern/closings';
import type { BlockPiece, Garment, LengthUnit, Version } from '../pattern/garment';
import { findBlock, findStep, findVersion, recipeOf } from '../pattern/lookUp';
import type { FanStep, FinishStep, TrueStep } from '../pattern/recipe';
import { useApp, useShown } from './storeContext';

/** The piece being worked on, as it is shown at this moment: committed, or while a drag or typed number is live. */
export interface OnTable {
  readonly garment: Garment;
  readonly unit: LengthUnit;
  readonly report: VersionReport;
  readonly block: BlockPiece;
  /** undefined while the block itself is on the table. */
  readonly version: Version | undefined;
  readonly worked: WorkedPiece | undefined;
  readonly fan: FanStep | undefined;
  /** What there is to true: the fan, or closed darts without one. */
  readonly opened: FanStep | undefined;
  readonly trueing: TrueStep | undefined;
  readonly finish: FinishStep | undefined;
}

/** null on the first screen, and while a garment has no piece yet. */
export function useOnTable(): OnTable | null {
  const shown = useShown();
  const piece = useApp((state) => state.activePiece);
  if (shown === null || piece === null) return null;
  const { garment, report } = shown;
  const block = findBlock(garment, piece);
  if (block === undefined) return null;
  const recipe = recipeOf(garment, report.version, piece);
  return {
    garment,
    unit: garment.unit,
    report,
    block,
    version: findVersion(garment, report.version),
    worked: report.pieces.find((worked) => worked.block.id === piece),
    fan: findStep(recipe, 'fan'),
    opened: fanOrStill(recipe),
    trueing: findStep(recipe, 'true'),
    finish: findStep(recipe, 'finish'),
  };
}
