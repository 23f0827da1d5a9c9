import { fail, type Outcome, succeed } from '../geometry/outcome';
import { workPiece } from '../operations/recipe';
import type { WorkedPiece } from '../operations/worked';
import type { Garment } from '../pattern/garment';
import { findStep, findVersion, recipeOf } from '../pattern/lookUp';
import type { Piece } from '../pattern/piece';
import type { Recipe } from '../pattern/recipe';
import { hemAdvice } from './hemAdvice';
import { walkSeam } from './seams';
import type { VersionReport } from './versionReport';

/**
 * Works every piece of a version (null: the blocks as they are) and measures it. Pieces whose block and recipe are the
 * very objects of an earlier call are not worked again. A piece that cannot be worked refuses the whole version.
 */
export function reportVersion(garment: Garment, version: string | null): Outcome<VersionReport> {
  if (version !== null && findVersion(garment, version) === undefined) {
    return fail('version-missing', 'This version is no longer on the rack. Take down another one.');
  }
  const pieces: WorkedPiece[] = [];
  for (const block of garment.blocks) {
    const worked = workedOnce(block, recipeOf(garment, version, block.id));
    if (!worked.ok) return worked;
    pieces.push(worked.value);
  }
  return succeed({
    version,
    pieces,
    seams: garment.seamLinks.map((link) => walkSeam(link, pieces)).filter((seam) => seam !== null),
    garmentSweepBefore: garmentSweep(pieces, 'sweepBefore'),
    garmentSweepAfter: garmentSweep(pieces, 'sweepAfter'),
  });
}

const noRecipe: Recipe = [];
const workedPieces = new WeakMap<Piece, WeakMap<Recipe, Outcome<WorkedPiece>>>();

function workedOnce(block: Piece, recipe: Recipe): Outcome<WorkedPiece> {
  const key = recipe.length === 0 ? noRecipe : recipe;
  let ofBlock = workedPieces.get(block);
  if (ofBlock === undefined) {
    ofBlock = new WeakMap();
    workedPieces.set(block, ofBlock);
  }
  let worked = ofBlock.get(key);
  if (worked === undefined) {
    worked = withHemAdvice(workPiece(block, key), key);
    ofBlock.set(key, worked);
  }
  return worked;
}

function withHemAdvice(worked: Outcome<WorkedPiece>, recipe: Recipe): Outcome<WorkedPiece> {
  const depth = findStep(recipe, 'finish')?.hem;
  if (!worked.ok || worked.value.trued === null || depth === undefined) return worked;
  const advice = hemAdvice(worked.value.trued, depth);
  return advice === null ? worked : succeed({ ...worked.value, warnings: [...worked.value.warnings, advice] });
}

/**
 * Hem of the whole garment, mm: every piece as often as it is cut, and twice each time when it is cut on the fold,
 * because the piece is then half of what is cut.
 */
function garmentSweep(pieces: readonly WorkedPiece[], which: 'sweepBefore' | 'sweepAfter'): number | null {
  const hems = pieces.filter((piece) => piece[which] !== null);
  if (hems.length === 0) return null;
  return hems.reduce((sum, { block, [which]: sweep }) => sum + (sweep ?? 0) * block.cutCount * (block.fold ? 2 : 1), 0);
}
