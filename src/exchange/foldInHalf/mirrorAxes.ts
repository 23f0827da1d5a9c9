import { flattenPath } from '../../geometry/flatten';
import { intersectLineWithPath } from '../../geometry/intersect';
import { type MirrorLine, mirrorPoint, sideOf } from '../../geometry/mirror';
import { add, cross, dot, norm, type Point, quarterTurn, scale, subtract } from '../../geometry/point';
import { line, type Path } from '../../geometry/segment';
import { areaMoments } from './areaMoments';
import { chainFootFinder, type Foot, footFinder, type Sample, samplesOf } from './outlineSamples';

/** A line about which both sides of an outline may be the same, with how far they are apart when folded on it. */
export interface MirrorAxis {
  readonly mirror: MirrorLine;
  /** Where it first enters and last leaves the outline, the upper (of a level one, the left) end first. */
  readonly ends: readonly [Point, Point];
  /** Largest distance between an edge and the other side folded over, mm, and a point of the outline where that is. */
  readonly apart: number;
  readonly apartAt: Point;
  /** Root mean square of that distance along the outline, mm. */
  readonly usual: number;
}

/** Directions tried from the principal axis on, evenly spread over half a turn. */
const starts = 12;
/** Points in the search and in the last polish. */
const coarse = 80;
const fine = 400;
/** Segments above which an outline is thinned for either. */
const coarseSteps = 120;
const fineSteps = 400;
/** Axes this near to each other are one: radians, and a share of the size. */
const sameAngle = Math.PI / 60;
const sameOffset = 0.01;
/** Axes that are kept, and how much worse than the best they may be: mm beside a multiple. */
const most = 4;
const stillLikely = { times: 3, plus: 2 };

/**
 * The likeliest mirror axes of a closed outline, best first; at least one. Starts are given in closed form: lines through
 * the centre of area, along the principal axes and between them, so that a turned outline has the turned axes. Each is
 * polished by Gauss-Newton on the distances between the outline and its own mirror image, in angle and offset; distances
 * far beyond the usual count for less, so that a place where only one side has, say, an extension does not tilt the axis.
 */
export function findMirrorAxes(outline: Path): readonly MirrorAxis[] {
  const { area, centre, angle } = areaMoments(outline);
  const size = Math.sqrt(area);
  const sketch = thinned(outline, coarseSteps);
  const chain = flattenPath(sketch, size / 500).slice(0, -1);
  const rough = { samples: samplesOf(sketch, coarse), foot: chainFootFinder(chain), noGain: 1e-3 };
  const found: { mirror: MirrorLine; cost: number }[] = [];
  for (let k = 0; k < starts; k++) {
    const start = { at: centre, along: directionOf(angle + (k * Math.PI) / starts) };
    const polished = polish(start, centre, size, rough, 12);
    if (!found.some(({ mirror }) => sameAxis(mirror, polished.mirror, centre, size))) found.push(polished);
  }
  found.sort((a, b) => a.cost - b.cost);
  const least = Math.sqrt(found[0]!.cost);
  const likely = found
    .slice(0, most)
    .filter(({ cost }) => Math.sqrt(cost) <= stillLikely.times * least + stillLikely.plus);
  const drawn = thinned(outline, fineSteps);
  const exact = { samples: samplesOf(drawn, fine), foot: footFinder(drawn), noGain: 1e-9 };
  const axes = likely.flatMap(({ mirror }) => {
    const axis = axisAt(outline, polish(mirror, centre, size, exact, 40).mirror);
    return axis === null ? [] : [axis];
  });
  return axes.sort((a, b) => a.usual - b.usual);
}

/** Of a trace of very many steps only so many points are searched on; how far its sides are apart is measured on all. */
function thinned(outline: Path, most: number): Path {
  const every = Math.ceil(outline.length / most);
  const kept = outline.filter((_, i) => i % every === 0);
  if (every === 1) return outline;
  return kept.map(({ start }, i) => line(start, kept[(i + 1) % kept.length]!.start));
}

/** How far both sides are apart about a given line; null where it does not cross the outline. */
export function axisAt(outline: Path, mirror: MirrorLine): MirrorAxis | null {
  const crossings = intersectLineWithPath(mirror.at, mirror.along, outline);
  const [first, last] = [crossings[0]?.point, crossings.at(-1)?.point];
  if (first === undefined || last === undefined || norm(subtract(last, first)) === 0) return null;
  const foot = footFinder(outline);
  let apart = 0;
  let apartAt = first;
  let sum = 0;
  let whole = 0;
  for (const { p, weight } of samplesOf(outline, 2 * fine)) {
    const gap = Math.abs(foot(mirrorPoint(mirror, p)).gap);
    sum += weight * gap * gap;
    whole += weight;
    if (gap <= apart) continue;
    apart = gap;
    apartAt = p;
  }
  const level = Math.abs(mirror.along.x) > Math.abs(mirror.along.y);
  const ordered = level ? first.x <= last.x : first.y <= last.y;
  const ends = ordered ? ([first, last] as const) : ([last, first] as const);
  return { mirror, ends, apart, apartAt, usual: Math.sqrt(sum / whole) };
}

interface Search {
  readonly samples: readonly Sample[];
  readonly foot: (p: Point) => Foot;
  /** A round that betters the fit by a smaller share than this was the last. */
  readonly noGain: number;
}

function polish(start: MirrorLine, centre: Point, size: number, search: Search, rounds: number): Weighed {
  let now = weighed(start, centre, search);
  for (let round = 0; round < rounds; round++) {
    const { aa, ab, bb, ga, gb, reach } = now;
    const determinant = aa * bb - ab * ab;
    if (!(determinant > 1e-12 * aa * bb)) break;
    const turn = -(bb * ga - ab * gb) / determinant;
    const shift = -(aa * gb - ab * ga) / determinant;
    const before = costOf(now.rows, reach);
    let next: Weighed | null = null;
    let after = before;
    for (let share = 1; next === null && share > 0.05; share /= 2) {
      const tried = weighed(moved(now.mirror, centre, share * turn, share * shift), centre, search);
      after = costOf(tried.rows, reach);
      if (after <= before) next = tried;
    }
    if (next === null) break;
    now = next;
    if (before - after < search.noGain * before) break;
    if (Math.abs(turn) * size + Math.abs(shift) < 1e-11 * size) break;
  }
  return now;
}

/** The line turned about the foot of the centre on it, then shifted across. */
function moved({ at, along }: MirrorLine, centre: Point, turn: number, shift: number): MirrorLine {
  const pivot = add(at, scale(along, dot(along, subtract(centre, at))));
  const direction = directionOf(Math.atan2(along.y, along.x) + turn);
  return { at: add(pivot, scale(quarterTurn(direction), shift)), along: direction };
}

/** Beyond this many times the usual distance a point counts for less (Huber, 1964; 1.4826: median to standard deviation). */
const usualReach = 2 * 1.4826;
/** mm. Distances this small are never told from each other. */
const leastReach = 0.01;

interface Row {
  readonly gap: number;
  readonly weight: number;
  /** How the distance grows with a turn and with a shift of the line. */
  readonly a: number;
  readonly b: number;
}

interface Weighed {
  readonly mirror: MirrorLine;
  readonly rows: readonly Row[];
  readonly reach: number;
  /** Normal equations of a small turn and shift. */
  readonly aa: number;
  readonly ab: number;
  readonly bb: number;
  readonly ga: number;
  readonly gb: number;
  /** Mean square distance, mm2. */
  readonly cost: number;
}

/** The distances between an outline and its mirror image at one line. */
function weighed(mirror: MirrorLine, centre: Point, { samples, foot }: Search): Weighed {
  const across = quarterTurn(mirror.along);
  const pivot = add(mirror.at, scale(mirror.along, dot(mirror.along, subtract(centre, mirror.at))));
  const rows = samples.map(({ p, weight }): Row => {
    const q = mirrorPoint(mirror, p);
    const { gap, normal } = foot(q);
    const lever = quarterTurn(subtract(q, pivot));
    return { gap, weight, a: 2 * dot(normal, lever), b: 2 * dot(normal, across) };
  });
  const gaps = rows.map(({ gap }) => Math.abs(gap)).sort((x, y) => x - y);
  const reach = Math.max(leastReach, usualReach * gaps[gaps.length >> 1]!);
  let [aa, ab, bb, ga, gb, cost, whole] = [0, 0, 0, 0, 0, 0, 0];
  for (const { gap, weight, a, b } of rows) {
    const w = weight * Math.min(1, reach / Math.abs(gap));
    aa += w * a * a;
    ab += w * a * b;
    bb += w * b * b;
    ga += w * a * gap;
    gb += w * b * gap;
    cost += weight * gap * gap;
    whole += weight;
  }
  return { mirror, rows, reach, aa, ab, bb, ga, gb, cost: cost / whole };
}

/** Huber's cost: squares up to `reach`, growing in proportion beyond it. */
function costOf(rows: readonly Row[], reach: number): number {
  return rows.reduce((sum, { gap, weight }) => {
    const size = Math.abs(gap);
    return sum + weight * (size <= reach ? size * size : reach * (2 * size - reach));
  }, 0);
}

function sameAxis(a: MirrorLine, b: MirrorLine, centre: Point, size: number): boolean {
  return (
    Math.abs(cross(a.along, b.along)) < Math.sin(sameAngle) &&
    Math.abs(Math.abs(sideOf(a, centre)) - Math.abs(sideOf(b, centre))) < sameOffset * size
  );
}

function directionOf(angle: number): Point {
  return { x: Math.cos(angle), y: Math.sin(angle) };
}
