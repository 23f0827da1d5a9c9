import { containsPoint } from '../../geometry/area';
import { intersectLineWithPath, intersectPaths, type LineCrossing } from '../../geometry/intersect';
import { nearestOnPath, nearestOnSegment } from '../../geometry/nearest';
import { type Failure, fail, type Outcome, succeed } from '../../geometry/outcome';
import { dot, mix, type Point, quarterTurn, unit } from '../../geometry/point';
import { line, type Path, segmentPointAt, splitSegment } from '../../geometry/segment';
import { unitTangentAt } from '../../geometry/tangent';
import { cutEndReach, samePoint } from '../../geometry/tolerance';
import type { Piece } from '../../pattern/piece';
import { type BorderPlace, type Panel, type Stretch, snapPlace } from './panel';
import type { Cut, CutTarget } from './plan';
import { sentenceCase } from './wording';

/** Where a cut runs: the panel it splits, its two ends on that panel's border, and the path between them. */
export interface Route {
  readonly panel: number;
  readonly start: BorderPlace;
  readonly end: BorderPlace;
  /** Edge (by index) that the end lies on; -1 when it lies on another cut. */
  readonly endEdge: number;
  readonly path: Path;
}

/** What has been cut so far. `cuts` are the cuts already made, by their index. */
export interface CutTable {
  readonly piece: Piece;
  readonly cuts: readonly Cut[];
  readonly panels: readonly Panel[];
}

/** Finds where a cut runs on the panels cut so far, or says why it cannot. */
export function findRoute(table: CutTable, cut: Cut): Outcome<Route> {
  const edge = table.piece.edges.findIndex(({ id }) => id === cut.from);
  if (edge < 0) return unknownEdge(table.piece, cut, cut.from);
  const { to } = cut;
  if (to.kind === 'edge' && !table.piece.edges.some(({ id }) => id === to.edge)) {
    return unknownEdge(table.piece, cut, to.edge);
  }
  if (to.kind === 'cut' && !table.cuts.some(({ id }) => id === to.cut)) {
    return fail(
      'slash-ends-on-uncut-line',
      `${sentenceCase(cut.name)} ends inside the cloth, on a line that is not cut; flat paper cannot open there. Cut that line too and leave one hinge, run the slash right through to the far edge, set in a godet, or fold out an equal dart beyond the tip.`,
    );
  }
  return cut.course.kind === 'line'
    ? lineRoute(table, cut, edge, cut.course.through, cut.course.direction)
    : pathRoute(table, cut, edge, cut.course.path);
}

function lineRoute(table: CutTable, cut: Cut, edge: number, through: Point, direction: Point): Outcome<Route> {
  const { path, name } = table.piece.edges[edge]!;
  const starts = lineCrossings(through, direction, path).sort((a, b) => Math.abs(a.along) - Math.abs(b.along));
  let failure: Failure | null = null;
  for (const start of starts) {
    const found = routeFrom(table, cut, edge, start, through, direction);
    if (found.ok) return found;
    failure ??= found;
  }
  return (
    failure ?? fail('cut-misses-edge', `${sentenceCase(cut.name)} does not meet the ${name}. Move it until it does.`)
  );
}

/** Follows the line from one crossing of the `from` edge into the cloth, to the first border it meets. */
function routeFrom(
  table: CutTable,
  cut: Cut,
  edge: number,
  start: LineCrossing,
  through: Point,
  direction: Point,
): Outcome<Route> {
  let blocking: Stretch | null = null;
  for (const [index, panel] of table.panels.entries()) {
    if (!holds(panel, edge, start)) continue;
    const crossings = lineCrossings(through, direction, panel.segments);
    const at = crossings.findIndex(({ along }) => Math.abs(along - start.along) <= samePoint);
    const from = crossings[at];
    if (from === undefined) continue;
    const inward = inwardStep(panel, crossings, at, direction);
    const end = crossings[at + inward];
    if (inward === 0 || end === undefined) continue;
    const touched = stretchesAt(panel, end);
    const target = touched.find((stretch) => isTarget(table, stretch, cut.to));
    if (target === undefined) {
      blocking = touched[0]!;
      continue;
    }
    return succeed({
      panel: index,
      start: snapPlace(panel, { index: from.segment, t: from.t }, from.point),
      end: snapPlace(panel, { index: end.segment, t: end.t }, end.point),
      endEdge: target.kind === 'edge' ? target.edge : -1,
      path: [line(from.point, end.point)],
    });
  }
  return blocking !== null
    ? meetsSomethingElse(table, cut, blocking)
    : fail(
        'cut-misses-edge',
        `${sentenceCase(cut.name)} only grazes the ${table.piece.edges[edge]!.name}. Move or lean it so that it crosses.`,
      );
}

/**
 * Crossings of a line with a path, sorted along the line. Segments wholly to one side of it are passed over first, as
 * nearly all are: this looks at every segment of a border for every cut.
 */
function lineCrossings(through: Point, direction: Point, path: Path): LineCrossing[] {
  const along = unit(direction);
  const near: number[] = [];
  for (let i = 0; i < path.length; i++) {
    const segment = path[i]!;
    const a = height(along, through, segment.start);
    const d = height(along, through, segment.end);
    const b = segment.kind === 'cubic' ? height(along, through, segment.control1) : a;
    const c = segment.kind === 'cubic' ? height(along, through, segment.control2) : d;
    const apart =
      (a > samePoint && b > samePoint && c > samePoint && d > samePoint) ||
      (a < -samePoint && b < -samePoint && c < -samePoint && d < -samePoint);
    if (!apart) near.push(i);
  }
  // Segments passed over leave holes in the path, but a joint on the line keeps both its segments, next to each other.
  const left = near.map((index) => path[index]!);
  return intersectLineWithPath(through, direction, left).map(({ segment, t, point, along: position }) => ({
    segment: near[segment]!,
    t,
    point,
    along: position,
  }));
}

/** Distance of p from the line, mm; the sign tells the side. */
function height(along: Point, through: Point, p: Point): number {
  return along.x * (p.y - through.y) - along.y * (p.x - through.x);
}

/** Whether a panel's border has this place of an edge; a joint is the start of one segment and the end of the one before. */
function holds({ stretches }: Panel, edge: number, { segment, t }: LineCrossing): boolean {
  for (const stretch of stretches) {
    if (stretch.kind !== 'edge' || stretch.edge !== edge) continue;
    if (stretch.segment === segment && stretch.from <= t && t <= stretch.to) return true;
    if (t === 0 && stretch.segment === segment - 1 && stretch.to === 1) return true;
  }
  return false;
}

/** +1 or -1: which neighbour along the line lies across cloth; 0 if neither does. */
function inwardStep(panel: Panel, crossings: readonly LineCrossing[], at: number, direction: Point): -1 | 0 | 1 {
  const { segment, t, point } = crossings[at]!;
  if (t > 0 && t < 1) {
    // Travelling counter-clockwise the quarter turn points outward.
    const inwards = -dot(unit(direction), quarterTurn(unitTangentAt(panel.segments[segment]!, t)));
    if (Math.abs(inwards) > 1e-6) return inwards > 0 ? 1 : -1;
  }
  for (const step of [1, -1] as const) {
    const next = crossings[at + step];
    if (next !== undefined && containsPoint(panel.segments, mix(point, next.point, 0.5))) return step;
  }
  return 0;
}

/** The pieces of border that meet at a crossing: one, or two at a joint. */
function stretchesAt(panel: Panel, { segment, t }: LineCrossing): Stretch[] {
  const count = panel.stretches.length;
  const touched = [panel.stretches[segment]!];
  if (t === 0) touched.push(panel.stretches[(segment + count - 1) % count]!);
  if (t === 1) touched.push(panel.stretches[(segment + 1) % count]!);
  return touched;
}

function isTarget(table: CutTable, stretch: Stretch, to: CutTarget): boolean {
  if (to.kind === 'cut') return stretch.kind === 'cut' && table.cuts[stretch.cut]!.id === to.cut;
  if (stretch.kind === 'cut') return false;
  const { id } = table.piece.edges[stretch.edge]!;
  return to.kind === 'edge' ? id === to.edge : !to.except.includes(id);
}

function meetsSomethingElse(table: CutTable, cut: Cut, met: Stretch): Failure {
  const target = targetName(table, cut.to);
  if (met.kind === 'cut') {
    return fail(
      'cuts-cross',
      `${sentenceCase(cut.name)} runs into ${table.cuts[met.cut]!.name} before it reaches ${target}. Move or lean one of them so that they do not cross.`,
    );
  }
  return fail(
    'cut-misses-edge',
    `${sentenceCase(cut.name)} meets the ${table.piece.edges[met.edge]!.name} before it reaches ${target}. Move or lean it.`,
  );
}

function targetName(table: CutTable, to: CutTarget): string {
  if (to.kind === 'cut') return table.cuts.find(({ id }) => id === to.cut)?.name ?? 'that line';
  if (to.kind === 'edge') return `the ${table.piece.edges.find(({ id }) => id === to.edge)?.name ?? to.edge}`;
  return 'the far edge';
}

/** A drawn cut: its ends must lie on the border of one panel, and it may not meet that border in between. */
function pathRoute(table: CutTable, cut: Cut, edge: number, path: Path): Outcome<Route> {
  const first = path[0];
  const last = path[path.length - 1];
  if (first === undefined || last === undefined) {
    return fail('cut-misses-edge', `${sentenceCase(cut.name)} has no length. Draw it again.`);
  }
  let reason: Failure = fail(
    'cut-misses-edge',
    `${sentenceCase(cut.name)} does not run from the ${table.piece.edges[edge]!.name} to ${targetName(table, cut.to)}. Draw it from border to border.`,
  );
  for (const [index, panel] of table.panels.entries()) {
    const start = placeOn(panel, first.start, (stretch) => stretch.kind === 'edge' && stretch.edge === edge);
    const end = placeOn(panel, last.end, (stretch) => isTarget(table, stretch, cut.to));
    if (start === null || end === null) continue;
    if (!containsPoint(panel.segments, segmentPointAt(first, 0.5))) continue;
    const meetings = intersectPaths(path, panel.segments);
    const between = meetings.find(
      ({ point }) => !near(point, first.start, cutEndReach) && !near(point, last.end, cutEndReach),
    );
    if (between !== undefined) {
      const met = panel.stretches[between.segmentB]!;
      reason = meetsSomethingElse(table, cut, met);
      continue;
    }
    return succeed({ panel: index, start: start.place, end: end.place, endEdge: end.edge, path });
  }
  return reason;
}

function placeOn(
  panel: Panel,
  p: Point,
  allowed: (stretch: Stretch) => boolean,
): { readonly place: BorderPlace; readonly edge: number } | null {
  for (const [index, segment] of panel.segments.entries()) {
    const stretch = panel.stretches[index]!;
    if (!allowed(stretch)) continue;
    const { t, point, distance } = nearestOnSegment(segment, p);
    if (distance > cutEndReach) continue;
    return { place: snapPlace(panel, { index, t }, point), edge: stretch.kind === 'edge' ? stretch.edge : -1 };
  }
  return null;
}

/** The path with a joint at the hinge, and how many of its segments lie before it; null when the hinge is off the path. */
export function jointAtHinge(path: Path, hinge: Point): { readonly path: Path; readonly before: number } | null {
  const { segment, t, point, distance } = nearestOnPath(path, hinge);
  if (distance > cutEndReach) return null;
  const on = path[segment]!;
  if (t === 0 || near(point, on.start, samePoint)) return { path, before: segment };
  if (t === 1 || near(point, on.end, samePoint)) return { path, before: segment + 1 };
  return { path: [...path.slice(0, segment), ...splitSegment(on, t), ...path.slice(segment + 1)], before: segment + 1 };
}

function near(a: Point, b: Point, reach: number): boolean {
  return Math.hypot(a.x - b.x, a.y - b.y) <= reach;
}

function unknownEdge(piece: Piece, cut: Cut, id: string): Failure {
  return fail('unknown-edge', `${sentenceCase(cut.name)} names the edge "${id}", which ${piece.name} does not have.`);
}
