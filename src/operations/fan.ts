import { intersectLineWithPath } from '../geometry/intersect';
import { type Failure, fail, type Outcome, succeed } from '../geometry/outcome';
import { distanceAt, pathLength, pathPointAt, pathStart } from '../geometry/path';
import { add, dot, type Point, scale, subtract } from '../geometry/point';
import type { Path } from '../geometry/segment';
import { nameInSentence } from '../pattern/nameInSentence';
import type { Piece } from '../pattern/piece';
import type { FanStep, FullnessLine, Opening, SlashLine } from '../pattern/recipe';
import { besideCentre, frameOf, type PieceFrame } from './linkage/pieceFrame';
import type { Cut, CutOpening, SideTurn, SpreadPlan } from './linkage/plan';
import { openCuts } from './linkage/spread';
import type { FannedPiece } from './worked';

/** Id of the cut that a fan step's fullness line makes. */
export const fullnessCutId = 'fullness';

/** Fans a piece: resolves the step on it and opens the cuts. */
export function fan(piece: Piece, step: FanStep): Outcome<FannedPiece> {
  const plan = planFan(piece, step);
  return plan.ok ? openCuts(piece, plan.value) : plan;
}

/**
 * Resolves a fan step on a piece lying any way round, centre line at the left or right. Lengths in mm, radians.
 *
 * The fullness line runs through the point `downSide` down the side seam from its upper end, square to the centre line
 * plus its tilt; slash k stands at `across` of the width there. Without a fullness line widths are measured at the hem's
 * side corner and the slashes run through to whichever edge they meet. The part above the fullness line stays, or,
 * without one, the strip at the centre line.
 *
 * Refusals: unknown-edge, edges-not-distinct, no-width, fullness-line-off-side, fullness-line-misses-centre,
 * tilt-too-steep, slashes-coincide, slashes-out-of-order, slash-off-piece, far-opening-with-fullness-line,
 * side-turn-with-fullness-line, side-turn-negative.
 */
export function planFan(piece: Piece, step: FanStep): Outcome<SpreadPlan> {
  const framed = frameOf(piece, step);
  if (!framed.ok) return framed;
  const refusal = checkSlashes(step);
  if (refusal !== null) return refusal;
  return step.fullness === null ? planThrough(framed.value, step) : planFullness(framed.value, step, step.fullness);
}

function checkSlashes(step: FanStep): Failure | null {
  const { slashes, fullness, sideTurn } = step;
  for (const [index, { across, tilt, opening }] of slashes.entries()) {
    if (!(across > 0 && across < 1)) {
      const name = slashName(index);
      return fail('slash-off-piece', `Slash ${name} must stand between the centre line and the side. Move it.`);
    }
    if (!(Math.abs(tilt) < Math.PI / 2)) return tooSteep(`Slash ${slashName(index)}`);
    const before = slashes[index - 1];
    if (before !== undefined && before.across === across) {
      return fail(
        'slashes-coincide',
        `Slash ${slashName(index - 1)} and ${slashName(index)} stand at the same place. Move one.`,
      );
    }
    if (before !== undefined && before.across > across) {
      return fail('slashes-out-of-order', 'The slash lines are not in order from the centre line to the side.');
    }
    if (fullness !== null && opening.measure === 'chord' && opening.far !== 0) {
      return fail(
        'far-opening-with-fullness-line',
        `Slash ${slashName(index)} ends on the fullness line and is hinged there, so only its hem end can open. Take the fullness line away to open both ends.`,
      );
    }
  }
  if (fullness !== null && !(Math.abs(fullness.tilt) < Math.PI / 2)) return tooSteep('The fullness line');
  if (fullness !== null && sideTurn !== 0) {
    return fail(
      'side-turn-with-fullness-line',
      'With a fullness line the side already swings about its hinge. Set the extra at the side to 0, or take the fullness line away.',
    );
  }
  return sideTurn < 0
    ? fail('side-turn-negative', 'The side can only be turned outward. Use an opening of 0 or more.')
    : null;
}

function tooSteep(name: string): Failure {
  return fail('tilt-too-steep', `${name} leans by a right angle or more. Lean it less.`);
}

function slashName(index: number): string {
  return `line ${index + 1}`;
}

/** Slashes from the hem to a cut fullness line. */
function planFullness(frame: PieceFrame, step: FanStep, fullness: FullnessLine): Outcome<SpreadPlan> {
  const { centre, side, sideDown, up, across, centreCorner, centreUp } = frame;
  if (!(fullness.downSide >= 0 && fullness.downSide < pathLength(sideDown))) {
    return fail(
      'fullness-line-off-side',
      `The fullness line must meet the ${nameInSentence(side.name)} between its upper end and the hem. Move it.`,
    );
  }
  const hinge = pathPointAt(sideDown, fullness.downSide).point;
  const toCentre = add(scale(across, -Math.cos(fullness.tilt)), scale(up, Math.sin(fullness.tilt)));
  const meeting = intersectLineWithPath(hinge, toCentre, centreUp).find(({ along }) => along > 0);
  if (meeting === undefined) {
    return fail(
      'fullness-line-misses-centre',
      `The fullness line does not meet the ${nameInSentence(centre.name)}. Move it down the side seam or lean it less.`,
    );
  }
  const width = dot(subtract(hinge, centreCorner), across);
  const up0 = distanceAt(centreUp, meeting.segment, meeting.t);
  const cuts: Cut[] = [
    {
      id: fullnessCutId,
      name: 'the fullness line',
      from: step.centre,
      to: { kind: 'edge', edge: step.side },
      course: { kind: 'line', through: meeting.point, direction: scale(toCentre, -1) },
      hinge: null,
      drop: null,
      opening: {
        kind: 'centre',
        rule: step.centreRule,
        panel: besideCentre(frame, up0 / 2),
        line: { through: centreCorner, direction: up },
        corner: centreCorner,
      },
    },
    ...step.slashes.map((slash, index): Cut => {
      const fromSide = (width * (1 - slash.across)) / Math.cos(fullness.tilt);
      return slashCut(frame, slash, index, add(hinge, scale(toCentre, fromSide)), { kind: 'cut', cut: fullnessCutId });
    }),
  ];
  const fixed = besideCentre(frame, (up0 + pathLength(centreUp)) / 2);
  return succeed({ hem: step.hem, fixed, cuts, sideTurns: [] });
}

/** Slashes from the hem right through to the far edge. */
function planThrough(frame: PieceFrame, step: FanStep): Outcome<SpreadPlan> {
  const { across, centreCorner, sideCorner, sideDown, centreUp } = frame;
  const width = dot(subtract(sideCorner, centreCorner), across);
  const cuts = step.slashes.map((slash, index) =>
    slashCut(frame, slash, index, add(sideCorner, scale(across, -width * (1 - slash.across))), {
      kind: 'any-edge',
      except: [step.hem, step.centre],
    }),
  );
  const turn: SideTurn = {
    edge: step.side,
    hinge: pathStart(sideDown),
    opening: { kind: 'chord', width: step.sideTurn },
  };
  return succeed({
    hem: step.hem,
    fixed: besideCentre(frame, pathLength(centreUp) / 2),
    cuts,
    sideTurns: step.sideTurn > 0 ? [turn] : [],
  });
}

function slashCut(frame: PieceFrame, slash: SlashLine, index: number, through: Point, to: Cut['to']): Cut {
  const direction = add(scale(frame.up, Math.cos(slash.tilt)), scale(frame.across, -Math.sin(slash.tilt)));
  return {
    id: slash.id,
    name: `slash ${slashName(index)}`,
    from: frame.hem.id,
    to,
    course: { kind: 'line', through, direction },
    hinge: null,
    drop: null,
    opening: slashOpening(slash.opening),
  };
}

function slashOpening(opening: Opening): CutOpening {
  switch (opening.measure) {
    case 'angle':
      return { kind: 'angle', angle: opening.angle };
    case 'arc':
      return { kind: 'arc', length: opening.hem };
    case 'chord':
      return opening.far === 0
        ? { kind: 'chord', width: opening.hem }
        : { kind: 'unequal', far: opening.far, near: opening.hem };
  }
}

export interface FanDefaults {
  /** Distance of the fullness line down the side seam, mm; without it 50 below an armhole, 200 (hip) below a waist. */
  readonly downSide?: number;
  /** How many slash lines; 4. */
  readonly slashes?: number;
  /** Opening of each at the hem, mm; 1 1/2 in. */
  readonly opening?: number;
}

/**
 * A fan step to start from: fullness line square to the centre line, evenly spaced parallel slashes, equal openings.
 * Finds the edges by their roles. Refusals: no-centre-edge, no-hem, no-side-edge, no-slashes.
 *
 * Sources: 1 to 2 in per slash line is common practice, no source; hip 20 cm below the waist as in the skirt block
 * handout of WikiEducator; 5 cm below the armhole is ours.
 */
export function defaultFan(piece: Piece, options: FanDefaults = {}): Outcome<FanStep> {
  const { slashes = 4, opening = 38.1 } = options;
  const hem = piece.edges.findIndex(({ role }) => role === 'hem');
  if (hem < 0) return missing(piece, 'no-hem', 'hem');
  const isCentre = (index: number) => /^centre-/.test(piece.edges[index]!.role);
  const centre = nearestOnOutline(piece, hem, isCentre);
  if (centre < 0) return missing(piece, 'no-centre-edge', 'centre front or centre back');
  const side = nearestOnOutline(piece, hem, (index) => piece.edges[index]!.role === 'side');
  if (side < 0) return missing(piece, 'no-side-edge', 'side seam');
  if (!(Number.isInteger(slashes) && slashes >= 1)) {
    return fail('no-slashes', 'A fan needs at least one slash line. Give a whole number.');
  }
  const sidePath = piece.edges[side]!.path;
  const step: FanStep = {
    kind: 'fan',
    centre: piece.edges[centre]!.id,
    hem: piece.edges[hem]!.id,
    side: piece.edges[side]!.id,
    fullness: { downSide: options.downSide ?? usualHeight(piece, hem, side, sidePath), tilt: 0 },
    slashes: evenSlashes(slashes, opening),
    centreRule: 'parallel',
    sideTurn: 0,
  };
  return succeed(step);
}

/** n slashes that part the width into n + 1 strips of one width, with ids s1, s2 ... from the centre line. */
export function evenSlashes(count: number, opening: number): SlashLine[] {
  return Array.from({ length: count }, (_, index) => ({
    id: `s${index + 1}`,
    across: (index + 1) / (count + 1),
    tilt: 0,
    opening: { measure: 'chord', hem: opening, far: 0 },
  }));
}

function missing(piece: Piece, code: string, edge: string): Failure {
  return fail(code, `${piece.name} has no edge named as its ${edge}. Click the edge, say what it is, then fan.`);
}

/** The edge that fits, reached in the fewest steps round the outline from the hem; -1 if none fits. */
function nearestOnOutline(piece: Piece, hem: number, fits: (index: number) => boolean): number {
  const count = piece.edges.length;
  for (let steps = 1; steps < count; steps++) {
    for (const index of [(hem + steps) % count, (hem - steps + count) % count]) if (fits(index)) return index;
  }
  return -1;
}

/** 200 mm below a waist (hip), else 50 mm below the top of the side seam, and never below 0.4 of the seam. */
function usualHeight(piece: Piece, hem: number, side: number, sidePath: Path): number {
  const count = piece.edges.length;
  const away = (side + 1) % count === hem ? side - 1 : side + 1;
  const above = piece.edges[(away + count) % count]!;
  return Math.min(above.role === 'waist' ? 200 : 50, 0.4 * pathLength(sidePath));
}
