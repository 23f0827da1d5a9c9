import type { LengthUnit } from '../units/length';
import type { Piece } from './piece';
import type { Recipe } from './recipe';

export type { LengthUnit };

/** The document: block pieces, the seams between them, and the versions made from them. */
export interface Garment {
  readonly id: string;
  readonly name: string;
  /** Where it comes from and what to know about it, for the maker. */
  readonly note?: string;
  readonly unit: LengthUnit;
  readonly blocks: readonly BlockPiece[];
  readonly seamLinks: readonly SeamLink[];
  readonly versions: readonly Version[];
}

/** An original piece. Once locked it never changes. */
export interface BlockPiece extends Piece {
  readonly locked: boolean;
}

export interface SeamEnd {
  readonly piece: string;
  readonly edge: string;
}

/** Two edges that are sewn together, matched from their upper ends (the ends away from the hem). */
export interface SeamLink {
  readonly id: string;
  readonly first: SeamEnd;
  readonly second: SeamEnd;
  /** How much longer the first may be, to be eased in, mm. */
  readonly ease: number;
}

/** A named set of recipes, one per block piece; a piece with no recipe stays as the block. */
export interface Version {
  readonly id: string;
  readonly name: string;
  readonly note: string;
  /** ISO 8601 date-time, given by the caller. */
  readonly made: string;
  readonly recipes: Readonly<Record<string, Recipe>>;
}
