import { describe, expect, it } from 'vitest';
import { pathLength } from '../../src/geometry/path';
import { distance, type Point } from '../../src/geometry/point';
import { cubic, line } from '../../src/geometry/segment';
import type { Cut, SpreadPlan } from '../../src/operations/linkage/plan';
import { openCuts } from '../../src/operations/linkage/spread';
import type { FannedPiece } from '../../src/operations/worked';
import type { Dart, Piece } from '../../src/pattern/piece';
import { rectangle, slashAt } from '../support/rectangle';

const [W, L] = [300, 500];
const angle = 0.1;

function open(piece: Piece, cuts: readonly Cut[], fixed: Point = { x: 1, y: -1 }): FannedPiece {
  const plan: SpreadPlan = { hem: 'hem', fixed, cuts, sideTurns: [] };
  const result = openCuts(piece, plan);
  if (!result.ok) throw new Error(`${result.code}: ${result.sentence}`);
  return result.value;
}

/** A point right of the slash at x = 140 after the right part has swung out by `angle` about (140, -L). */
function swung({ x, y }: Point): Point {
  const [dx, dy] = [x - 140, y + L];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return { x: 140 + c * dx + s * dy, y: -L - s * dx + c * dy };
}

function near(a: Point, b: Point): void {
  expect(distance(a, b)).toBeLessThan(1e-9);
}

const slash = slashAt(140, { kind: 'angle', angle });

describe('R18 marks are carried', () => {
  it('drill holes go with their part; on a cut with the part nearer the fixed one', () => {
    const piece: Piece = {
      ...rectangle(W, L),
      drillHoles: [
        { id: 'left', at: { x: 60, y: -100 } },
        { id: 'right', at: { x: 200, y: -100 } },
        { id: 'on', at: { x: 140, y: -100 } },
      ],
    };
    const left = open(piece, [slash]).marks.drillHoles;
    near(left[0]!.at, { x: 60, y: -100 });
    near(left[1]!.at, swung({ x: 200, y: -100 }));
    near(left[2]!.at, { x: 140, y: -100 });
    // With the right part fixed, the left one swings and the hole on the cut stays with the right.
    const right = open(piece, [slash], { x: 250, y: -1 }).marks.drillHoles;
    near(right[1]!.at, { x: 200, y: -100 });
    near(right[2]!.at, { x: 140, y: -100 });
    expect(distance(right[0]!.at, { x: 60, y: -100 })).toBeGreaterThan(1);
  });

  it('notches stay at their place on the edge, whatever it is cut into', () => {
    const notches = [0, 40, 140, 260].map((along, k) => ({
      id: `n${k}`,
      edge: 'hem',
      distance: along,
      style: 'single' as const,
    }));
    const { marks } = open({ ...rectangle(W, L), notches }, [slash]);
    near(marks.notches[1]!.at, { x: 40, y: 0 });
    near(marks.notches[2]!.at, { x: 140, y: 0 });
    near(marks.notches[3]!.at, swung({ x: 260, y: 0 }));
  });

  it('a notch on hem that an overlap takes away comes to the join', () => {
    const notches = [{ id: 'n', edge: 'hem', distance: 139, style: 'double' as const }];
    const fanned = open({ ...rectangle(W, L), notches }, [slashAt(140, { kind: 'chord', width: -20 })]);
    const hem = fanned.edges.find(({ id }) => id === 'hem')!.segments;
    near(fanned.marks.notches[0]!.at, hem[0]!.segment.end);
  });

  it('an internal line crossed by a cut comes apart there and is flagged; one beside it is not', () => {
    const piece: Piece = {
      ...rectangle(W, L),
      internalLines: [
        { id: 'hip', name: 'hip line', path: [line({ x: 20, y: -200 }, { x: 280, y: -200 })] },
        {
          id: 'pocket',
          name: 'pocket',
          path: [cubic({ x: 20, y: -100 }, { x: 40, y: -150 }, { x: 80, y: -150 }, { x: 100, y: -100 })],
        },
      ],
    };
    const { internalLines } = open(piece, [slash]).marks;
    const [hip, pocket] = internalLines;
    expect(hip!.broken).toBe(true);
    expect(hip!.paths.length).toBe(2);
    near(hip!.paths[0]![0]!.end, { x: 140, y: -200 });
    near(hip!.paths[1]![0]!.start, swung({ x: 140, y: -200 }));
    near(hip!.paths[1]![0]!.end, swung({ x: 280, y: -200 }));
    expect(hip!.paths.reduce((sum, path) => sum + pathLength(path), 0)).toBeCloseTo(260, 8);
    expect(pocket).toEqual({ id: 'pocket', name: 'pocket', paths: [piece.internalLines[1]!.path], broken: false });
  });

  it('a line whose cut did not open is not broken', () => {
    const piece: Piece = {
      ...rectangle(W, L),
      internalLines: [{ id: 'hip', name: 'hip line', path: [line({ x: 20, y: -200 }, { x: 280, y: -200 })] }],
    };
    expect(open(piece, [slashAt(140, { kind: 'angle', angle: 0 })]).marks.internalLines[0]!.broken).toBe(false);
  });
});

describe('darts', () => {
  const dart: Dart = {
    id: 'dart',
    edge: 'top',
    apex: { x: 140, y: -380 },
    legs: [
      { x: 155, y: -L },
      { x: 125, y: -L },
    ],
  };
  const piece: Piece = { ...rectangle(W, L), darts: [dart] };
  /** Leg angles about the apex: legs 120 up and 15 to either side. */
  const full = 2 * Math.atan(15 / 120);

  function closed(fraction: number, on: Piece = piece): FannedPiece {
    const path = (points: readonly Point[]) => points.slice(1).map((end, i) => line(points[i]!, end));
    return open(on, [
      {
        ...slashAt(140, { kind: 'dart', legs: dart.legs, fraction }),
        id: 'slash',
        course: { kind: 'path', path: path([{ x: 140, y: 0 }, dart.apex, dart.legs[1]]) },
        hinge: dart.apex,
      },
      {
        ...slashAt(140, { kind: 'none' }, { kind: 'cut', cut: 'slash' }),
        id: 'wedge',
        from: 'top',
        course: { kind: 'path', path: path([dart.legs[0], dart.apex]) },
        drop: { x: 140, y: -490 },
      },
    ]);
  }

  it('an uncut dart goes with its part', () => {
    const beside = open(piece, [slashAt(100, { kind: 'angle', angle })]);
    const [carried] = beside.marks.darts;
    expect(distance(carried!.legs[0], carried!.legs[1])).toBeCloseTo(30, 9);
    expect(distance(carried!.apex, dart.apex)).toBeGreaterThan(1);
  });

  it('a cut through the tip halves an open dart: each leg goes with its side', () => {
    const [carried] = open(piece, [slash]).marks.darts;
    near(carried!.apex, dart.apex);
    near(carried!.legs[1], dart.legs[1]);
    near(carried!.legs[0], swung(dart.legs[0]));
  });

  it('closed whole, the dart is gone, the top is shorter by its mouth and the hem wider by the chord', () => {
    const fanned = closed(1);
    expect(fanned.marks.darts).toEqual([]);
    const top = fanned.edges.find(({ id }) => id === 'top')!.segments;
    expect(top.map(({ origin }) => origin.kind)).toEqual(['own', 'own']);
    expect(pathLength(top.map(({ segment }) => segment))).toBeCloseTo(W - 30, 9);
    expect(fanned.sweepChord).toBeCloseTo(W + 2 * 380 * Math.sin(full / 2), 9);
    expect(fanned.totalTurn).toBeCloseTo(full, 12);
    const wedge = fanned.cuts.find(({ id }) => id === 'wedge')!;
    expect(Math.abs(wedge.angle) + Math.abs(wedge.chord) + Math.abs(wedge.gapArea)).toBeLessThan(1e-9);
  });

  it('half closed, half of it is left: mouth, legs, area and the identity', () => {
    const fanned = closed(0.5);
    const arm = Math.hypot(15, 120);
    const mouth = 2 * arm * Math.sin(full / 4);
    const [left] = fanned.marks.darts;
    expect(distance(left!.legs[0], left!.legs[1])).toBeCloseTo(mouth, 9);
    near(left!.apex, dart.apex);
    const wedge = fanned.cuts.find(({ id }) => id === 'wedge')!;
    expect(wedge.angle).toBeCloseTo(full / 2, 12);
    expect(wedge.chord).toBeCloseTo(mouth, 9);
    expect(wedge.gapArea).toBeCloseTo((arm * arm * Math.sin(full / 2)) / 2, 7);
    const top = fanned.edges.find(({ id }) => id === 'top')!.segments;
    expect(top.map(({ origin }) => (origin.kind === 'gap' ? origin.cut : origin.kind))).toEqual([
      'own',
      'wedge',
      'own',
    ]);
    const parts = [...fanned.panels.map(({ area }) => area), ...fanned.cuts.map(({ gapArea }) => gapArea)];
    expect(fanned.areaAfter).toBeCloseTo(
      parts.reduce((a, b) => a + b, 0),
      6,
    );
  });

  it('not closed at all, the piece is what it was', () => {
    const fanned = closed(0);
    expect(fanned.areaAfter).toBeCloseTo(W * L, 7);
    near(fanned.marks.darts[0]!.legs[0], dart.legs[0]);
    near(fanned.marks.darts[0]!.legs[1], dart.legs[1]);
  });

  it('a drill hole in the part taken away goes with it', () => {
    const holed: Piece = {
      ...piece,
      drillHoles: [
        { id: 'in', at: { x: 140, y: -490 } },
        { id: 'out', at: { x: 20, y: -20 } },
      ],
    };
    expect(closed(1, holed).marks.drillHoles.map(({ id }) => id)).toEqual(['out']);
  });

  it('several slashes share a dart: their turns add up to what is closed', () => {
    const second: Cut = {
      ...slashAt(240, { kind: 'angle', angle: full / 4 }, { kind: 'cut', cut: 'slash' }),
      id: 'second',
      course: { kind: 'path', path: [line({ x: 240, y: 0 }, dart.apex)] },
    };
    const half = closed(0.5);
    expect(half.cuts.length).toBe(2);
    const path = (points: readonly Point[]) => points.slice(1).map((end, i) => line(points[i]!, end));
    const fanned = open(piece, [
      {
        ...slashAt(140, { kind: 'dart', legs: dart.legs, fraction: 0.5 }),
        id: 'slash',
        course: { kind: 'path', path: path([{ x: 140, y: 0 }, dart.apex, dart.legs[1]]) },
        hinge: dart.apex,
      },
      {
        ...slashAt(140, { kind: 'none' }, { kind: 'cut', cut: 'slash' }),
        id: 'wedge',
        from: 'top',
        course: { kind: 'path', path: path([dart.legs[0], dart.apex]) },
        drop: { x: 140, y: -490 },
      },
      second,
    ]);
    expect(fanned.totalTurn).toBeCloseTo((full * 3) / 4, 12);
    expect(fanned.cuts.find(({ id }) => id === 'wedge')!.angle).toBeCloseTo(full / 4, 12);
    // The outermost part carries both turns.
    expect(Math.min(...fanned.panels.map(({ move }) => move.angle))).toBeCloseTo((-full * 3) / 4, 12);
  });
});

describe('curved and shared slashes', () => {
  it('a curved slash opens about its end: area r squared sin(angle) / 2 whatever its course', () => {
    const from = { x: 140, y: 0 };
    const to = { x: 160, y: -L };
    const curved: Cut = {
      ...slash,
      course: { kind: 'path', path: [cubic(from, { x: 120, y: -170 }, { x: 190, y: -330 }, to)] },
    };
    const fanned = open(rectangle(W, L), [curved]);
    const r = distance(from, to);
    expect(fanned.areaAfter - W * L).toBeCloseTo((r * r * Math.sin(angle)) / 2, 6);
    expect(fanned.cuts[0]!.length).toBeGreaterThan(r);
  });

  it('slashes that run to one point open side by side, and their strips keep to it', () => {
    const point = { x: 150, y: -L };
    const to = (x: number): Cut => ({
      ...slashAt(x, { kind: 'chord', width: 30 }),
      course: { kind: 'path', path: [line({ x, y: 0 }, point)] },
    });
    const fanned = open(rectangle(W, L), [to(60), to(120), to(200)]);
    expect(fanned.sweepChord).toBeCloseTo(W + 90, 9);
    for (const { pivot } of fanned.cuts) near(pivot!, point);
    const top = fanned.edges.find(({ id }) => id === 'top')!.segments;
    expect(top.every(({ origin }) => origin.kind === 'own')).toBe(true);
    expect(pathLength(top.map(({ segment }) => segment))).toBeCloseTo(W, 9);
  });

  it('slashes from one hem point open one after the other', () => {
    const from = { x: 150, y: 0 };
    const to = (x: number): Cut => ({
      ...slashAt(x, { kind: 'chord', width: 20 }),
      course: { kind: 'path', path: [line(from, { x, y: -L })] },
    });
    const fanned = open(rectangle(W, L), [to(100), to(200)]);
    const hem = fanned.edges.find(({ id }) => id === 'hem')!.segments;
    expect(hem.map(({ origin }) => origin.kind)).toEqual(['own', 'gap', 'gap', 'own']);
    expect(fanned.sweepChord).toBeCloseTo(W + 40, 9);
    const parts = [...fanned.panels.map(({ area }) => area), ...fanned.cuts.map(({ gapArea }) => gapArea)];
    expect(fanned.areaAfter).toBeCloseTo(
      parts.reduce((a, b) => a + b, 0),
      6,
    );
  });

  it('a slash from a corner puts its gap on the edge it was cut from', () => {
    const corner: Cut = {
      ...slash,
      from: 'side',
      course: { kind: 'path', path: [line({ x: W, y: 0 }, { x: 120, y: -L })] },
    };
    const fanned = open(rectangle(W, L), [corner]);
    const kinds = (id: string) =>
      fanned.edges.find((edge) => edge.id === id)!.segments.map(({ origin }) => origin.kind);
    expect(kinds('side')).toEqual(['gap', 'own']);
    expect(kinds('hem')).toEqual(['own']);
  });
});
