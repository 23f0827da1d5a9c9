import { describe, expect, it } from 'vitest';
import { segmentLength } from '../../src/geometry/arcLength';
import { pathLength } from '../../src/geometry/path';
import { add, cross, distance, type Point, scale, subtract } from '../../src/geometry/point';
import { movePoint } from '../../src/geometry/rigidMove';
import { fan } from '../../src/operations/fan';
import type { SpreadPlan } from '../../src/operations/linkage/plan';
import { openCuts } from '../../src/operations/linkage/spread';
import type { FannedPiece } from '../../src/operations/worked';
import type { Piece } from '../../src/pattern/piece';
import type { FanStep } from '../../src/pattern/recipe';
import { rectangle, sectorPlan, slashAt } from '../support/rectangle';

const inch = 25.4;

function open(piece: Piece, plan: SpreadPlan): FannedPiece {
  const result = openCuts(piece, plan);
  if (!result.ok) throw new Error(`${result.code}: ${result.sentence}`);
  return result.value;
}

function sector(width: number, length: number, strips: number, turn: number): FannedPiece {
  return open(rectangle(width, length), sectorPlan(width, length, strips, turn));
}

/** Where the lines along two placed sides meet: the centre of the sector. Uses only the placed outline. */
function sectorCentre(fanned: FannedPiece): Point {
  const side = fanned.edges.find(({ id }) => id === 'side')!.segments[0]!.segment;
  const centre = fanned.edges.find(({ id }) => id === 'centre')!.segments[0]!.segment;
  const u = subtract(side.end, side.start);
  const v = subtract(centre.end, centre.start);
  const t = cross(subtract(centre.start, side.start), v) / cross(u, v);
  return add(side.start, scale(u, t));
}

/** Distance from the sector's centre to the middle of each strip's top. */
function topRadii(fanned: FannedPiece, length: number): number[] {
  const middle = sectorCentre(fanned);
  return fanned.panels.map(({ boundary, move }) => {
    const top = boundary.find(({ start, end }) => start.y < -length + 1e-9 && end.y < -length + 1e-9)!;
    return distance(middle, movePoint(move, scale(add(top.start, top.end), 0.5)));
  });
}

describe('rectangle in n strips (derivation: docs/maths/linkage.md, section 7)', () => {
  const [W, L, turn] = [240, 600, 1.1];

  it.each([2, 3, 8, 40])('%i strips: sweep by chords, sweep by arcs and area follow the closed forms', (n) => {
    const fanned = sector(W, L, n, turn);
    const chords = W + 2 * L * ((n - 1) * Math.sin(turn / (2 * n)) + 2 * Math.sin(turn / (4 * n)));
    const area = W * L + ((L * L) / 2) * ((n - 1) * Math.sin(turn / n) + 2 * Math.sin(turn / (2 * n)));
    expect(fanned.sweepChord).toBeCloseTo(chords, 9);
    expect(fanned.sweepArc).toBeCloseTo(W + L * turn, 9);
    expect(Math.abs(fanned.areaAfter - area)).toBeLessThan(1e-7);
  });

  it.each([3, 8, 40])(
    '%i strips: the tops touch a circle of radius (W / 2n) cot(turn / 2n), sides point at its centre',
    (n) => {
      const fanned = sector(W, L, n, turn);
      const radius = W / (2 * n) / Math.tan(turn / (2 * n));
      for (const found of topRadii(fanned, L)) expect(found).toBeCloseTo(radius, 8);
    },
  );

  it('tends to the annular sector: area and chord sweep err as (n - 3/4) / n cubed, so as 1 / n squared', () => {
    const counts = [8, 16, 32, 64];
    const errors = counts.map((n) => {
      const fanned = sector(W, L, n, turn);
      return { area: W * L + (turn * L * L) / 2 - fanned.areaAfter, sweep: W + L * turn - fanned.sweepChord };
    });
    // Leading terms of both series: L^2 turn^3 / 12 and L turn^3 / 24 times that; the next is a factor 1/n^2 smaller.
    counts.forEach((n, i) => {
      const shape = (n - 0.75) / n ** 3;
      expect(errors[i]!.area / (((L * L * turn ** 3) / 12) * shape)).toBeCloseTo(1, n < 30 ? 2 : 3);
      expect(errors[i]!.sweep / (((L * turn ** 3) / 24) * shape)).toBeCloseTo(1, n < 30 ? 2 : 3);
    });
    expect(Math.log2(errors[2]!.area / errors[3]!.area)).toBeCloseTo(2, 1);
    expect(errors[3]!.area / (W * L)).toBeLessThan(1e-3);
  });

  it('half the turn as a chord is not half the chord: both side turns are told apart', () => {
    const plan = (opening: SpreadPlan['sideTurns'][number]['opening']): SpreadPlan => ({
      ...sectorPlan(W, L, 2, 0),
      cuts: [],
      sideTurns: [{ edge: 'side', hinge: { x: W, y: -L }, opening }],
    });
    const chord = open(rectangle(W, L), plan({ kind: 'chord', width: 40 }));
    const r = L;
    const angle = 2 * Math.asin(40 / (2 * r));
    expect(chord.areaAfter - W * L).toBeCloseTo((r * r * Math.sin(angle)) / 2, 7);
    expect(chord.sweepChord).toBeCloseTo(W + 40, 9);
    const halved = open(rectangle(W, L), plan({ kind: 'angle', angle: Math.asin(80 / (2 * r)) }));
    // Third order: half of 80 as a chord is 40, half of its angle a little more.
    expect(halved.sweepChord - chord.sweepChord).toBeGreaterThan(0.01);
    expect(halved.sweepChord - chord.sweepChord).toBeLessThan(0.1);
  });
});

/** A skirt panel of `parts` alike round the body; a full circle is four quarter turns. */
function skirt(waist: number, length: number, circle: number, strips = 64) {
  const parts = 4;
  const fanned = sector(waist / parts, length, strips, (2 * Math.PI * circle) / parts);
  return { sweep: parts * fanned.sweepArc, radius: topRadii(fanned, length)[0]! };
}

describe('published and arithmetic rows', () => {
  // Annular sector arithmetic, sweep = waist + 2 pi f length; status: arithmetic anyone can redo.
  it.each([
    [1, 185.08],
    [0.75, 145.81],
    [0.5, 106.54],
    [0.25, 67.27],
  ])('waist 28 in, length 25 in, %f circle: sweep %f in', (circle, sweep) => {
    expect(Math.abs(skirt(28 * inch, 25 * inch, circle).sweep / inch - sweep)).toBeLessThan(0.005);
  });

  // As above in cm; status: arithmetic.
  it.each([
    [1, 444.99],
    [0.5, 256.5],
    [0.25, 162.25],
  ])('waist 68 cm, length 60 cm, %f circle: sweep %f cm', (circle, sweep) => {
    expect(Math.abs(skirt(680, 600, circle).sweep / 10 - sweep)).toBeLessThan(0.005);
  });

  // Waist radii; formulas published by coutureschmiede.com (2014), results arithmetic.
  it.each([
    [24 * inch, inch, [3.82, 5.093, 7.639, 15.279], 5e-4],
    [28 * inch, inch, [4.456, 5.942, 8.913, 17.825], 5e-4],
    [720, 10, [11.46, 15.28, 22.92, 45.84], 5e-3],
    [1000, 10, [15.92, 21.22, 31.83, 63.66], 5e-3],
  ])('waist %f mm: the strips gather on the published waist radii', (waist, unit, radii, rounding) => {
    [1, 0.75, 0.5, 0.25].forEach((circle, index) => {
      // 2 x 64 strips come within a ten-thousandth of the limit; the rest is the row's own rounding.
      const { radius } = skirt(waist, 600, circle, 128);
      expect(Math.abs(radius / unit - radii[index]!)).toBeLessThan(rounding + 1e-4 * radii[index]!);
    });
  });

  // Circular flounce, top 72, bottom 112, depth 12 in: rule and inputs Baldt, Clothing for Women (1916); results arithmetic.
  it('circular flounce 72 to 112, 12 in deep: radius 21.6 in, 3.3333 rad', () => {
    const turn = 40 / 12;
    expect(turn).toBeCloseTo(3.3333, 4);
    // As two halves: one flat piece turns less than half a circle.
    const half = sector(36 * inch, 12 * inch, 100, turn / 2);
    expect((2 * half.sweepArc) / inch).toBeCloseTo(112, 9);
    expect(Math.abs(topRadii(half, 12 * inch)[0]! / inch - 21.6)).toBeLessThan(1e-3);
  });

  // Flounce rings: published by cloningcouture.com (2017).
  it.each([
    [1, 1, 3],
    [2, 1, 2],
  ])('flounce ring, inner diameter %f in, %f in wide: outer edge %f times the inner', (diameter, width, ratio) => {
    const inner = Math.PI * diameter * inch;
    const quarter = sector(inner / 4, width * inch, 60, Math.PI / 2);
    expect((4 * quarter.sweepArc) / inner).toBeCloseTo(ratio, 9);
  });

  // Opening and angle: angle = 2 asin(g / 2L); status: arithmetic.
  it('R12 2 in at 24 in from the hinge turns 4.776 degrees, three of them the outer grain 14.328', () => {
    const plan: SpreadPlan = {
      hem: 'hem',
      fixed: { x: 1, y: -1 },
      cuts: [100, 200, 300].map((x) => slashAt(x, { kind: 'chord', width: 2 * inch })),
      sideTurns: [],
    };
    const fanned = open(rectangle(400, 24 * inch), plan);
    const degrees = (angle: number) => (angle * 180) / Math.PI;
    for (const { angle } of fanned.cuts) expect(degrees(angle)).toBeCloseTo(4.776, 3);
    expect(degrees(fanned.totalTurn)).toBeCloseTo(14.328, 3);
    expect(degrees(-fanned.panels[3]!.move.angle)).toBeCloseTo(14.328, 3);
  });
});

describe('cut fullness line (docs/maths/linkage.md, section 3)', () => {
  const [W, L] = [260, 600];

  function step(openings: readonly FanStep['slashes'][number]['opening'][]): FanStep {
    return {
      kind: 'fan',
      centre: 'centre',
      hem: 'hem',
      side: 'side',
      fullness: { downSide: 200, tilt: 0 },
      slashes: openings.map((opening, k) => ({
        id: `s${k + 1}`,
        across: (k + 1) / (openings.length + 1),
        tilt: 0,
        opening,
      })),
      centreRule: 'parallel',
      sideTurn: 0,
    };
  }

  function fanned(openings: Parameters<typeof step>[0]): FannedPiece {
    const result = fan(rectangle(W, L), step(openings));
    if (!result.ok) throw new Error(`${result.code}: ${result.sentence}`);
    return result.value;
  }

  it.each([1, 3, 10])('%i equal turns: drop and fill follow their closed forms', (n) => {
    const total = 0.4;
    const theta = total / n;
    const w = W / (n + 1);
    const result = fanned(Array.from({ length: n }, () => ({ measure: 'angle', angle: theta })));
    const drop = (w * Math.sin((n * theta) / 2) * Math.sin(((n + 1) * theta) / 2)) / Math.sin(theta / 2);
    const fill = (n + 1) * w - (w * Math.cos((n * theta) / 2) * Math.sin(((n + 1) * theta) / 2)) / Math.sin(theta / 2);
    expect(result.centreDrop).toBeCloseTo(drop, 9);
    expect(result.centreFill).toBeCloseTo(fill, 9);
    expect(result.totalTurn).toBeCloseTo(total, 12);
  });

  it('many slashes tend to D = R (1 - cos turn), d = W - R sin turn, R = W / turn', () => {
    const total = 0.4;
    const result = fanned(Array.from({ length: 96 }, () => ({ measure: 'angle', angle: total / 96 })));
    const R = W / total;
    expect(Math.abs(result.centreDrop - R * (1 - Math.cos(total)))).toBeLessThan(1);
    expect(Math.abs(result.centreFill - (W - R * Math.sin(total)))).toBeLessThan(0.2);
  });

  it('uneven chords: D = sum w sin(phi), d = sum 2 w sin(phi / 2) squared, and the wedge area formula', () => {
    const chords = [20, 45, 10, 38];
    const result = fanned(chords.map((hem) => ({ measure: 'chord', hem, far: 0 })));
    const w = W / 5;
    const r = 400;
    const phi = [0];
    for (const chord of chords) phi.push(phi.at(-1)! + 2 * Math.asin(chord / (2 * r)));
    const sum = (f: (angle: number) => number) => phi.reduce((total, angle) => total + w * f(angle), 0);
    expect(result.centreDrop).toBeCloseTo(sum(Math.sin), 9);
    expect(result.centreFill).toBeCloseTo(
      sum((angle) => 2 * Math.sin(angle / 2) ** 2),
      9,
    );
    expect(result.totalTurn).toBeCloseTo(phi.at(-1)!, 12);
    // y[k]: depth of the top of strip k below the line; area between line and tops, with the chord down the centre.
    const y = phi.map((_, k) => phi.slice(k).reduce((total, angle) => total + w * Math.sin(angle), 0));
    y.push(0);
    const area =
      (result.centreFill * result.centreDrop) / 2 +
      phi.reduce((total, angle, k) => total + (w * Math.cos(angle) * (y[k]! + y[k + 1]!)) / 2, 0);
    expect(Math.abs(result.cuts[0]!.gapArea - area)).toBeLessThan(1e-7);
  });
});

describe('single openings', () => {
  const [W, L] = [300, 500];
  const one = (opening: Parameters<typeof slashAt>[1], x = 140): FannedPiece =>
    open(rectangle(W, L), { hem: 'hem', fixed: { x: 1, y: -1 }, cuts: [slashAt(x, opening)], sideTurns: [] });

  it.each([
    [12, 47],
    [40, 8],
    [25, 25],
    [0, 30],
    [25, 25 + 1e-9],
  ])('far %f, near %f: gap area (a + b) / 2 l cos(theta / 2), both widths as asked', (far, near) => {
    const result = one({ kind: 'unequal', far, near });
    const theta = 2 * Math.asin((near - far) / (2 * L));
    expect(Math.abs(result.areaAfter - W * L - ((far + near) / 2) * L * Math.cos(theta / 2))).toBeLessThan(1e-7);
    const gap = (edge: string) =>
      result.edges
        .find(({ id }) => id === edge)!
        .segments.filter(({ origin }) => origin.kind === 'gap')
        .reduce((sum, { segment }) => sum + segmentLength(segment), 0);
    expect(gap('hem')).toBeCloseTo(near, 9);
    expect(gap('top')).toBeCloseTo(far, 9);
    expect(result.cuts[0]!.angle).toBeCloseTo(theta, 12);
  });

  it('R12 an arc opening turns by arc over radius', () => {
    expect(one({ kind: 'arc', length: 60 }).cuts[0]!.angle).toBe(60 / L);
  });

  it('overlap on a straight hem square to the slash: hem loses 2 r tan(theta / 2), area r squared tan(theta / 2)', () => {
    const theta = 0.09;
    const result = one({ kind: 'angle', angle: -theta });
    const hem = result.edges.find(({ id }) => id === 'hem')!.segments;
    expect(result.sweepChord).toBeCloseTo(W - 2 * L * Math.tan(theta / 2), 9);
    expect(Math.abs(W * L - L * L * Math.tan(theta / 2) - result.areaAfter)).toBeLessThan(1e-7);
    expect(hem.map(({ origin }) => origin.kind)).toEqual(['own', 'own']);
    // Not the chord: the union keeps the two corners beyond it.
    expect(result.sweepChord).toBeLessThan(W - 2 * L * Math.sin(theta / 2));
  });

  it('overlap of equal widths at both ends narrows hem and top alike', () => {
    const result = one({ kind: 'unequal', far: -20, near: -20 });
    expect(result.sweepChord).toBeCloseTo(W - 20, 9);
    expect(Math.abs(result.areaAfter - (W - 20) * L)).toBeLessThan(1e-7);
    expect(pathLength(result.edges.find(({ id }) => id === 'top')!.segments.map(({ segment }) => segment))).toBeCloseTo(
      W - 20,
      9,
    );
  });

  it('a slash parallel to the slope of a trapezoid has radius length / cos(slope)', () => {
    const slope = 0.2;
    const cut = slashAt(140, { kind: 'chord', width: 30 });
    const leaning = {
      ...cut,
      course: { kind: 'line', through: { x: 140, y: 0 }, direction: { x: -Math.sin(slope), y: -Math.cos(slope) } },
    } as const;
    const result = open(rectangle(W, L), { hem: 'hem', fixed: { x: 1, y: -1 }, cuts: [leaning], sideTurns: [] });
    expect(result.cuts[0]!.radius).toBeCloseTo(L / Math.cos(slope), 9);
  });
});
