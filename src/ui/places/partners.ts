import { fanOrStill } from '../../pattern/closings';
import type { Garment } from '../../pattern/garment';
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
  return version === undefined ? [] : partnersIn(garment, version.id, block.id);
}

/** Pieces of a version that are not fanned although a piece sewn to their side seam is: printed so, they would not hang together. */
export function leftBehind(garment: Garment, version: string | null): readonly Partner[] {
  if (version === null) return [];
  const left = new Map<string, Partner>();
  for (const { id } of garment.blocks) {
    if (!isFanned(garment, version, id)) continue;
    for (const partner of partnersIn(garment, version, id)) if (!partner.matched) left.set(partner.id, partner);
  }
  return [...left.values()];
}

function partnersIn(garment: Garment, version: string, piece: string): readonly Partner[] {
  const block = findBlock(garment, piece);
  const partners = new Map<string, Partner>();
  for (const link of garment.seamLinks) {
    for (const [own, other] of [
      [link.first, link.second],
      [link.second, link.first],
    ] as const) {
      if (block === undefined || own.piece !== piece || other.piece === piece) continue;
      if (findEdge(block, own.edge)?.role !== 'side') continue;
      const partner = findBlock(garment, other.piece);
      if (partner === undefined) continue;
      const { id, name } = partner;
      partners.set(id, { id, name, matched: isFanned(garment, version, id) });
    }
  }
  return [...partners.values()];
}

function isFanned(garment: Garment, version: string, piece: string): boolean {
  return fanOrStill(recipeOf(garment, version, piece)) !== undefined;
}
