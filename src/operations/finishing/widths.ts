import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { widestAllowance } from '../../geometry/tolerance';
import { nameInSentence } from '../../pattern/nameInSentence';
import type { Edge, Piece } from '../../pattern/piece';
import type { FinishStep } from '../../pattern/recipe';

/** The allowance of one edge, mm: nothing on the fold, then what is set for that edge, then the hem or seam width. */
export function edgeAllowance(piece: Piece, step: FinishStep, edge: Edge): number {
  if (edge.id === piece.fold) return 0;
  return step.byEdge[edge.id] ?? (edge.role === 'hem' ? step.hem : step.seam);
}

/**
 * Allowance of every edge of the piece, in the order of its edges, mm.
 *
 * Refuses widths that are not numbers, less than nothing, or wider than `widestAllowance`.
 */
export function edgeAllowances(piece: Piece, step: FinishStep): Outcome<readonly number[]> {
  const widths: number[] = [];
  for (const edge of piece.edges) {
    const width = edgeAllowance(piece, step, edge);
    if (!Number.isFinite(width)) {
      return fail(
        'allowance-not-a-number',
        `The allowance of ${nameInSentence(edge.name)} is not a number. Type a width, such as 15 mm.`,
      );
    }
    if (width < 0) {
      return fail(
        'allowance-negative',
        `The allowance of ${nameInSentence(edge.name)} is less than nothing. Allowances go outward from the stitching line; use 0 for none.`,
      );
    }
    if (width > widestAllowance) {
      return fail(
        'allowance-too-wide',
        `The allowance of ${nameInSentence(edge.name)} is wider than ${widestAllowance / 10} cm. Check the unit, or make it narrower.`,
      );
    }
    widths.push(width);
  }
  return succeed(widths);
}
