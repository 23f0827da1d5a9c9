import { fail, type Outcome, succeed } from '../geometry/outcome';
import { pathLength } from '../geometry/path';
import { dot } from '../geometry/point';
import { closingsOf, fanOrStill } from '../pattern/closings';
import type { Garment, SeamLink } from '../pattern/garment';
import { findBlock, findEdge, findVersion, recipeOf } from '../pattern/lookUp';
import type { Edge, Piece } from '../pattern/piece';
import type { CloseDartStep, Recipe, RecipeStep } from '../pattern/recipe';
import { frameOf } from './linkage/pieceFrame';
import { workPiece } from './recipe';
import { bothUnits } from './trueing/bothUnits';

/**
 * Replays the recipe of one piece on every piece sewn to it at the side seam: centre for centre, side for side, hem for
 * hem, the same distance down the side seam from its upper end, the same openings at the same fractions of the width,
 * the corresponding darts closed, the same trueing and allowances. What the partners had before is replaced.
 *
 * Refusals: version-missing, piece-missing, nothing-to-match, no-side-seam-link, partner-missing, partner-edges, partner-darts, and
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
    const replayed = replay(recipe, piece, own.edge, partner, other.edge, recipeOf(garment, versionId, partner.id));
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
  const named = fanOrStill(recipe)?.side;
  const isSide = (edge: string) => (named === undefined ? findEdge(piece, edge)?.role === 'side' : edge === named);
  return garment.seamLinks.filter(({ first, second }) => {
    if (first.piece === second.piece) return false;
    return (first.piece === piece.id && isSide(first.edge)) || (second.piece === piece.id && isSide(second.edge));
  });
}

function replay(
  recipe: Recipe,
  piece: Piece,
  ownSide: string,
  partner: Piece,
  side: string,
  before: Recipe,
): Outcome<Recipe> {
  const own = walkFromHem(piece, ownSide);
  const theirs = walkFromHem(partner, side);
  if (own === null || theirs === null) {
    return fail(
      'partner-edges',
      `“${(own === null ? piece : partner).name}” has no hem between its centre line and the linked side seam. Name its edges first.`,
    );
  }
  const sideLength = pathLength(findEdge(partner, side)!.path);
  const darts = replayClosings(closingsOf(recipe), piece, own, partner, theirs, closingsOf(before));
  if (!darts.ok) return darts;
  const steps: RecipeStep[] = [...darts.value];
  for (const step of recipe) {
    if (step.kind === 'close-dart') continue;
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

/**
 * The darts to close on the partner: as many on the edge that answers, one for one from the centre line, or its only dart
 * there. Where that does not tell, what the maker closed on the partner herself stays; a partner without a dart there has
 * none to close.
 */
function replayClosings(
  closings: readonly CloseDartStep[],
  piece: Piece,
  own: readonly Edge[],
  partner: Piece,
  theirs: readonly Edge[],
  before: readonly CloseDartStep[],
): Outcome<readonly CloseDartStep[]> {
  const edges = { centre: theirs[theirs.length - 1]!.id, hem: theirs[0]!.id, side: theirs[1]!.id };
  const steps: CloseDartStep[] = [];
  for (const step of closings) {
    const edge = own.find(({ id }) => id === piece.darts.find((dart) => dart.id === step.dart)?.edge);
    const [mine, others] = [dartsOn(piece, own, edge), dartsOn(partner, theirs, edge)];
    if (others.length === 0) continue;
    if (mine.length !== others.length && others.length > 1) {
      if (before.length > 0) return succeed(before.map((kept) => ({ ...kept, ...edges })));
      return fail(
        'partner-darts',
        `“${partner.name}” has ${others.length} darts where “${piece.name}” has ${mine.length}, so it is not clear which to close. Close them on “${partner.name}” yourself, then match again.`,
      );
    }
    const rank = others.length === 1 ? 0 : mine.indexOf(step.dart);
    const dart = others[rank]!;
    if (steps.some((one) => one.dart === dart)) continue;
    steps.push({ ...step, ...edges, dart });
  }
  return succeed(steps);
}

/** Ids of the darts that open on edges of one kind, from the centre line on. */
function dartsOn(piece: Piece, walk: readonly Edge[], like: Edge | undefined): string[] {
  const frame = frameOf(piece, { hem: walk[0]!.id, side: walk[1]!.id, centre: walk[walk.length - 1]!.id });
  if (like === undefined || !frame.ok) return [];
  const { across } = frame.value;
  return piece.darts
    .filter(({ edge }) => walk.some((one) => one.id === edge && kindOf(one) === kindOf(like)))
    .sort((a, b) => dot(a.apex, across) - dot(b.apex, across))
    .map(({ id }) => id);
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
