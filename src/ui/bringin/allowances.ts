import { insetEdges } from '../../exchange/insetEdges';
import { type Outcome, succeed } from '../../geometry/outcome';
import type { Path } from '../../geometry/segment';
import type { LengthUnit } from '../../pattern/garment';
import type { BringInDraft, DraftCorner } from '../../store/bringIn';

/** mm. What the fields start from: 1 cm, or 3/8 in; common practice, no source. It is shown and asked, never assumed. */
export function usualAllowance(unit: LengthUnit): number {
  return unit === 'in' ? 9.525 : 10;
}

/** The allowance a cut line includes along edge `index`, mm. The edge on the fold has none unless it is given one. */
export function allowanceOf(draft: BringInDraft, index: number, fold: number | null, unit: LengthUnit): number {
  const own = draft.corners[index]?.allowance;
  return own ?? (index === fold ? 0 : (draft.allowance ?? usualAllowance(unit)));
}

export interface SewnOutline {
  readonly outline: Path;
  /** In the order of the draft's corners. */
  readonly corners: readonly DraftCorner[];
  /** What the maker should look at. */
  readonly notes: readonly string[];
}

/** The stitching line inside a cut line. Each edge is moved in by its own allowance, and the corners are rebuilt. */
export function stitchingLine(
  draft: BringInDraft,
  path: Path,
  fold: number | null,
  unit: LengthUnit,
): Outcome<SewnOutline> {
  const { corners } = draft;
  const widths = corners.map((_, index) => allowanceOf(draft, index, fold, unit));
  const inset = insetEdges(path, corners, widths);
  if (!inset.ok) return inset;
  const { path: outline, corners: places, notes } = inset.value;
  return succeed({ outline, corners: corners.map((corner, index) => ({ ...corner, ...places[index]! })), notes });
}
