import { pathEnd, pathStart } from '../../geometry/path';
import { add, distance, type Point, quarterTurn, scale, subtract, unit } from '../../geometry/point';
import { line, type Path } from '../../geometry/segment';
import { allowanceTipLimit, barbTrimmed, samePoint } from '../../geometry/tolerance';
import { type AllowanceSide, cornerBetween } from './side';
import { lineMeeting, linesThrough, nearestCrossing, type PathPlace } from './trim';

/** How the cut line goes from one side to the next. */
export interface Join {
  /** Where the offset of the side before stops; null at its own end. */
  readonly tail: PathPlace | null;
  /** Where the offset of the side after begins; null at its own start. */
  readonly head: PathPlace | null;
  /** From the one to the other; empty when they meet. */
  readonly link: Path;
  /** Where the trimmed sides end and begin. */
  readonly from: Point;
  readonly to: Point;
  /** Closed polygon that the two allowances cover at the corner beyond the ends of both strips; empty for none. */
  readonly wedge: readonly Point[];
  /** False when the two sides could not be brought together here; the union must sort it out. */
  readonly clean: boolean;
}

/**
 * Joins the allowances of two sides that follow one another.
 *
 * - Both offset edges run on until they meet: a mitred corner. Where the tip would lie further from the corner than
 *   `allowanceTipLimit` times the wider allowance it is squared off there, across the direction of the tip.
 * - At an inward corner both are cut where they cross.
 * - Where a wide allowance meets a narrow one so bluntly that a miter would cut into the wide one, the cut line steps
 *   out square to the wide side, so that each side keeps its full width to its end.
 * - At a fold the cut line ends on the fold line itself, because the cloth beyond it is the other half.
 */
export function joinSides(before: AllowanceSide, after: AllowanceSide): Join {
  const { at, turn } = cornerBetween(before, after);
  if (meets(before, after)) return through(before, after, []);
  const sine = Math.sin(turn);
  const cosine = Math.cos(turn);
  // How far each straight continuation runs to the meeting point: beyond the end of `before`, before the start of `after`.
  const runOn = (after.width - before.width * cosine) / sine;
  const runUp = (before.width - after.width * cosine) / sine;
  if (Math.abs(sine) < 1e-9 && cosine > 0) return stepped(before, after, at);

  if (before.onFold || after.onFold) return foldJoin(before, after);
  if (turn > 0 && runOn >= 0 && runUp >= 0) return mitred(before, after, at);
  if (turn < 0 && runOn <= 0 && runUp <= 0) return crossed(before, after) ?? unresolved(before, after, at);
  return stepped(before, after, at);
}

function meets(before: AllowanceSide, after: AllowanceSide): boolean {
  return distance(before.moved.end, after.moved.start) < samePoint;
}

/** From the end of one side through the points, which lie beyond the ends of both strips, to the start of the next. */
function through(before: AllowanceSide, after: AllowanceSide, points: readonly Point[]): Join {
  const leave = leaving(before);
  const arrive = arriving(after);
  const { at } = cornerBetween(before, after);
  return {
    tail: leave.place,
    head: arrive.place,
    link: linesThrough([...leave.points, ...points, ...arrive.points]),
    from: leave.points[0]!,
    to: arrive.points[arrive.points.length - 1]!,
    // By the exact ends: where a side runs backwards at the corner its cut line stops short, but its strip does not.
    wedge: [at, before.moved.end, ...points, after.moved.start],
    clean: leave.clean && arrive.clean,
  };
}

interface EndOfSide {
  readonly place: PathPlace | null;
  readonly points: readonly Point[];
  readonly clean: boolean;
}

/**
 * The end of a side's cut line. Where it would run backwards there (a curve tighter than the allowance, as at the ends
 * of many necklines), it stops where it meets its own straight continuation from the corner, and goes on along that.
 */
function leaving({ moved, endDirection, width }: AllowanceSide): EndOfSide {
  if (!moved.foldsAtEnd) return { place: null, points: [moved.end], clean: true };
  const onward = line(moved.end, add(moved.end, scale(endDirection, width)));
  const hit = nearestCrossing(moved.path, [onward]);
  return hit && distance(hit.point, pathEnd(moved.path)) < barbTrimmed
    ? { place: hit.onBefore, points: [hit.point], clean: true }
    : { place: null, points: [pathEnd(moved.path), moved.end], clean: false };
}

function arriving({ moved, startDirection, width }: AllowanceSide): EndOfSide {
  if (!moved.foldsAtStart) return { place: null, points: [moved.start], clean: true };
  const onward = line(add(moved.start, scale(startDirection, -width)), moved.start);
  const hit = nearestCrossing([onward], moved.path);
  return hit && distance(hit.point, pathStart(moved.path)) < barbTrimmed
    ? { place: hit.onAfter, points: [hit.point], clean: true }
    : { place: null, points: [moved.start, pathStart(moved.path)], clean: false };
}

function mitred(before: AllowanceSide, after: AllowanceSide, at: Point): Join {
  const end = before.moved.end;
  const start = after.moved.start;
  const tip = lineMeeting(end, before.endDirection, start, after.startDirection);
  const limit = allowanceTipLimit * Math.max(before.width, after.width);
  if (tip && distance(at, tip) <= limit) return through(before, after, [tip]);
  // The tip direction; for two sides folded back on one another it is straight ahead.
  const towards = tip ? unit(subtract(tip, at)) : before.endDirection;
  const across = quarterTurn(towards);
  const stop = add(at, scale(towards, limit));
  const a = lineMeeting(end, before.endDirection, stop, across);
  const b = lineMeeting(start, after.startDirection, stop, across);
  return a && b ? through(before, after, [a, b]) : unresolved(before, after, at);
}

function crossed(before: AllowanceSide, after: AllowanceSide): Join | null {
  const hit = nearestCrossing(before.moved.path, after.moved.path);
  if (!hit) return null;
  return { tail: hit.onBefore, head: hit.onAfter, link: [], from: hit.point, to: hit.point, wedge: [], clean: true };
}

/** Through the corner itself: a loop the union can clean up. */
function unresolved(before: AllowanceSide, after: AllowanceSide, at: Point): Join {
  return { ...through(before, after, [at]), wedge: [], clean: false };
}

/** The wide side ends square to itself, down to the narrow side's cut line. */
function stepped(before: AllowanceSide, after: AllowanceSide, at: Point): Join {
  const beforeIsWide = before.width > after.width;
  const wide = beforeIsWide ? before : after;
  const narrow = beforeIsWide ? after : before;
  const top = beforeIsWide ? before.moved.end : after.moved.start;
  const step = line(at, top);
  const hit = beforeIsWide ? nearestCrossing([step], narrow.moved.path) : nearestCrossing(narrow.moved.path, [step]);
  if (hit && beforeIsWide) {
    const out = { ...through(before, after, [hit.point]), wedge: [] };
    return { ...out, head: hit.onAfter, link: linesThrough([...leaving(before).points, hit.point]), to: hit.point };
  }
  if (hit) {
    const out = { ...through(before, after, [hit.point]), wedge: [] };
    return { ...out, tail: hit.onBefore, link: linesThrough([hit.point, ...arriving(after).points]), from: hit.point };
  }
  // The narrow side ends short of the step: it runs on along its own direction.
  const narrowEnd = beforeIsWide ? after.moved.start : before.moved.end;
  const narrowDirection = beforeIsWide ? after.startDirection : before.endDirection;
  const foot = lineMeeting(narrowEnd, narrowDirection, at, unit(subtract(top, at)));
  if (!foot || wide.width === 0) return unresolved(before, after, at);
  return through(before, after, [foot]);
}

/** The fold has no allowance and is straight: the other side stops on its line, wherever that is. */
function foldJoin(before: AllowanceSide, after: AllowanceSide): Join {
  const { at } = cornerBetween(before, after);
  const foldFirst = before.onFold;
  const other = foldFirst ? after : before;
  // Away from the piece along the fold line.
  const outward = foldFirst ? before.endDirection : scale(after.startDirection, -1);
  const ray = line(at, add(at, scale(outward, allowanceTipLimit * other.width)));
  const hit = foldFirst ? nearestCrossing([ray], other.moved.path) : nearestCrossing(other.moved.path, [ray]);
  if (!hit) return mitred(before, after, at);
  const met = { wedge: [], clean: true };
  return foldFirst
    ? { tail: null, head: hit.onAfter, link: linesThrough([at, hit.point]), from: at, to: hit.point, ...met }
    : { tail: hit.onBefore, head: null, link: linesThrough([hit.point, at]), from: hit.point, to: at, ...met };
}
