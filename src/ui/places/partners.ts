import { findBlock, findEdge, recipeOf } from '../../pattern/lookUp';
import type { OnTable } from '../onTable';

export interface Partner {
  readonly id: string;
  readonly name: string;
  /** Whether the partner has been fanned in this version too. */
  readonly matched: boolean;
}

/** The pieces sewn to this one along a side seam. */
export function partnersOf({ garment, block, version }: OnTable): readonly Partner[] {
  if (version === undefined) return [];
  const partners = new Map<string, Partner>();
  for (const link of garment.seamLinks) {
    for (const [own, other] of [
      [link.first, link.second],
      [link.second, link.first],
    ] as const) {
      if (own.piece !== block.id || other.piece === block.id) continue;
      if (findEdge(block, own.edge)?.role !== 'side') continue;
      const piece = findBlock(garment, other.piece);
      if (piece === undefined) continue;
      const matched = recipeOf(garment, version.id, piece.id).some((step) => step.kind === 'fan');
      partners.set(piece.id, { id: piece.id, name: piece.name, matched });
    }
  }
  return [...partners.values()];
}
