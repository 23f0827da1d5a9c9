import { containsPoint } from '../../geometry/area';
import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import type { Point } from '../../geometry/point';
import { placeByCentreRule } from './centreRule';
import type { CutPiece, CutSidePart } from './cutPiece';
import { type Parting, partingOf } from './opening';
import { type Joint, type Placement, placePanels } from './place';
import type { CentreOpening, SpreadPlan } from './plan';
import { sentenceCase } from './wording';

/** The panels as placed, with the joints that placed them. */
export interface PlacedCuts {
  readonly joints: readonly Joint[];
  /** By cut; -1 where one side of the cut was taken away. */
  readonly jointOf: readonly number[];
  readonly placement: Placement;
  /** The cut that follows a centre rule, and the panel at the centre line; null without one. */
  readonly centre: { readonly cut: number; readonly strip: number; readonly opening: CentreOpening } | null;
}

/** Joins the panels along their cuts and places them as the plan's openings ask. */
export function placeAll(cutPiece: CutPiece, plan: SpreadPlan): Outcome<PlacedCuts> {
  const fixed = panelAt(cutPiece, plan.fixed);
  if (fixed < 0) {
    return fail('fixed-point-outside', 'The part that is to stay was not found. Point at a part of the piece.');
  }
  const joints: Joint[] = [];
  const jointOf: number[] = [];
  for (const [cut, made] of cutPiece.cuts.entries()) {
    const parting = partingOf(cutPiece.piece, made);
    if (!parting.ok) return parting;
    if (opensBothWays(cutPiece, cut, parting.value)) {
      return fail(
        'hinge-inside-cut',
        `${sentenceCase(made.cut.name)} is hinged part-way, so its far part would overlap as its near part opens. End it at its hinge, or take a wedge away beyond it.`,
      );
    }
    const joint = jointAlong(cutPiece, cut, parting.value);
    jointOf.push(joint === null ? -1 : joints.length);
    if (joint !== null) joints.push(joint);
  }
  const present = cutPiece.dropped.map((gone) => !gone);
  const centre = centreOf(cutPiece);
  if (centre !== null && centre.strip < 0) {
    return fail('fixed-point-outside', 'The strip at the centre line was not found. Point at a part of the piece.');
  }
  const placed =
    centre === null
      ? withJoints(joints, placePanels(present, joints, fixed))
      : placeByCentreRule(
          present,
          joints,
          fixed,
          jointOf[centre.cut]!,
          centre.strip,
          cutPiece.cuts[centre.cut]!.openEnd,
          centre.opening,
        );
  if (!placed.ok) return placed;
  const far = placed.value.placement.moves.some((move) => move !== null && Math.abs(move.angle) >= Math.PI);
  const total = joints.reduce((sum, { parting }, index) => {
    const isCentre = centre !== null && index === jointOf[centre.cut];
    return isCentre || parting.kind === 'slide' ? sum : sum + parting.angle;
  }, 0);
  if (far || Math.abs(total) >= Math.PI) return turnsTooFar();
  return succeed({ ...placed.value, jointOf, centre });
}

function withJoints(joints: readonly Joint[], placement: Outcome<Placement>) {
  return placement.ok ? succeed({ joints, placement: placement.value }) : placement;
}

function centreOf(cutPiece: CutPiece): PlacedCuts['centre'] {
  for (const [cut, { cut: plan }] of cutPiece.cuts.entries()) {
    if (plan.opening.kind === 'centre') {
      return { cut, strip: panelAt(cutPiece, plan.opening.panel), opening: plan.opening };
    }
  }
  return null;
}

/** The kept panel that holds a point; -1 if none does. */
function panelAt({ panels, dropped }: CutPiece, p: Point): number {
  return panels.findIndex(({ segments }, index) => !dropped[index] && containsPoint(segments, p));
}

/**
 * The joint of a cut: it joins the two panels that hold the cut's sides just before its hinge, whatever later cuts have
 * parted off. null when one of them was taken away.
 */
function jointAlong({ left, right, cuts, dropped }: CutPiece, cut: number, parting: Parting): Joint | null {
  const { beforeHinge } = cuts[cut]!;
  const leftPanel = panelAtHinge(left[cut]!, beforeHinge);
  const rightPanel = panelAtHinge(right[cut]!, beforeHinge);
  if (dropped[leftPanel] || dropped[rightPanel]) return null;
  return { left: leftPanel, right: rightPanel, parting, tear: null };
}

function panelAtHinge(parts: readonly CutSidePart[], beforeHinge: number): number {
  return parts.findLast(({ high }) => high <= beforeHinge)!.panel;
}

/** Whether cloth lies on both sides of a cut beyond its hinge, where an opening would become an overlap. */
function opensBothWays({ left, right, cuts, dropped }: CutPiece, cut: number, parting: Parting): boolean {
  const { beforeHinge, path } = cuts[cut]!;
  if (beforeHinge === path.length || (parting.kind === 'turn' && parting.angle === 0)) return false;
  const clothBeyond = (parts: readonly CutSidePart[]) =>
    parts.some(({ low, panel }) => low >= beforeHinge && !dropped[panel]);
  return clothBeyond(left[cut]!) && clothBeyond(right[cut]!);
}

function turnsTooFar(): Failure {
  return fail(
    'turn-too-far',
    'Together the openings turn the piece by half a circle or more, further than one flat piece can go. Use smaller openings or fewer slash lines.',
  );
}
