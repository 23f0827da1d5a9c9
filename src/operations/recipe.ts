import { enclosedArea } from '../geometry/area';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import { pathLength } from '../geometry/path';
import { shortestBlend } from '../geometry/tolerance';
import { closingsOf, fanOrStill } from '../pattern/closings';
import { findStep } from '../pattern/lookUp';
import type { Piece } from '../pattern/piece';
import type { FanStep, Recipe } from '../pattern/recipe';
import { fanClosed } from './fanClosed';
import { finish } from './finish';
import { trueFanned } from './true';
import { dartCosts } from './trueing/dartCosts';
import { fanCosts } from './trueing/fanCosts';
import { restorePiece } from './trueing/restorePiece';
import type { CutLine, EdgeLength, FannedPiece, TrueReport, WorkedEdge, WorkedPiece } from './worked';

/**
 * Works a block piece by its recipe: darts closed, fan, true, finish, in this order whatever the order in the list. Any of
 * them may be missing: without the fan or a closed dart there is nothing to true, without trueing the gaps stay bridged by straight lines, and an
 * empty recipe gives the block. Lengths in mm, areas in mm2.
 *
 * Refusals are those of the steps, and `step-twice`.
 */
export function workPiece(block: Piece, recipe: Recipe): Outcome<WorkedPiece> {
  const turns = recipe.map((step) => (step.kind === 'close-dart' ? `${step.kind} ${step.dart}` : step.kind));
  if (new Set(turns).size < recipe.length) {
    return fail('step-twice', `The recipe of “${block.name}” has the same step twice. Take one of them out.`);
  }
  const shaped = shapePiece(block, recipe);
  if (!shaped.ok) return shaped;
  const { piece, edges, fanned, trued, warnings } = shaped.value;
  const finishStep = findStep(recipe, 'finish');
  let cutLine: CutLine | null = null;
  if (finishStep !== undefined) {
    const finished = finish(piece, finishStep);
    if (!finished.ok) return finished;
    cutLine = finished.value;
  }
  const lengths = block.edges.map((edge, index): EdgeLength => {
    const before = pathLength(edge.path);
    const after = piece.edges[index]!.path === edge.path ? before : pathLength(piece.edges[index]!.path);
    return { id: edge.id, name: edge.name, before, after };
  });
  const sweep = (side: 'before' | 'after') => hemSum(block, fanOrStill(recipe), lengths, side);
  return succeed({
    block,
    piece,
    edges,
    fanned,
    trued,
    cutLine,
    sweepBefore: sweep('before'),
    sweepAfter: sweep('after'),
    areaBefore: fanned?.areaBefore ?? areaOf(block),
    areaAfter: trued?.area ?? fanned?.areaAfter ?? areaOf(block),
    lengths,
    warnings,
  });
}

interface Shaped {
  readonly piece: Piece;
  readonly edges: readonly WorkedEdge[];
  readonly fanned: FannedPiece | null;
  readonly trued: TrueReport | null;
  readonly warnings: readonly string[];
}

/** The piece before allowances. */
function shapePiece(block: Piece, recipe: Recipe): Outcome<Shaped> {
  const fanStep = fanOrStill(recipe);
  const trueStep = findStep(recipe, 'true');
  if (fanStep === undefined) {
    const warnings = trueStep === undefined ? [] : ['Nothing has been opened yet, so there is nothing to true.'];
    return succeed({ piece: block, edges: untouchedEdges(block), fanned: null, trued: null, warnings });
  }
  const fanned = fanClosed(block, closingsOf(recipe), fanStep);
  if (!fanned.ok) return fanned;
  const { closed } = fanned.value;
  const costs = (drawnOver: ReadonlySet<string>) => [
    ...(closed === null ? [] : [...dartCosts(closed, drawnOver), ...closed.warnings]),
    ...fanCosts(fanned.value, fanStep, drawnOver),
  ];
  if (trueStep === undefined) {
    const { edges } = fanned.value;
    const piece = restorePiece(fanned.value, edges, null);
    const warnings =
      block.fold !== null && piece.fold === null
        ? [...costs(new Set()), 'The fold line is not straight until the piece is trued.']
        : costs(new Set());
    return succeed({ piece, edges, fanned: fanned.value, trued: null, warnings });
  }
  const trued = trueFanned(fanned.value, trueStep, fanStep);
  if (!trued.ok) return trued;
  const { piece, edges, report } = trued.value;
  const drawnOver = new Set(report.smoothed.map(({ edge }) => edge));
  if (trueStep.side.up >= shortestBlend && trueStep.side.down >= shortestBlend) drawnOver.add(fanStep.side);
  return succeed({
    piece,
    edges,
    fanned: fanned.value,
    trued: report,
    warnings: [...costs(drawnOver), ...report.warnings],
  });
}

function untouchedEdges(block: Piece): WorkedEdge[] {
  return block.edges.map(({ id, name, role, path }) => ({
    id,
    name,
    role,
    segments: path.map((segment, index) => ({
      segment,
      origin: { kind: 'own', edge: id, segment: index, from: 0, to: 1, panel: 0 },
    })),
  }));
}

/** Length of the hem: the edge the fan step names, or every edge that is a hem; null when there is none. */
function hemSum(
  block: Piece,
  fanStep: FanStep | undefined,
  lengths: readonly EdgeLength[],
  side: 'before' | 'after',
): number | null {
  const hems = lengths.filter(({ id }, index) =>
    fanStep === undefined ? block.edges[index]!.role === 'hem' : id === fanStep.hem,
  );
  return hems.length === 0 ? null : hems.reduce((sum, hem) => sum + hem[side], 0);
}

function areaOf(piece: Piece): number {
  return enclosedArea(piece.edges.flatMap(({ path }) => path));
}
