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
    const worked = workedOnce(block, recipeOf(garment, version, block.id), version);
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

interface Worked {
  readonly recipe: Recipe;
  readonly outcome: Outcome<WorkedPiece>;
}

/**
 * What was worked last, by block and version: the document's own recipe and the one a drag is trying. Not a WeakMap by
 * recipe: a drag makes a recipe at every pointer move, and the collector would carry each of their results for long.
 */
const workedLast = new WeakMap<Piece, Map<string | null, readonly Worked[]>>();
const recipesKept = 2;

function workedOnce(block: Piece, recipe: Recipe, version: string | null): Outcome<WorkedPiece> {
  const [key, wanted] = recipe.length === 0 ? [null, noRecipe] : [version, recipe];
  const ofBlock = workedLast.get(block) ?? new Map<string | null, readonly Worked[]>();
  workedLast.set(block, ofBlock);
  const kept = ofBlock.get(key) ?? [];
  const known = kept.find((worked) => worked.recipe === wanted);
  const worked = known ?? { recipe: wanted, outcome: withHemAdvice(workPiece(block, wanted), wanted) };
  if (worked !== kept[0]) ofBlock.set(key, [worked, ...kept.filter((other) => other !== worked)].slice(0, recipesKept));
  return worked.outcome;
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
