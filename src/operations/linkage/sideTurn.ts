import { nearestOnPath } from '../../geometry/nearest';
import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import { distance, type Point } from '../../geometry/point';
import { moveSegment, turnAbout } from '../../geometry/rigidMove';
import { line, segmentPointAt } from '../../geometry/segment';
import { cutEndReach } from '../../geometry/tolerance';
import { nameInSentence } from '../../pattern/nameInSentence';
import type { Piece } from '../../pattern/piece';
import type { OpenedCut, TracedSegment, WorkedEdge } from '../worked';
import { stretchOf } from './overlap';
import type { SideTurn } from './plan';

/** Id of the gap that a side turn opens in the hem. */
function sideTurnId(edge: string): string {
  return `half:${edge}`;
}

/**
 * Turns a placed side edge outward about its hinge, from the hinge down to the hem; the hem is bridged to the new corner
 * by a chord. The seam keeps its length and the area grows by exactly r^2 sin(angle) / 2, r from hinge to hem corner.
 */
export function turnSide(
  piece: Piece,
  edges: readonly WorkedEdge[],
  hem: string,
  turn: SideTurn,
): Outcome<{ readonly edges: WorkedEdge[]; readonly opened: OpenedCut }> {
  const count = edges.length;
  const at = edges.findIndex(({ id }) => id === turn.edge);
  const hemAt = edges.findIndex(({ id }) => id === hem);
  if (at < 0) return fail('unknown-edge', `There is no edge "${turn.edge}" on ${piece.name} to turn outward.`);
  const edge = edges[at]!;
  const afterHem = (hemAt + 1) % count === at;
  if (!afterHem && (at + 1) % count !== hemAt) {
    return fail(
      'side-turn-not-at-hem',
      `The ${nameInSentence(edge.name)} does not meet the hem, so turning it cannot widen the hem.`,
    );
  }
  const blockPath = piece.edges[at]!.path;
  const place = nearestOnPath(blockPath, turn.hinge);
  if (place.distance > cutEndReach) {
    return fail(
      'hinge-off-edge',
      `The hinge of the side turn does not lie on the ${nameInSentence(edge.name)}. Put it on the edge.`,
    );
  }
  const halves = splitAtSource(edge.segments, turn.edge, place.segment, place.t);
  if (halves === null) return hingeAtHem(edge);
  const [above, below] = afterHem ? [halves[1], halves[0]] : [halves[0], halves[1]];
  const first = below[0];
  const last = below.at(-1);
  if (first === undefined || last === undefined) return hingeAtHem(edge);
  const hinge = afterHem ? last.segment.end : first.segment.start;
  const corner = afterHem ? first.segment.start : last.segment.end;
  const radius = distance(hinge, corner);
  const amount = turn.opening.kind === 'angle' ? turn.opening.angle : turn.opening.width / (2 * radius);
  const angle = turn.opening.kind === 'angle' ? amount : 2 * Math.asin(amount);
  if (!(angle >= 0 && angle < Math.PI)) {
    return fail(
      'side-turn-out-of-range',
      `The ${nameInSentence(edge.name)} can only be turned outward, by less than half a circle.`,
    );
  }
  // Below the hinge an edge that leaves the hem swings counter-clockwise on screen to go outward (negative, y down).
  const swing = turnAbout(hinge, afterHem ? -angle : angle);
  const swung = below.map(({ segment, origin }): TracedSegment => ({ segment: moveSegment(swing, segment), origin }));
  const newCorner = afterHem ? swung[0]!.segment.start : swung.at(-1)!.segment.end;
  const id = sideTurnId(turn.edge);
  const gap: TracedSegment = {
    segment: afterHem ? line(corner, newCorner) : line(newCorner, corner),
    origin: { kind: 'gap', cut: id },
  };
  const hemSegments = edges[hemAt]!.segments;
  const changed = edges.slice();
  changed[at] = {
    ...edge,
    segments: afterHem ? [...pinned(swung, hinge, 'end'), ...above] : [...above, ...pinned(swung, hinge, 'start')],
  };
  if (angle > 0) {
    changed[hemAt] = { ...edges[hemAt]!, segments: afterHem ? [...hemSegments, gap] : [gap, ...hemSegments] };
  }
  const blockCorner: Point = afterHem ? blockPath[0]!.start : blockPath.at(-1)!.end;
  return succeed({
    edges: changed,
    opened: {
      id,
      pivot: place.point,
      radius,
      length: radius,
      angle,
      chord: 2 * radius * Math.sin(angle / 2),
      gapArea: (radius * radius * Math.sin(angle)) / 2,
      path: [line(blockCorner, place.point)],
    },
  });
}

function hingeAtHem(edge: WorkedEdge): Failure {
  return fail(
    'hinge-at-hem',
    `The hinge of the side turn lies at the hem corner of the ${nameInSentence(edge.name)}. Put it further up.`,
  );
}

/** The traced edge before and after a place of its block edge; null if that place is no longer on it. */
function splitAtSource(
  segments: readonly TracedSegment[],
  edge: string,
  segment: number,
  t: number,
): readonly [TracedSegment[], TracedSegment[]] | null {
  const index = segments.findIndex(
    ({ origin }) =>
      origin.kind === 'own' && origin.edge === edge && origin.segment === segment && origin.from <= t && t <= origin.to,
  );
  const traced = segments[index];
  if (traced?.origin.kind !== 'own') return null;
  const { from, to } = traced.origin;
  const inside = (t - from) / (to - from);
  const at = segmentPointAt(traced.segment, inside);
  const before = segments.slice(0, index);
  const after = segments.slice(index + 1);
  if (distance(at, traced.segment.start) <= cutEndReach) return [before, [traced, ...after]];
  if (distance(at, traced.segment.end) <= cutEndReach) return [[...before, traced], after];
  return [
    [...before, stretchOf(traced, 0, inside)],
    [stretchOf(traced, inside, 1), ...after],
  ];
}

/** The swung segments with the hinge end put back exactly. */
function pinned(segments: readonly TracedSegment[], hinge: Point, end: 'start' | 'end'): TracedSegment[] {
  const index = end === 'start' ? 0 : segments.length - 1;
  return segments.map((traced, i) =>
    i === index ? { ...traced, segment: { ...traced.segment, [end]: hinge } } : traced,
  );
}
