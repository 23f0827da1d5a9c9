import { intersectLineWithPath } from '../geometry/intersect';
import { nearestOnPath } from '../geometry/nearest';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import { pathEnd, pathLength, pathPointAt, pathStart } from '../geometry/path';
import { angleBetween, distance, mix, type Point, scale, subtract } from '../geometry/point';
import { line, type Path } from '../geometry/segment';
import { touchDistance } from '../geometry/tolerance';
import { nameInSentence } from '../pattern/nameInSentence';
import type { Dart, Piece } from '../pattern/piece';
import type { CloseDartStep } from '../pattern/recipe';
import { besideCentre, frameOf, type PieceFrame } from './linkage/pieceFrame';
import type { Cut, SpreadPlan } from './linkage/plan';
import { openCuts } from './linkage/spread';
import type { FannedPiece } from './worked';

/** Id of the cut that runs from the hem to the point of a dart. */
export function dartSlashId(dart: string): string {
  return `dart:${dart}`;
}

/**
 * Closes darts of a piece into its hem: all are slashed on the piece as it is, then closed together, so that their order
 * says nothing. The result is exact in the sense of `openCuts`: parts only turn about the darts' points.
 */
export function cutDarts(piece: Piece, steps: readonly CloseDartStep[]): Outcome<FannedPiece> {
  const plan = planClosing(piece, steps);
  return plan.ok ? openCuts(piece, plan.value) : plan;
}

/** What closing a dart has to work with. */
export interface DartReach {
  /** Angle at its point, radians. */
  readonly dartAngle: number;
  /** Length of the slash below it, mm. */
  readonly radius: number;
}

/** Measures a dart for closing it into the hem; `foot` as in the step, as a number. Refuses as `planClosing` does. */
export function dartReach(piece: Piece, step: CloseDartStep): Outcome<DartReach & { readonly foot: number }> {
  const plan = planClosing(piece, [step]);
  if (!plan.ok) return plan;
  const { apex, legs } = piece.darts.find(({ id }) => id === step.dart)!;
  const { course } = plan.value.cuts[0]!;
  const foot = course.kind === 'path' ? course.path[0]!.start : course.through;
  const dartAngle = Math.abs(angleBetween(subtract(legs[0], apex), subtract(legs[1], apex)));
  const hem = piece.edges.find(({ id }) => id === step.hem)!.path;
  const along = nearestOnPath(hem, foot).along / pathLength(hem);
  const centre = piece.edges.find(({ id }) => id === step.centre)!.path;
  return succeed({ dartAngle, radius: distance(apex, foot), foot: startsAt(hem, centre) ? along : 1 - along });
}

/** Straight opening at the hem, mm, that closing a share of a dart gives: 2 r sin(share angle / 2). */
export function openingOfShare({ dartAngle, radius }: DartReach, share: number): number {
  return 2 * radius * Math.sin((share * dartAngle) / 2);
}

/** The share of a dart to close for a straight opening at the hem; from none of it to all of it. */
export function shareOfOpening(reach: DartReach, opening: number): number {
  // All of it is exactly 1, so that the dart is gone and no sliver of it is left by rounding.
  if (opening >= openingOfShare(reach, 1) - touchDistance) return 1;
  return Math.max(0, (2 * Math.asin(opening / (2 * reach.radius))) / reach.dartAngle);
}

/**
 * Resolves closings on a piece lying any way round. Each is a slash from the hem to the dart's point and on along one
 * leg, hinged at the point, with the cloth between the legs folded away; it opens by `share` of the dart's angle. The
 * part at the centre line stays. mm, radians.
 *
 * Refusals: unknown-edge, edges-not-distinct, no-width, dart-unknown, dart-opens-at-hem, dart-on-centre-line,
 * dart-slash-misses-hem.
 */
export function planClosing(piece: Piece, steps: readonly CloseDartStep[]): Outcome<SpreadPlan> {
  const [first] = steps;
  if (first === undefined) return fail('dart-unknown', 'Choose a dart to close.');
  const framed = frameOf(piece, first);
  if (!framed.ok) return framed;
  const cuts: Cut[] = [];
  for (const step of steps) {
    const made = dartCuts(piece, framed.value, step);
    if (!made.ok) return made;
    cuts.push(...made.value);
  }
  const fixed = besideCentre(framed.value, pathLength(framed.value.centreUp) / 2);
  return succeed({ hem: first.hem, fixed, cuts, sideTurns: [] });
}

function dartCuts(piece: Piece, frame: PieceFrame, step: CloseDartStep): Outcome<Cut[]> {
  const dart = piece.darts.find(({ id }) => id === step.dart);
  const edge = piece.edges.find(({ id }) => id === dart?.edge);
  if (dart === undefined || edge === undefined) {
    return fail('dart-unknown', `A dart that is to be closed is not on “${piece.name}” any more. Leave it open.`);
  }
  const name = nameInSentence(edge.name);
  if (edge === frame.hem) {
    return fail('dart-opens-at-hem', `This dart opens on the ${name} itself, so it cannot be closed into it.`);
  }
  if (edge === frame.centre) {
    return fail(
      'dart-on-centre-line',
      `This dart opens on the ${name}, which has to stay where it is. Close a dart of another edge.`,
    );
  }
  const foot = footOf(frame, dart, step.foot);
  if (foot === null) {
    return fail(
      'dart-slash-misses-hem',
      `Straight down from the point of this dart there is no ${nameInSentence(frame.hem.name)}. Say where on it the slash is to start.`,
    );
  }
  const [a, b] = dart.legs.map((leg) => nearestOnPath(edge.path, leg).point) as [Point, Point];
  const called = `the slash to the dart on the ${name}`;
  const slash: Cut = {
    id: dartSlashId(dart.id),
    name: called,
    from: frame.hem.id,
    to: { kind: 'edge', edge: edge.id },
    course: { kind: 'path', path: [line(foot, dart.apex), line(dart.apex, a)] },
    hinge: dart.apex,
    drop: null,
    opening: { kind: 'dart', legs: dart.legs, fraction: step.share },
  };
  const leg: Cut = {
    id: `${slash.id}:leg`,
    name: `the dart on the ${name}`,
    from: edge.id,
    to: { kind: 'cut', cut: slash.id },
    course: { kind: 'path', path: [line(b, dart.apex)] },
    hinge: null,
    drop: mix(mix(dart.legs[0], dart.legs[1], 0.5), dart.apex, 0.3),
    opening: { kind: 'none' },
  };
  return succeed([slash, leg]);
}

/** Where the slash to a dart leaves the hem; null when straight down there is no hem. */
function footOf({ hem, up, centre }: PieceFrame, { apex }: Dart, foot: number | null): Point | null {
  if (foot === null) {
    const met = intersectLineWithPath(apex, scale(up, -1), hem.path).find(({ along }) => along > 0);
    return met?.point ?? null;
  }
  const length = pathLength(hem.path);
  return pathPointAt(hem.path, startsAt(hem.path, centre.path) ? foot * length : (1 - foot) * length).point;
}

/** Whether the hem, travelled as the outline runs, starts at the centre line. */
function startsAt(hem: Path, centre: Path): boolean {
  const away = (p: Point) => Math.min(distance(p, pathStart(centre)), distance(p, pathEnd(centre)));
  return away(pathStart(hem)) < away(pathEnd(hem));
}
