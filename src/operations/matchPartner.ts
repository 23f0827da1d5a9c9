import { fail, type Outcome, succeed } from '../geometry/outcome';
import { pathLength } from '../geometry/path';
import type { Garment, SeamLink } from '../pattern/garment';
import { findBlock, findEdge, findStep, findVersion, recipeOf } from '../pattern/lookUp';
import type { Edge, Piece } from '../pattern/piece';
import type { Recipe, RecipeStep } from '../pattern/recipe';
import { workPiece } from './recipe';
import { bothUnits } from './trueing/bothUnits';

/**
 * Replays the recipe of one piece on every piece sewn to it at the side seam: centre for centre, side for side, hem for
 * hem, the same distance down the side seam from its upper end, the same openings at the same fractions of the width,
 * the same trueing and allowances. What the partners had before is replaced.
 *
 * Refusals: version-missing, piece-missing, nothing-to-match, no-side-seam-link, partner-missing, partner-edges, and
 * `partner-seam-too-short` when the fullness line would miss the partner's side seam; also whatever the partner's own
 * working refuses.
 */
export function matchPartner(garment: Garment, versionId: string, fromPiece: string): Outcome<Garment> {
  const version = findVersion(garment, versionId);
  if (version === undefined)
    return fail('version-missing', 'This version is no longer on the rack. Take down another one.');
  const piece = findBlock(garment, fromPiece);
  if (piece === undefined) return fail('piece-missing', 'The piece to match from is no longer in the garment.');
  const recipe = recipeOf(garment, versionId, fromPiece);
  if (recipe.length === 0) {
    return fail(
      'nothing-to-match',
      `Nothing has been done to “${piece.name}” yet, so there is nothing to repeat on its partner.`,
    );
  }
  const links = sideLinks(garment, piece, recipe);
  if (links.length === 0) {
    return fail(
      'no-side-seam-link',
      `The side seam of “${piece.name}” is not sewn to any other piece yet. Link the two side seams first.`,
    );
  }
  const recipes = { ...version.recipes };
  for (const link of links) {
    const [own, other] = link.first.piece === fromPiece ? [link.first, link.second] : [link.second, link.first];
    const partner = findBlock(garment, other.piece);
    if (partner === undefined) {
      return fail('partner-missing', `The piece sewn to the side of “${piece.name}” is no longer in the garment.`);
    }
    const replayed = replay(recipe, piece, own.edge, partner, other.edge);
    if (!replayed.ok) return replayed;
    const worked = workPiece(partner, replayed.value);
    if (!worked.ok) return worked;
    recipes[partner.id] = replayed.value;
  }
  return succeed({
    ...garment,
    versions: garment.versions.map((one) => (one.id === versionId ? { ...one, recipes } : one)),
  });
}

/** Links of the piece's side seam: the one its fan step names, or any edge that is a side seam. */
function sideLinks(garment: Garment, piece: Piece, recipe: Recipe): SeamLink[] {
  const named = findStep(recipe, 'fan')?.side;
  const isSide = (edge: string) => (named === undefined ? findEdge(piece, edge)?.role === 'side' : edge === named);
  return garment.seamLinks.filter(({ first, second }) => {
    if (first.piece === second.piece) return false;
    return (first.piece === piece.id && isSide(first.edge)) || (second.piece === piece.id && isSide(second.edge));
  });
}

function replay(recipe: Recipe, piece: Piece, ownSide: string, partner: Piece, side: string): Outcome<Recipe> {
  const own = walkFromHem(piece, ownSide);
  const theirs = walkFromHem(partner, side);
  if (own === null || theirs === null) {
    return fail(
      'partner-edges',
      `“${(own === null ? piece : partner).name}” has no hem between its centre line and the linked side seam. Name its edges first.`,
    );
  }
  const sideLength = pathLength(findEdge(partner, side)!.path);
  const steps: RecipeStep[] = [];
  for (const step of recipe) {
    if (step.kind === 'fan') {
      if (step.fullness !== null && step.fullness.downSide >= sideLength) {
        return fail(
          'partner-seam-too-short',
          `The fullness line meets the side seam ${bothUnits(step.fullness.downSide)} down, but the side seam of “${partner.name}” is only ${bothUnits(sideLength)} long. Raise the fullness line.`,
        );
      }
      const hem = theirs[0]!;
      const centre = theirs[theirs.length - 1]!;
      steps.push({ ...step, centre: centre.id, hem: hem.id, side });
    } else if (step.kind === 'finish') {
      steps.push({ ...step, byEdge: byPartnerEdge(step.byEdge, own, theirs) });
    } else {
      steps.push(step);
    }
  }
  return succeed(steps);
}

/**
 * The edges of a piece in the order hem, side, ... , centre line, whichever way its outline runs; null when the hem is
 * not next to the side, or no centre line is next to the hem.
 */
function walkFromHem(piece: Piece, side: string): Edge[] | null {
  const { edges } = piece;
  const at = edges.findIndex(({ id }) => id === side);
  const turned = (from: number, way: 1 | -1) =>
    edges.map((_, index) => edges[(from + way * index + edges.length * 2) % edges.length]!);
  const walks = [turned((at - 1 + edges.length) % edges.length, 1), turned((at + 1) % edges.length, -1)];
  return (
    walks.find(
      (walk) => at >= 0 && walk[0]!.role === 'hem' && /^centre-(front|back)$/.test(walk[walk.length - 1]!.role),
    ) ?? null
  );
}

/** Allowances moved to the partner's edges of the same role, the first to the first, the second to the second. */
function byPartnerEdge(
  byEdge: Readonly<Record<string, number>>,
  own: readonly Edge[],
  theirs: readonly Edge[],
): Record<string, number> {
  const moved: Record<string, number> = {};
  for (const [index, edge] of own.entries()) {
    const width = Object.hasOwn(byEdge, edge.id) ? byEdge[edge.id] : undefined;
    if (width === undefined) continue;
    const kind = kindOf(edge);
    const rank = own.slice(0, index).filter((before) => kindOf(before) === kind).length;
    const match = theirs.filter((candidate) => kindOf(candidate) === kind)[rank];
    if (match !== undefined) moved[match.id] = width;
  }
  return moved;
}

/** Centre front and centre back answer each other. */
function kindOf({ role }: Edge): string {
  return role === 'centre-front' || role === 'centre-back' ? 'centre' : role;
}
