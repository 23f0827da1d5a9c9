import type { Garment, SeamEnd, SeamLink, Version } from './garment';
import { findBlock, findEdge } from './lookUp';
import type { Piece } from './piece';
import { type Problem, type ProblemPlace, problem, repeated, usableId } from './problem';
import type { Recipe } from './recipe';
import { validateMarks } from './validateMarks';
import { validateOutline } from './validateOutline';
import { validateRecipe } from './validateRecipe';

/** The id that stands for the block wherever a version may be named. */
const blockId = 'block';

const checkedPieces = new WeakMap<Piece, readonly Problem[]>();
const soundRecipes = new WeakMap<Recipe, Piece>();

/** Every broken rule of one piece, empty when it is sound. Remembered per piece object, since pieces never change. */
export function validatePiece(piece: Piece): readonly Problem[] {
  const known = checkedPieces.get(piece);
  if (known) return known;
  const problems = checkPiece(piece);
  checkedPieces.set(piece, problems);
  return problems;
}

function checkPiece(piece: Piece): Problem[] {
  const where = { piece: piece.id };
  const found: Problem[] = [];
  if (!usableId(piece.id)) found.push(problem('piece-id-unusable', `“${piece.name}” has no usable id.`, where));
  if (piece.name.trim() === '') found.push(problem('piece-unnamed', 'A piece has no name.', where));
  if (piece.size !== null && piece.size.trim() === '') {
    found.push(problem('size-blank', `The size of “${piece.name}” is blank. Write it, or leave it out.`, where));
  }
  if (!(Number.isInteger(piece.cutCount) && piece.cutCount >= 1)) {
    found.push(problem('cut-count-wrong', `Say how many of “${piece.name}” to cut: 1 or more.`, where));
  }
  const outline = validateOutline(piece);
  // Marks are measured along the outline, so they are only judged on a sound one.
  return [...found, ...outline, ...(outline.length === 0 ? validateMarks(piece) : [])];
}

/** Every broken rule of a garment, its pieces, seams and versions; empty when it is sound. */
export function validateGarment(garment: Garment): readonly Problem[] {
  const found: Problem[] = [];
  if (!usableId(garment.id)) found.push(problem('garment-id-unusable', 'The garment has no usable id.'));
  if (garment.name.trim() === '') found.push(problem('garment-unnamed', 'The garment has no name.'));
  for (const id of repeated(garment.blocks.map((block) => block.id))) {
    found.push(problem('piece-twice', `Two pieces have the same id, ${id}.`, { piece: id }));
  }
  for (const id of repeated(garment.versions.map((version) => version.id))) {
    found.push(problem('version-twice', `Two versions have the same id, ${id}.`, { version: id }));
  }
  for (const id of repeated(garment.seamLinks.map((link) => link.id))) {
    found.push(problem('seam-twice', `Two seams have the same id, ${id}.`, { link: id }));
  }
  return [
    ...found,
    ...garment.blocks.flatMap(validatePiece),
    ...garment.seamLinks.flatMap((link) => validateLink(garment, link)),
    ...garment.versions.flatMap((version) => validateVersion(garment, version)),
  ];
}

function validateLink(garment: Garment, link: SeamLink): Problem[] {
  const where = { link: link.id };
  const known = (end: SeamEnd) => {
    const block = findBlock(garment, end.piece);
    return block !== undefined && findEdge(block, end.edge) !== undefined;
  };
  if (!usableId(link.id)) return [problem('seam-id-unusable', 'A seam has no usable id.', where)];
  if (!known(link.first) || !known(link.second)) {
    return [problem('seam-edge-unknown', 'A seam names an edge that is not there.', where)];
  }
  if (link.first.piece === link.second.piece && link.first.edge === link.second.edge) {
    return [problem('seam-to-itself', 'An edge cannot be sewn to itself. Choose two edges.', where)];
  }
  if (!Number.isFinite(link.ease)) return [problem('number-missing', 'The ease of a seam is not a number.', where)];
  return [];
}

function validateVersion(garment: Garment, version: Version): Problem[] {
  const where = { version: version.id };
  const found: Problem[] = [];
  if (!usableId(version.id) || version.id === blockId) {
    found.push(problem('version-id-unusable', `The version “${version.name}” has no usable id.`, where));
  }
  if (version.name.trim() === '') found.push(problem('version-unnamed', 'A version has no name.', where));
  if (Number.isNaN(Date.parse(version.made))) {
    found.push(problem('version-undated', `The version “${version.name}” has no proper date.`, where));
  }
  for (const [piece, recipe] of Object.entries(version.recipes)) {
    const block = findBlock(garment, piece);
    if (!block) {
      found.push(
        problem('recipe-piece-unknown', `“${version.name}” changes a piece that is not there.`, { ...where, piece }),
      );
    } else if (!block.locked) {
      found.push(
        problem('block-unlocked', `Lock “${block.name}” first; a version is always made from a locked original.`, {
          ...where,
          piece,
        }),
      );
    } else {
      found.push(...rememberedRecipe(block, recipe, { ...where, piece }));
    }
  }
  return found;
}

function rememberedRecipe(piece: Piece, recipe: Recipe, where: ProblemPlace): readonly Problem[] {
  if (soundRecipes.get(recipe) === piece) return [];
  const problems = validateRecipe(piece, recipe, where);
  if (problems.length === 0) soundRecipes.set(recipe, piece);
  return problems;
}

/** Rules of a change: a block piece that was locked before is the same after, to the last number. */
export function validateChange(before: Garment, after: Garment): Problem[] {
  return before.blocks
    .filter((block) => block.locked)
    .filter((block) => {
      const now = findBlock(after, block.id);
      return now !== block && (now === undefined || JSON.stringify(now) !== JSON.stringify(block));
    })
    .map((block) =>
      problem(
        'block-locked',
        `“${block.name}” is locked, so the original stays as it is. Make a version and change that.`,
        {
          piece: block.id,
        },
      ),
    );
}
