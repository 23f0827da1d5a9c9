import { containsPoint, enclosedArea } from '../../geometry/area';
import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import { distance } from '../../geometry/point';
import { samePoint, thinnestPanel } from '../../geometry/tolerance';
import type { Piece } from '../../pattern/piece';
import type { CutPiece, CutSidePart, MadeCut } from './cutPiece';
import { checkDarts } from './dartCrossing';
import { type Panel, splitPanel, wholePanel } from './panel';
import type { Cut } from './plan';
import { findRoute, jointAtHinge, type Route } from './route';
import { sameCut } from './sameCut';
import { sentenceCase } from './wording';

/** A piece cut up, before anything is taken away. */
type Parts = Pick<CutPiece, 'panels' | 'areas' | 'cuts' | 'left' | 'right'>;

/** How each piece was cut up last. While openings are dragged the cuts stay where they are, and so do the parts. */
const lastParts = new WeakMap<Piece, Parts>();

/** Makes the cuts in their order. Refuses a cut that is not one clean cut across the cloth. */
export function cutUp(piece: Piece, cuts: readonly Cut[]): Outcome<CutPiece> {
  const parts = partsOf(piece, cuts);
  if (!parts.ok) return parts;
  const { panels, areas } = parts.value;
  const crossed = checkDarts(piece, parts.value.cuts);
  if (crossed !== null) return crossed;
  const thin = areas.findIndex((area) => area < thinnestPanel);
  if (thin >= 0 && cuts.length > 0) return hasNoWidth(panels[thin]!, cuts);
  const dropped = dropParts(panels, cuts);
  return dropped.ok ? succeed({ piece, dropped: dropped.value, ...parts.value }) : dropped;
}

function partsOf(piece: Piece, cuts: readonly Cut[]): Outcome<Parts> {
  const last = lastParts.get(piece);
  if (last?.cuts.length === cuts.length && last.cuts.every(({ cut }, index) => sameCut(cut, cuts[index]!))) {
    return succeed(reopened(last, cuts));
  }
  const parts = cutApart(piece, cuts);
  if (parts.ok) lastParts.set(piece, parts.value);
  return parts;
}

/** The same parts, under cuts that open by other amounts. */
function reopened({ panels, areas, cuts: made, left, right }: Parts, cuts: readonly Cut[]): Parts {
  const remade = made.map(
    ({ path, beforeHinge, openEnd, hinge, startEdge, endEdge }, index): MadeCut => ({
      cut: cuts[index]!,
      path,
      beforeHinge,
      openEnd,
      hinge,
      startEdge,
      endEdge,
    }),
  );
  return { panels, areas, cuts: remade, left, right };
}

function cutApart(piece: Piece, cuts: readonly Cut[]): Outcome<Parts> {
  const panels: Panel[] = [wholePanel(piece)];
  const made: MadeCut[] = [];
  const done: Cut[] = [];
  for (const cut of cuts) {
    if (done.some(({ id }) => id === cut.id)) {
      return fail('cut-repeated', `Two cuts are called "${cut.id}". Give each its own id.`);
    }
    const route = findRoute({ piece, cuts: done, panels }, cut);
    if (!route.ok) return route;
    const next = makeCut(piece, panels, made, cut, route.value);
    if (!next.ok) return next;
    made.push(next.value);
    done.push(cut);
  }
  const areas = panels.map(({ segments }) => enclosedArea(segments));
  return succeed({ panels, areas, cuts: made, ...sidesOf(panels, made.length) });
}

/** Splits the panel the route crosses, in place: the left part keeps its number, the right part is added. */
function makeCut(
  piece: Piece,
  panels: Panel[],
  made: readonly MadeCut[],
  cut: Cut,
  { panel, start, end, endEdge, path }: Route,
): Outcome<MadeCut> {
  if (start.index === end.index && start.t === end.t) {
    return fail('cut-has-no-length', `${sentenceCase(cut.name)} starts and ends at the same place. Move it.`);
  }
  const atHinge = cut.hinge === null ? { path, before: path.length } : jointAtHinge(path, cut.hinge);
  if (atHinge === null || atHinge.before === 0) {
    return fail(
      'hinge-off-cut',
      `The hinge of ${cut.name} does not lie on it, away from its open end. Put it on the line.`,
    );
  }
  const border = panels[panel]!;
  const split = splitPanel(border, start, end, atHinge.path, made.length);
  const openEnd = split.path[0]!.start;
  const hinge = split.path[atHinge.before - 1]!.end;
  const clash = made.find(
    (other) => distance(other.hinge, openEnd) <= samePoint || distance(other.openEnd, hinge) <= samePoint,
  );
  if (clash !== undefined) return meetsAtHinge(cut, clash.cut);
  panels[panel] = split.left;
  panels.push(split.right);
  return succeed({
    cut,
    path: split.path,
    beforeHinge: atHinge.before,
    openEnd,
    hinge,
    startEdge: piece.edges.findIndex(({ id }) => id === cut.from),
    endEdge,
  });
}

function meetsAtHinge(cut: Cut, other: Cut): Failure {
  return fail(
    'cuts-meet-at-hinge',
    `${sentenceCase(cut.name)} and ${other.name} meet where one opens and the other is hinged, so nothing would hold there. Move one of them; cuts may share a hinge or an open end.`,
  );
}

function hasNoWidth(panel: Panel, cuts: readonly Cut[]): Failure {
  const names = new Set(
    panel.stretches.flatMap((stretch) => (stretch.kind === 'cut' ? [cuts[stretch.cut]!.name] : [])),
  );
  return fail(
    'strip-too-thin',
    `The cuts leave a strip with no width beside ${[...names].join(' and ')}. Move them apart, or take one away.`,
  );
}

/** Marks the parts to take away. */
function dropParts(panels: readonly Panel[], cuts: readonly Cut[]): Outcome<boolean[]> {
  const dropped = panels.map(() => false);
  for (const cut of cuts) {
    const { drop } = cut;
    if (drop === null) continue;
    const panel = panels.findIndex(({ segments }) => containsPoint(segments, drop));
    if (panel < 0) {
      return fail(
        'drop-outside',
        `The part that ${cut.name} takes away lies outside the piece. Point at the part itself.`,
      );
    }
    dropped[panel] = true;
  }
  return succeed(dropped);
}

function sidesOf(panels: readonly Panel[], count: number): Pick<CutPiece, 'left' | 'right'> {
  const left: CutSidePart[][] = Array.from({ length: count }, () => []);
  const right: CutSidePart[][] = Array.from({ length: count }, () => []);
  panels.forEach(({ stretches }, panel) => {
    stretches.forEach((stretch, index) => {
      if (stretch.kind !== 'cut') return;
      const low = stretch.segment + Math.min(stretch.from, stretch.to);
      const high = stretch.segment + Math.max(stretch.from, stretch.to);
      (stretch.side === 'left' ? left : right)[stretch.cut]!.push({ panel, index, low, high });
    });
  });
  for (const parts of [...left, ...right]) parts.sort((a, b) => a.low - b.low);
  return { left, right };
}
