import { describe, expect, it } from 'vitest';
import { containsPoint } from '../../src/geometry/area';
import { distance, type Point } from '../../src/geometry/point';
import { openCuts } from '../../src/operations/linkage/spread';
import type { FannedPiece } from '../../src/operations/worked';
import { loadCase } from '../support/caseFile';
import { type RawConstraint, type RawPose, solveRawLinkage } from '../support/rawLinkage';

// The cases' own numbers, in cm with y up, fed to a solver that knows nothing of trees or signs of sides.

function fanned(id: string): FannedPiece {
  const { piece, plan } = loadCase(id);
  const result = openCuts(piece, plan);
  if (!result.ok) throw new Error(result.sentence);
  return result.value;
}

/** The product's pose of the panel that holds a point given in cm, y up. */
function poseOf(piece: FannedPiece, at: readonly [number, number]): RawPose {
  const { move } = piece.panels.find(({ boundary }) => containsPoint(boundary, { x: 10 * at[0], y: -10 * at[1] }))!;
  return { x: move.tx / 10, y: -move.ty / 10, angle: -move.angle };
}

function hinge(a: number, b: number, p: Point): RawConstraint {
  return (move) => {
    const [pa, pb] = [move(a, p), move(b, p)];
    return [pa.x - pb.x, pa.y - pb.y];
  };
}

/** Straight distance between the two images of an open end. */
function chord(a: number, b: number, q: Point, width: number): RawConstraint {
  return (move) => [distance(move(a, q), move(b, q)) - width];
}

function expectSame(found: readonly RawPose[], product: readonly RawPose[]): void {
  found.forEach((pose, index) => {
    expect(Math.abs(pose.x - product[index]!.x), `x of panel ${index}`).toBeLessThan(1e-8);
    expect(Math.abs(pose.y - product[index]!.y), `y of panel ${index}`).toBeLessThan(1e-8);
    expect(Math.abs(pose.angle - product[index]!.angle), `angle of panel ${index}`).toBeLessThan(1e-9);
  });
}

/**
 * Strips 1 to 4 start turned a little about the side hinge, each more than the one before, as a person would nudge them
 * open: a chord alone does not tell an opening from an overlap, the start chooses.
 */
const sideHinge = { x: 25.17, y: 34 };
const nudged: RawPose[] = [0, 0.02, 0.12, 0.22, 0.32].map((angle) => ({
  x: sideHinge.x - (Math.cos(angle) * sideHinge.x - Math.sin(angle) * sideHinge.y),
  y: sideHinge.y - (Math.sin(angle) * sideHinge.x + Math.cos(angle) * sideHinge.y),
  angle,
}));

describe('the linkage agrees with raw constraints solved by Newton', () => {
  // Panels of O03, O04 and O05: 0 the top, 1 to 4 the strips from centre front to side.
  const at = [
    [10, 50],
    [2, 15],
    [8.5, 15],
    [15, 15],
    [21.5, 15],
  ] as const;
  const tops = [6.5, 13, 19.5].map((x) => ({ x, y: 34 }));
  /** Where the slash x = constant meets the hem, C (0,0) (9,0) (18,0.6) (26,0.8), by bisection. */
  const hemAt = (x: number): Point => {
    let low = 0;
    let high = 1;
    for (let i = 0; i < 60; i++) {
      const t = (low + high) / 2;
      const u = 1 - t;
      if (3 * u * u * t * 9 + 3 * u * t * t * 18 + t * t * t * 26 < x) low = t;
      else high = t;
    }
    const t = (low + high) / 2;
    return { x, y: 3 * (1 - t) * t * t * 0.6 + t * t * t * 0.8 };
  };
  const strips = [
    ...tops.flatMap((top, k) => [hinge(k + 1, k + 2, top), chord(k + 1, k + 2, hemAt(top.x), 4)]),
    hinge(4, 0, sideHinge),
  ];

  it('bodice front, centre strip parallel', () => {
    const parallel: RawConstraint = (_, angle) => [angle(1)];
    const poses = solveRawLinkage(5, 0, [...strips, parallel], nudged);
    const product = fanned('O03');
    expectSame(
      poses,
      at.map((p) => poseOf(product, p)),
    );
  });

  it('bodice front, hem corner on the centre front line', () => {
    const corner: RawConstraint = (move) => [move(1, { x: 0, y: 0 }).x];
    const poses = solveRawLinkage(5, 0, [...strips, corner], nudged);
    const product = fanned('O05');
    expectSame(
      poses,
      at.map((p) => poseOf(product, p)),
    );
  });

  it('unequal opening: two widths and equal diagonals', () => {
    const product = fanned('O08');
    const gap =
      (k: number, x: number): RawConstraint =>
      (move) => {
        const [p, q] = [
          { x, y: 55 },
          { x, y: 0 },
        ];
        const [pl, pr, ql, qr] = [move(k, p), move(k + 1, p), move(k, q), move(k + 1, q)];
        return [distance(pl, pr) - 2, distance(ql, qr) - 7, distance(pl, qr) - distance(pr, ql)];
      };
    const guess = [0, 0.05, 0.1].map((angle, k) => ({ x: 5 * k, y: 0, angle }));
    const poses = solveRawLinkage(3, 0, [gap(0, 7), gap(1, 14)], guess);
    expectSame(poses, [poseOf(product, [3, 30]), poseOf(product, [10, 30]), poseOf(product, [17, 30])]);
  });

  it('rectangle hinged on its far edge', () => {
    const product = fanned('O01');
    const constraints = [6, 12, 18].flatMap((x, k) => [hinge(k, k + 1, { x, y: 60 }), chord(k, k + 1, { x, y: 0 }, 8)]);
    const guess = [0, 0.1, 0.2, 0.3].map((angle, k) => ({ x: 6 * k, y: 0, angle }));
    const poses = solveRawLinkage(4, 0, constraints, guess);
    expectSame(
      poses,
      [3, 9, 15, 21].map((x) => poseOf(product, [x, 30])),
    );
  });

  it('a dart closed: its legs brought together about the tip', () => {
    const product = fanned('O09');
    const apex = { x: 10, y: 49 };
    const closed: RawConstraint = (move) => {
      const [a, b] = [move(0, { x: 8.7, y: 60 }), move(1, { x: 11.3, y: 60 })];
      return [a.x - b.x];
    };
    const poses = solveRawLinkage(
      2,
      0,
      [hinge(0, 1, apex), closed],
      [
        { x: 0, y: 0, angle: 0 },
        { x: 0, y: 0, angle: 0.1 },
      ],
    );
    expectSame(poses, [poseOf(product, [3, 30]), poseOf(product, [20, 30])]);
  });
});
