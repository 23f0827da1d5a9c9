import type { BlockPiece, Garment, Version } from './garment';
import type { Edge, Piece } from './piece';
import type { Recipe, RecipeStep } from './recipe';

export function findBlock(garment: Garment, piece: string): BlockPiece | undefined {
  return garment.blocks.find((block) => block.id === piece);
}

export function findVersion(garment: Garment, version: string | null): Version | undefined {
  return garment.versions.find((candidate) => candidate.id === version);
}

export function findEdge(piece: Piece, edge: string): Edge | undefined {
  return piece.edges.find((candidate) => candidate.id === edge);
}

/** The recipe of a piece in a version; a version without one for it, and the block itself (null), have an empty recipe. */
export function recipeOf(garment: Garment, version: string | null, piece: string): Recipe {
  const recipes = findVersion(garment, version)?.recipes ?? {};
  return (Object.hasOwn(recipes, piece) ? recipes[piece] : undefined) ?? [];
}

/** The step of one kind in a recipe. */
export function findStep<Kind extends RecipeStep['kind']>(
  recipe: Recipe,
  kind: Kind,
): Extract<RecipeStep, { kind: Kind }> | undefined {
  return recipe.find((step): step is Extract<RecipeStep, { kind: Kind }> => step.kind === kind);
}
