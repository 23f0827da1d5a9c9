import { cross, dot, type Point, point, quarterTurn, subtract, unit } from '../../geometry/point';
import type { EdgePoints } from './edgeProfile';
import { solveNormal } from './normalEquations';
import type { Quad } from './pictureView';
import { robustSpread, scatter, tukey } from './robust';

/** What four edges say: the corners and the lens. */
export interface QuadFit {
  /** With the lens undone, dots. */
  readonly corners: Quad;
  readonly lens: number;
  /** 9 by 9: x0 y0 ... x3 y3 lens. */
  readonly covariance: readonly number[];
  /** Dots by which each edge itself bulges outward in its middle, the lens undone. */
  readonly bulge: readonly [number, number, number, number];
  /** Dots: spread of the single places about each edge. */
  readonly spread: readonly [number, number, number, number];
  /** Share of the places of each edge that belong to it. */
  readonly agreeing: readonly [number, number, number, number];
}

interface Edge {
  readonly points: EdgePoints;
  /** A place on the line, its direction (from corner to corner) and its unit normal (outward), undone dots. */
  middle: Point;
  along: Point;
  normal: Point;
  half: number;
  spread: number;
  /** How many places count as one, because neighbours share their error. */
  clump: number;
  readonly rest: Float64Array;
  readonly tau: Float64Array;
  readonly belongs: Float64Array;
}

/** Rounds of re-weighting at most; places settle in four or five, an edge that bows needs more. */
const rounds = 12;

/** Dots (and lens term): steps this small end the rounds. */
const settled = 1e-4;

/** Two line numbers for each edge, the lens, one bulge for each edge. */
const unknowns = 13;

/**
 * Weighted least squares of four straight lines and one lens term through the places of four edges, in dots. A homography
 * carries any four lines to the sides of a rectangle, so these lines hold all that the sheet says about its eight numbers.
 *
 * `lensSpread` is how far the lens terms of cameras lie from 0, `bulgeSpread` (dots) how far each cut edge of paper bows:
 * both enter as observations of 0, so that what the edges cannot tell stays honest in the covariance.
 */
export function fitQuad(
  frame: { readonly width: number; readonly height: number },
  points: readonly EdgePoints[],
  rough: Quad,
  lensSpread: number,
  bulgeSpread: readonly number[],
): QuadFit | null {
  const edges = points.map((each, i) => startEdge(each, rough[i]!, rough[(i + 1) % 4]!));
  let lens = 0;
  let bulge = new Float64Array(4);
  let solution: ReturnType<typeof solveNormal> = null;
  for (let round = 0; round < rounds; round++) {
    const a = new Float64Array(unknowns * unknowns);
    const b = new Float64Array(unknowns);
    edges.forEach((edge, i) => {
      measure(frame, edge, lens, bulge[i]!, round);
      gather(frame, edge, i, a, b);
      // One edge that truly bows must not bend the lens: beyond three deviations it is held with less force (Huber).
      const force = Math.min(1, (3 * bulgeSpread[i]!) / Math.abs(bulge[i]!));
      const own = force / bulgeSpread[i]! ** 2;
      a[(9 + i) * (unknowns + 1)]! += own;
      b[9 + i]! -= own * bulge[i]!;
    });
    a[8 * (unknowns + 1)]! += 1 / lensSpread ** 2;
    b[8]! -= lens / lensSpread ** 2;
    solution = solveNormal(a, b);
    if (solution === null) return null;
    const { x } = solution;
    lens = Math.max(-0.3, Math.min(0.5, lens + x[8]!));
    bulge = bulge.map((value, i) => value + x[9 + i]!);
    edges.forEach((edge, i) => {
      moveEdge(edge, x[2 * i]!, x[2 * i + 1]!);
    });
    if (round >= 3 && x.every((step) => Math.abs(step) < settled)) break;
  }
  const corners = edges.map((edge, i) => meeting(edges[(i + 3) % 4]!, edge));
  if (corners.some((corner) => corner === null)) return null;
  const quad = corners as unknown as Quad;
  const each = <T>(f: (edge: Edge, i: number) => T): [T, T, T, T] => edges.map(f) as [T, T, T, T];
  return {
    corners: quad,
    lens,
    covariance: cornerCovariance(edges, quad, withSeenBulge(solution!.inverse, bulge, bulgeSpread)),

    bulge: each((_, i) => bulge[i]!),
    spread: each((edge) => edge.spread),
    agreeing: each((edge) => {
      let sum = 0;
      for (let j = 0; j < edge.points.count; j++) if (edge.belongs[j]! > 0.1 * edge.points.weight[j]!) sum++;
      return sum / Math.max(1, edge.points.count);
    }),
  };
}

/**
 * Edges are taken to be very straight, which is what steadies the lens term. Where they turn out to bow more, that is how
 * well their straightness is known, and the covariance A^-1 becomes A^-1 + A^-1 (P S P - P) A^-1, with P what was assumed
 * (inverse squares) and S what was seen.
 */
function withSeenBulge(inverse: Float64Array, bulge: Float64Array, assumed: readonly number[]): Float64Array {
  // Four edges less the one pattern of bows that looks like the lens.
  const times = Math.max(1, assumed.reduce((sum, spread, i) => sum + (bulge[i]! / spread) ** 2, 0) / 3);
  const more = new Float64Array(inverse);
  for (let k = 0; k < 4; k++) {
    const factor = (times - 1) / assumed[k]! ** 2;
    for (let i = 0; i < unknowns; i++) {
      const left = inverse[i * unknowns + 9 + k]! * factor;
      for (let j = 0; j < unknowns; j++) more[i * unknowns + j]! += left * inverse[(9 + k) * unknowns + j]!;
    }
  }
  return more;
}

function startEdge(points: EdgePoints, a: Point, b: Point): Edge {
  const along = unit(subtract(b, a));
  return {
    points,
    middle: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 },
    along,
    // Corners run clockwise on screen, so outward is a quarter turn the other way.
    normal: point(along.y, -along.x),
    half: Math.hypot(b.x - a.x, b.y - a.y) / 2,
    spread: 1,
    clump: 1,
    rest: new Float64Array(points.count),
    tau: new Float64Array(points.count),
    belongs: new Float64Array(points.count).fill(1),
  };
}

/** Distances of the places from the line, which of them belong, how far they scatter and how much neighbours share. */
function measure(frame: Frame, edge: Edge, lens: number, bulge: number, round: number): void {
  const { points, rest, tau, belongs, middle, along, normal, half } = edge;
  const inverseRadius2 = 4 / (frame.width ** 2 + frame.height ** 2);
  for (let j = 0; j < points.count; j++) {
    const dx = points.x[j]! - frame.width / 2;
    const dy = points.y[j]! - frame.height / 2;
    const stretch = 1 + lens * (dx * dx + dy * dy) * inverseRadius2;
    const ux = frame.width / 2 + dx * stretch - middle.x;
    const uy = frame.height / 2 + dy * stretch - middle.y;
    const t = (ux * along.x + uy * along.y) / half;
    tau[j] = t;
    rest[j] = ux * normal.x + uy * normal.y - bulge * (1 - t * t);
  }
  edge.spread = Math.max(0.005, scatter(rest, belongs));
  // At first the whole misfit counts, bow and all; at the end only places that truly leave the line are strangers.
  const wide = Math.max(edge.spread, robustSpread(rest, belongs, round === 0));
  for (let j = 0; j < points.count; j++) belongs[j] = tukey(rest[j]! / wide) * points.weight[j]!;
  edge.clump = clumping(rest, belongs, edge.spread);
}

/**
 * How many times more the means of runs of places vary than if neighbours were independent; at least 1. Each run is held
 * against its two neighbours, so that a bow of the whole edge does not count.
 */
function clumping(rest: Float64Array, belongs: Float64Array, spread: number): number {
  let worst = 1;
  for (const run of [8, 24]) {
    const means: { readonly mean: number; readonly share: number }[] = [];
    for (let from = 0; from + run <= rest.length; from += run) {
      let sum = 0;
      let weight = 0;
      let weight2 = 0;
      for (let j = from; j < from + run; j++) {
        const w = belongs[j]!;
        sum += w * rest[j]!;
        weight += w;
        weight2 += w * w;
      }
      if (weight > run / 4) means.push({ mean: sum / weight, share: weight2 / weight ** 2 });
    }
    if (means.length < 8) continue;
    let squares = 0;
    let expected = 0;
    for (let i = 1; i + 1 < means.length; i++) {
      const [l, m, r] = [means[i - 1]!, means[i]!, means[i + 1]!];
      squares += (m.mean - (l.mean + r.mean) / 2) ** 2;
      expected += m.share + (l.share + r.share) / 4;
    }
    worst = Math.max(worst, squares / (expected * spread ** 2));
  }
  return worst;
}

type Frame = { readonly width: number; readonly height: number };

function gather(frame: Frame, edge: Edge, index: number, a: Float64Array, b: Float64Array): void {
  const { points, rest, tau, belongs, normal } = edge;
  const inverseRadius2 = 4 / (frame.width ** 2 + frame.height ** 2);
  const unit = 1 / (edge.spread ** 2 * edge.clump);
  const place = [2 * index, 2 * index + 1, 8, 9 + index];
  const local = new Float64Array(4);
  for (let j = 0; j < points.count; j++) {
    const w = belongs[j]! * unit;
    if (w === 0) continue;
    const dx = points.x[j]! - frame.width / 2;
    const dy = points.y[j]! - frame.height / 2;
    local[0] = 1;
    local[1] = tau[j]!;
    // The place moves with the lens; the line's unknowns take up what is left.
    local[2] = -(normal.x * dx + normal.y * dy) * (dx * dx + dy * dy) * inverseRadius2;
    local[3] = 1 - tau[j]! ** 2;
    for (let p = 0; p < 4; p++) {
      b[place[p]!]! += w * local[p]! * rest[j]!;
      for (let q = 0; q < 4; q++) a[place[p]! * unknowns + place[q]!]! += w * local[p]! * local[q]!;
    }
  }
}

/** The line moved outward by c in its middle and by c + lean at the half length. */
function moveEdge(edge: Edge, c: number, lean: number): void {
  edge.middle = { x: edge.middle.x + edge.normal.x * c, y: edge.middle.y + edge.normal.y * c };
  const turned = {
    x: edge.along.x + (edge.normal.x * lean) / edge.half,
    y: edge.along.y + (edge.normal.y * lean) / edge.half,
  };
  edge.along = unit(turned);
  const inward = quarterTurn(edge.along);
  edge.normal = { x: -inward.x, y: -inward.y };
}

function meeting(a: Edge, b: Edge): Point | null {
  const across = cross(a.along, b.along);
  if (Math.abs(across) < 0.05) return null;
  const t = cross(subtract(b.middle, a.middle), b.along) / across;
  return { x: a.middle.x + a.along.x * t, y: a.middle.y + a.along.y * t };
}

/** Carries the spread of the line numbers to the corners where the lines meet. */
function cornerCovariance(edges: readonly Edge[], corners: Quad, inverse: Float64Array): number[] {
  const jacobian = new Float64Array(9 * unknowns);
  corners.forEach((corner, i) => {
    const before = (i + 3) % 4;
    const [p, q] = [edges[before]!, edges[i]!];
    const across = cross(p.normal, q.normal);
    for (const [edge, index, sign, other] of [
      [p, before, 1, q],
      [q, i, -1, p],
    ] as const) {
      const tau = dot(subtract(corner, edge.middle), edge.along) / edge.half;
      // Solution of normal . move = 1 on this line and 0 on the other.
      const move = { x: (sign * other.normal.y) / across, y: (-sign * other.normal.x) / across };
      for (const [k, factor] of [
        [0, 1],
        [1, tau],
      ] as const) {
        jacobian[2 * i * unknowns + 2 * index + k] = move.x * factor;
        jacobian[(2 * i + 1) * unknowns + 2 * index + k] = move.y * factor;
      }
    }
  });
  jacobian[8 * unknowns + 8] = 1;
  const half = new Float64Array(9 * unknowns);
  for (let i = 0; i < 9; i++) {
    for (let j = 0; j < unknowns; j++) {
      let sum = 0;
      for (let k = 0; k < unknowns; k++) sum += jacobian[i * unknowns + k]! * inverse[k * unknowns + j]!;
      half[i * unknowns + j] = sum;
    }
  }
  return Array.from({ length: 81 }, (_, at) => {
    const [i, j] = [Math.floor(at / 9), at % 9];
    let sum = 0;
    for (let k = 0; k < unknowns; k++) sum += half[i * unknowns + k]! * jacobian[j * unknowns + k]!;
    return sum;
  });
}
