import { closingsOf } from './closings';
import type { Piece } from './piece';
import { type Problem, type ProblemPlace, problem, repeated, usableId } from './problem';
import type { CloseDartStep, FanStep, FinishStep, Recipe, RecipeStep, TrueStep } from './recipe';

/**
 * Rules a recipe must keep before it is worked: known steps in order, each once (the closing of darts once for each
 * dart), edges and darts that the piece has, finite numbers. Whether its cuts can be made is for the operations to say.
 */
export function validateRecipe(piece: Piece, recipe: Recipe, where: ProblemPlace): Problem[] {
  const closings = closingsOf(recipe);
  const kinds = recipe.slice(closings.length).map((step) => step.kind);
  if (!/^(fan)?(^true| true)?(^finish| finish)?$/.test(kinds.join(' '))) {
    return [
      problem(
        'steps-out-of-order',
        `The steps for “${piece.name}” must be closed darts, fan, true, finish; only darts may be more than one.`,
        where,
      ),
    ];
  }
  if (repeated(closings.map(({ dart }) => dart)).length > 0) {
    return [problem('dart-closed-twice', `One dart of “${piece.name}” is closed twice. Close it once.`, where)];
  }
  const opened = recipe.filter((step) => step.kind === 'close-dart' || step.kind === 'fan');
  if (new Set(opened.map(({ centre, hem, side }) => JSON.stringify([centre, hem, side]))).size > 1) {
    return [
      problem(
        'closing-edges-differ',
        `The darts and the fan of “${piece.name}” must name the same centre line, hem and side.`,
        where,
      ),
    ];
  }
  return recipe.flatMap((step) => validateStep(piece, step, where));
}

function validateStep(piece: Piece, step: RecipeStep, where: ProblemPlace): Problem[] {
  switch (step.kind) {
    case 'close-dart':
      return validateClosing(piece, step, where);
    case 'fan':
      return validateFan(piece, step, where);
    case 'true':
      return validateTrue(piece, step, where);
    case 'finish':
      return validateFinish(piece, step, where);
  }
}

function validateClosing(piece: Piece, step: CloseDartStep, where: ProblemPlace): Problem[] {
  if (!namesThreeEdges(piece, step)) {
    return [
      problem(
        'closing-edges-unknown',
        `To close a dart of “${piece.name}” name three different edges: centre, hem and side.`,
        where,
      ),
    ];
  }
  if (!piece.darts.some(({ id }) => id === step.dart)) {
    return [problem('dart-unknown', `A dart that is to be closed is not on “${piece.name}”.`, where)];
  }
  if (!(step.share >= 0 && step.share <= 1)) {
    return [
      problem(
        'dart-share',
        `A dart of “${piece.name}” can be closed by none of it up to all of it, 0 to 100 %.`,
        where,
      ),
    ];
  }
  if (step.foot !== null && !(step.foot > 0 && step.foot < 1)) {
    return [
      problem(
        'dart-foot-off-hem',
        `The slash to a dart of “${piece.name}” must leave the hem between its two ends.`,
        where,
      ),
    ];
  }
  return [];
}

function namesThreeEdges(piece: Piece, { centre, hem, side }: CloseDartStep | FanStep): boolean {
  const named = [centre, hem, side];
  return named.every((id) => piece.edges.some((edge) => edge.id === id)) && new Set(named).size === 3;
}

function validateFan(piece: Piece, step: FanStep, where: ProblemPlace): Problem[] {
  if (!namesThreeEdges(piece, step)) {
    return [
      problem('fan-edges-unknown', `To fan “${piece.name}” name three different edges: centre, hem and side.`, where),
    ];
  }
  if (
    repeated(step.slashes.map((slash) => slash.id)).length > 0 ||
    !step.slashes.every((slash) => usableId(slash.id))
  ) {
    return [problem('slash-twice', `Every slash line of “${piece.name}” needs an id of its own.`, where)];
  }
  const openings = step.slashes.flatMap(({ opening }) =>
    opening.measure === 'angle'
      ? [opening.angle]
      : opening.measure === 'chord'
        ? [opening.hem, opening.far]
        : [opening.hem],
  );
  const numbers = [
    ...(step.fullness ? [step.fullness.downSide, step.fullness.tilt] : []),
    ...step.slashes.flatMap((slash) => [slash.across, slash.tilt]),
    ...openings,
    step.sideTurn,
  ];
  if (!numbers.every(Number.isFinite)) return [missingNumber('fan', piece, where)];
  if (step.slashes.some((slash) => !(slash.across > 0 && slash.across < 1))) {
    return [
      problem(
        'slash-off-piece',
        `Every slash line of “${piece.name}” must stand between the centre line and the side.`,
        where,
      ),
    ];
  }
  if (step.slashes.some((slash, index) => index > 0 && slash.across <= step.slashes[index - 1]!.across)) {
    return [
      problem(
        'slashes-out-of-order',
        `Two slash lines of “${piece.name}” stand on or past each other. Move them apart.`,
        where,
      ),
    ];
  }
  return [];
}

function validateTrue(piece: Piece, step: TrueStep, where: ProblemPlace): Problem[] {
  const { side, hem } = step;
  const numbers = [side.up, side.down, side.fullness, hem.fairness, hem.drop.centre, hem.drop.side];
  const handles = [hem.handles.centre, hem.handles.side].filter((handle) => handle !== null);
  if (![...numbers, ...handles].every(Number.isFinite)) return [missingNumber('true', piece, where)];
  if (side.up < 0 || side.down < 0) {
    return [problem('blend-negative', `The side seam blend of “${piece.name}” cannot be shorter than nothing.`, where)];
  }
  if (handles.some((handle) => handle <= 0)) {
    return [problem('handle-too-short', `A hem handle of “${piece.name}” must be longer than nothing.`, where)];
  }
  return [];
}

function validateFinish(piece: Piece, step: FinishStep, where: ProblemPlace): Problem[] {
  const unknown = Object.keys(step.byEdge).find((id) => !piece.edges.some((edge) => edge.id === id));
  if (unknown !== undefined) {
    return [
      problem('allowance-edge-unknown', `An allowance of “${piece.name}” is for an edge that is not there.`, {
        ...where,
        edge: unknown,
      }),
    ];
  }
  const depths = [step.seam, step.hem, ...Object.values(step.byEdge)];
  if (!depths.every(Number.isFinite)) return [missingNumber('finish', piece, where)];
  if (depths.some((depth) => depth < 0)) {
    return [problem('allowance-negative', `An allowance of “${piece.name}” cannot be less than nothing.`, where)];
  }
  return [];
}

function missingNumber(step: string, piece: Piece, where: ProblemPlace): Problem {
  return problem('number-missing', `A measure in the ${step} step of “${piece.name}” is not a number.`, where);
}
