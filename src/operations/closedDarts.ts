import { containsPoint } from '../geometry/area';
import { type Outcome, succeed } from '../geometry/outcome';
import { endTangent, startTangent } from '../geometry/path';
import { add, angleBetween, distance, mix, type Point, quarterTurn, scale, subtract, unit } from '../geometry/point';
import { movePoint, type RigidMove, stayPut } from '../geometry/rigidMove';
import { line } from '../geometry/segment';
import { legsDiffer } from '../geometry/tolerance';
import type { Dart, Piece } from '../pattern/piece';
import type { CloseDartStep } from '../pattern/recipe';
import { cutDarts, dartSlashId } from './closeDart';
import { brokenLines } from './trueing/fanCosts';
import { restorePiece } from './trueing/restorePiece';
import type { ClosedDart, DartsClosed, FannedPiece, WorkedEdge } from './worked';

interface Kept {
  readonly key: string;
  readonly outcome: Outcome<DartsClosed>;
}

/** The last closings of a block: the document's own and the one a drag is trying. Its fans then stay quick to open. */
const closedLast = new WeakMap<Piece, readonly Kept[]>();
const closingsKept = 2;

/**
 * The block with darts closed into its hem; null when none of them is closed at all. mm, radians.
 *
 * The edge that held a dart loses exactly its mouth; the area loses the cloth between the legs and gains the wedge below,
 * r^2 sin(angle) / 2. Refuses what `planClosing` and `openCuts` refuse.
 */
export function closeDarts(block: Piece, steps: readonly CloseDartStep[]): Outcome<DartsClosed | null> {
  const closing = steps.filter(({ share }) => share !== 0);
  if (closing.length === 0) return succeed(null);
  const key = JSON.stringify(closing);
  const kept = closedLast.get(block) ?? [];
  const known = kept.find((one) => one.key === key) ?? { key, outcome: closeAnew(block, closing) };
  closedLast.set(block, [known, ...kept.filter((one) => one !== known)].slice(0, closingsKept));
  return known.outcome;
}

function closeAnew(block: Piece, steps: readonly CloseDartStep[]): Outcome<DartsClosed> {
  const cut = cutDarts(block, steps);
  if (!cut.ok) return cut;
  const darts = steps.map((step) => closedDart(cut.value, step));
  const { edges, panels, cuts, areaBefore } = cut.value;
  return succeed({
    block,
    piece: restorePiece(cut.value, edges, null),
    edges,
    panels,
    cuts,
    darts,
    areaBefore,
    warnings: brokenLines(cut.value),
  });
}

function closedDart({ source, panels, cuts, edges }: FannedPiece, { dart: id, share }: CloseDartStep): ClosedDart {
  const dart = source.darts.find((one) => one.id === id)!;
  const slash = cuts.find((cut) => cut.id === dartSlashId(id))!;
  const { apex, legs } = dart;
  const foot = slash.path[0]!.start;
  const middle = mix(foot, apex, 0.5);
  const square = quarterTurn(unit(subtract(apex, foot)));
  const beside = (way: 1 | -1) => partAt(panels, add(middle, scale(square, 0.01 * way)));
  const [one, other] = [beside(1), beside(-1)];
  // The part reached first from the fixed one is the one at the centre line.
  const [centre, side] = one.index < other.index ? [one, other] : [other, one];
  const joined = share === 1 ? meeting(edges.find((edge) => edge.id === dart.edge)!, dart, panels) : null;
  const tip = movePoint(centre.move, apex);
  return {
    dart: id,
    share,
    dartAngle: Math.abs(angleBetween(subtract(legs[0], apex), subtract(legs[1], apex))),
    angle: slash.angle,
    radius: distance(apex, foot),
    opening: slash.chord,
    wedge: { apex: tip, centreFoot: movePoint(centre.move, foot), sideFoot: movePoint(side.move, foot) },
    seam: joined === null ? null : [line(tip, joined.at)],
    before: { apex, legs },
    legDifference: Math.abs(distance(apex, legs[0]) - distance(apex, legs[1])),
    corner: joined?.corner ?? 0,
  };
}

function partAt(panels: FannedPiece['panels'], p: Point): { readonly index: number; readonly move: RigidMove } {
  return panels.find(({ boundary }) => containsPoint(boundary, p)) ?? { index: 0, move: stayPut };
}

/** Where the two stretches of an edge beside a closed dart meet, and by how much the edge turns there. */
function meeting({ segments }: WorkedEdge, dart: Dart, panels: FannedPiece['panels']) {
  const before = segments.findIndex(({ segment, origin }) => {
    if (origin.kind !== 'own') return false;
    const move = panels.find(({ index }) => index === origin.panel)!.move;
    return dart.legs.some((leg) => distance(movePoint(move, leg), segment.end) <= legsDiffer);
  });
  const first = segments[before];
  const next = segments.slice(before + 1).find(({ origin }) => origin.kind === 'own');
  if (first === undefined || next === undefined) return null;
  const corner = Math.abs(angleBetween(endTangent([first.segment]), startTangent([next.segment])));
  return { at: first.segment.end, corner };
}
