import { proposeCorners } from '../../../src/exchange/cornerProposal';
import { findSheets } from '../../../src/exchange/photo/findSheets';
import type { Picture } from '../../../src/exchange/photo/picture';
import type { Quad } from '../../../src/exchange/photo/pictureView';
import { type OutlineFound, proposeOutline } from '../../../src/exchange/photo/proposeOutline';
import { expectedShapeErrors, straighten } from '../../../src/exchange/photo/straighten';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { distance, type Point } from '../../../src/geometry/point';
import type { Path } from '../../../src/geometry/segment';
import { drawOutline } from '../../../src/workers/drawOutline';
import { accuracyLimits } from './accuracyLimits';
import { bestMove, layOn, type Move, moved } from './layOn';
import type { PhotoTruth } from './renderPhoto';
import { chain } from './shapes';

/** What is told of a photograph: the sheet's size and whether the piece is cut or drawn. */
export interface Told {
  readonly width: number;
  readonly height: number;
  readonly kind: 'edge-of-paper' | 'drawn-line';
}

export interface Measured {
  readonly refused: { readonly step: string; readonly code: string; readonly sentence: string } | null;
  /** mm, after laying on without stretching: 95 % of the outline's points lie within this of the true outline. */
  readonly p95: number;
  /** Points of the outline, and how many of them lie within the limit for 95 %. */
  readonly points: number;
  readonly pointsNear: number;
  /** mm, the worst of all: points from the true outline, and true places from the proposed outline. */
  readonly worst: number;
  /** Segments of the outline redrawn with few lines and curves, as the maker gets it, and its worst distance, mm. */
  readonly drawnSegments: number;
  readonly drawnWorst: number;
  /** Largest relative error of the five longest distances between corners of the redrawn outline; NaN if one is missing. */
  readonly lengths: number;
  /** mm, the worst of all outside the stretches called doubtful (and 5 mm beside them). */
  readonly worstUntold: number;
  /** mm, the largest error that is announced anywhere on the outline. */
  readonly expected: number;
  readonly uncertain: number;
  /** Stretches called doubtful. */
  readonly doubts: number;
  readonly lensKnown: boolean;
  readonly notes: readonly string[];
  /** ms for each of the three steps. */
  readonly times: readonly number[];
}

/** mm beside a doubtful stretch that are taken to be told with it. */
const besideDoubt = 5;

/** mm: a corner offered within this of a true one is that corner. */
const cornerReach = 5;

const far: Point = { x: Number.POSITIVE_INFINITY, y: 0 };

const nothing: Omit<Measured, 'refused' | 'times'> = {
  p95: Number.NaN,
  points: 0,
  pointsNear: 0,
  worst: Number.NaN,
  drawnSegments: Number.NaN,
  drawnWorst: Number.NaN,
  lengths: Number.NaN,
  worstUntold: Number.NaN,
  expected: Number.NaN,
  uncertain: Number.NaN,
  doubts: 0,
  lensKnown: false,
  notes: [],
};

/** Reads a photograph as the app does with nothing clicked, and holds the outcome to the truth. */
export function measurePhoto(picture: Picture, told: Told, truth: PhotoTruth): Measured {
  const times: number[] = [];
  const timed = <T>(work: () => T): T => {
    const start = performance.now();
    const value = work();
    times.push(performance.now() - start);
    return value;
  };
  const refusal = (step: string, { code, sentence }: { code: string; sentence: string }): Measured => ({
    ...nothing,
    times,
    refused: { step, code, sentence },
  });
  const corners = timed(() => sheetOfSize(picture, told));
  if (corners === null) return refusal('findSheets', { code: 'none', sentence: 'No sheet of this shape was found.' });
  const straight = timed(() => straighten(picture, { kind: 'sheet', width: told.width, height: told.height, corners }));
  if (!straight.ok) return refusal('straighten', straight);
  const s = straight.value;
  const found = timed(() => proposeOutline(picture, s.view, { at: null, kind: told.kind, leaveOut: [s.corners] }));
  if (!found.ok) return refusal('proposeOutline', found);
  const points = found.value.path.map(({ start }) => start);
  const inPlace = sheetMove(told, s.corners, truth);
  const laid = layOn(points, truth.outline!, inPlace);
  const truly = truth.outline!;
  const inFrame = points.map((p) => moved(laid, p));
  const off = awayFrom(truly, inFrame);
  const drawn = drawOutline(found.value.path);
  const drawnPoints = chain(drawn.path, 1).map((p) => moved(laid, p));
  return {
    refused: null,
    p95: off[Math.floor(0.95 * off.length)]!,
    points: off.length,
    pointsNear: off.filter((distance) => distance <= accuracyLimits.p95).length,
    worst: Math.max(off.at(-1)!, missed(truly, inFrame)),
    worstUntold: untold(truly, inFrame, found.value.doubtful),
    drawnSegments: drawn.path.length,
    drawnWorst: Math.max(awayFrom(truly, drawnPoints).at(-1)!, missed(truly, drawnPoints)),
    lengths: lengthError(
      truly,
      drawn.corners.map(({ point }) => moved(laid, point)),
    ),
    expected: Math.max(
      ...expectedShapeErrors(
        s,
        points.filter((_, i) => i % 5 === 0),
      ),
    ),
    uncertain: found.value.uncertain,
    doubts: found.value.doubtful.length,
    lensKnown: s.lensKnown,
    notes: [...s.notes, ...found.value.notes],
    times,
  };
}

/** The first sheet offered whose shape is that of the size told, its corners in the order of the size told. */
export function sheetOfSize(picture: Picture, { width, height }: Told): Quad | null {
  const shape = Math.max(width, height) / Math.min(width, height);
  const sheet = findSheets(picture).find(({ longOverShort }) => Math.abs(longOverShort / shape - 1) < 0.03);
  if (sheet === undefined) return null;
  const [a, b, c, d] = sheet.corners;
  const wide = distance(a, b) + distance(c, d) > distance(b, c) + distance(d, a);
  return wide === width > height ? sheet.corners : [b, c, d, a];
}

/** From the sheet's frame to the true table: found corners against the true ones nearest to them. */
function sheetMove({ width, height }: Told, corners: Quad, truth: PhotoTruth): Move {
  const frame = [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];
  const on = corners.map((corner) => {
    const away = truth.sheet!.map((p) => distance(p, corner));
    return truth.sheetOnTable![away.indexOf(Math.min(...away))]!;
  });
  return bestMove(frame, on);
}

function distanceToLoop(loop: readonly Point[], p: Point): number {
  let best = Infinity;
  for (let i = 0; i < loop.length; i++) {
    const a = loop[i]!;
    const b = loop[(i + 1) % loop.length]!;
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const t = Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1)));
    best = Math.min(best, (p.x - a.x - t * dx) ** 2 + (p.y - a.y - t * dy) ** 2);
  }
  return Math.sqrt(best);
}

/** Largest relative error of the five longest distances between true corners; NaN where a corner was not offered. */
function lengthError(outline: Path, offered: readonly Point[]): number {
  const corners = proposeCorners(outline).map(({ point }) => point);
  const seen = corners.map((corner) =>
    offered.reduce((best, p) => (distance(p, corner) < distance(best, corner) ? p : best), offered[0] ?? far),
  );
  if (seen.some((p, i) => distance(p, corners[i]!) > cornerReach)) return Number.NaN;
  const pairs = corners.flatMap((a, i) =>
    corners.slice(i + 1).map((b, k) => ({ real: distance(a, b), read: distance(seen[i]!, seen[i + 1 + k]!) })),
  );
  pairs.sort((a, b) => b.real - a.real);
  return Math.max(...pairs.slice(0, 5).map(({ real, read }) => Math.abs(read / real - 1)));
}

/** Distances of these points from the outline, least first. */
function awayFrom(outline: Path, points: readonly Point[]): number[] {
  return points.map((p) => nearestOnPath(outline, p).distance).sort((a, b) => a - b);
}

/** `worst` without what lies in a doubtful stretch or just beside it; true places belong to the proposed point nearest. */
function untold(outline: Path, points: readonly Point[], doubtful: OutlineFound['doubtful']): number {
  const n = points.length;
  const isTold = (i: number) =>
    doubtful.some(({ from, to }) => (i - from + besideDoubt + n) % n <= ((to - from + n) % n) + 2 * besideDoubt);
  let worst = 0;
  points.forEach((p, i) => {
    if (!isTold(i)) worst = Math.max(worst, nearestOnPath(outline, p).distance);
  });
  for (const p of chain(outline, 1)) {
    const away = distanceToLoop(points, p);
    if (away <= worst) continue;
    const nearest = points.reduce((best, q, i) => (distance(q, p) < distance(points[best]!, p) ? i : best), 0);
    if (!isTold(nearest)) worst = away;
  }
  return worst;
}

/** Largest distance of a place on the outline from the loop through these points. */
function missed(outline: Path, points: readonly Point[]): number {
  return Math.max(...chain(outline, 1).map((p) => distanceToLoop(points, p)));
}
