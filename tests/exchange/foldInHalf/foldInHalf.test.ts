import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildPiece, type EdgeStart } from '../../../src/exchange/edgeNaming';
import { type FoldAnswers, type FoldedHalf, foldInHalf } from '../../../src/exchange/foldInHalf/foldInHalf';
import { findMirrorAxes } from '../../../src/exchange/foldInHalf/mirrorAxes';
import { enclosedArea } from '../../../src/geometry/area';
import { pathBounds } from '../../../src/geometry/bounds';
import { flattenPath } from '../../../src/geometry/flatten';
import { lineThrough, mirrorPath, sideOf } from '../../../src/geometry/mirror';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { pathLength } from '../../../src/geometry/path';
import { cross, type Point, subtract, unit } from '../../../src/geometry/point';
import {
  compose,
  movePath,
  movePoint,
  moveVector,
  type RigidMove,
  shiftBy,
  turnAbout,
} from '../../../src/geometry/rigidMove';
import { cubic, line, type Path, reversePath, type Segment } from '../../../src/geometry/segment';
import { unitTangentAt } from '../../../src/geometry/tangent';
import { leftSide, upright, wholeFront } from './wholePieces';

const centre = { name: 'Centre front', role: 'centre-front' } as const;

/** The edges of the whole front, from the shoulder on the left round to the neck; the outline starts at the neck's middle. */
const corners: readonly EdgeStart[] = [
  { segment: 1, t: 0, name: 'Left shoulder', role: 'shoulder' },
  { segment: 2, t: 0, name: 'Left armhole', role: 'armhole' },
  { segment: 3, t: 0, name: 'Left side', role: 'side' },
  { segment: 4, t: 0, name: 'Hem', role: 'hem' },
  { segment: 6, t: 0, name: 'Right side', role: 'side' },
  { segment: 7, t: 0, name: 'Right armhole', role: 'armhole' },
  { segment: 8, t: 0, name: 'Right shoulder', role: 'shoulder' },
  { segment: 9, t: 0, name: 'Neck', role: 'neckline' },
];

const answers: FoldAnswers = {
  outline: wholeFront,
  corners,
  mirror: upright,
  kept: 'mean',
  meanOn: 'minus',
  foldEdge: centre,
};

function folded(change: Partial<FoldAnswers> = {}): FoldedHalf {
  const made = foldInHalf({ ...answers, ...change });
  if (!made.ok) throw new Error(made.sentence);
  return made.value;
}

const anyMove = fc
  .tuple(
    fc.double({ min: -3.1, max: 3.1, noNaN: true }),
    fc.integer({ min: -900, max: 900 }),
    fc.integer({ min: -900, max: 900 }),
  )
  .map(([angle, x, y]) => compose(shiftBy({ x, y }), turnAbout({ x: 30, y: 200 }, angle)));

const turnedLine = (move: RigidMove) => ({ at: movePoint(move, upright.at), along: moveVector(move, upright.along) });

/** Largest distance between the corner points and handles of two paths of the same make, mm. */
function between(one: Path, two: Path): number {
  expect(one.map(({ kind }) => kind)).toEqual(two.map(({ kind }) => kind));
  const points = (s: Segment): Point[] =>
    s.kind === 'line' ? [s.start, s.end] : [s.start, s.control1, s.control2, s.end];
  return Math.max(
    ...one.flatMap((s, i) =>
      points(s).map((p, k) => Math.hypot(p.x - points(two[i]!)[k]!.x, p.y - points(two[i]!)[k]!.y)),
    ),
  );
}

describe('a piece drawn whole, folded in half', () => {
  it('R34 an outline that is exactly the same twice gives its half, to 1e-6 mm, however it lies', () => {
    fc.assert(
      fc.property(anyMove, fc.constantFrom('mean', 'plus', 'minus'), (move, kept) => {
        const outline = movePath(move, wholeFront);
        const [axis] = findMirrorAxes(outline);
        const half = folded({ outline, mirror: axis!.mirror, kept });
        const left = movePath(move, leftSide);
        const right = movePath(move, reversePath(mirrorPath(upright, leftSide)));
        const drawnLeft = sideOf(turnedLine(move), half.outline[1]!.end) * sideOf(upright, leftSide[1]!.end) > 0;
        expect(between(half.outline.slice(0, -1), drawnLeft ? left : right)).toBeLessThan(1e-6);
        expect(half.deviation).toBeLessThan(1e-6);
        expect(half.loneCorners).toBe(0);
        expect(enclosedArea(half.outline)).toBeCloseTo(enclosedArea(wholeFront) / 2, 5);
      }),
      { numRuns: 12 },
    );
  });

  it('R34 its edges keep their names, its new straight edge is the fold, and it makes a sound piece', () => {
    for (const [kept, side] of [
      ['plus', 'Left'],
      ['minus', 'Right'],
    ] as const) {
      const half = folded({ kept });
      const names = half.corners.map(({ name }) => name);
      const walked =
        side === 'Left'
          ? ['Neck', 'Left shoulder', 'Left armhole', 'Left side', 'Hem']
          : ['Hem', 'Right side', 'Right armhole', 'Right shoulder', 'Neck'];
      expect(names).toEqual([...walked, 'Centre front']);
      const piece = buildPiece({
        id: 'p',
        name: 'Front',
        outline: half.outline,
        corners: half.corners,
        fold: half.fold,
        grainline: 'default',
        notches: [],
        drillHoles: [],
        cutCount: 1,
      });
      if (!piece.ok) throw new Error(piece.sentence);
      expect(piece.value.fold).toBe('centre-front');
      expect(pathLength(piece.value.edges.at(-1)!.path)).toBeCloseTo(350, 9);
    }
  });

  it('R34 sides that differ: the mean lies between them, is square at the fold, and opened out leaves the paper by what is said', () => {
    // The right side 3 mm wider at the hem and 2 mm lower at the armhole than the left one.
    const shift = ({ x, y }: Point): Point => ({
      x: x + (x > 0 ? (3 * y) / 440 : 0),
      y: y + (x > 60 ? 1.5 * Math.exp(-(((y - 200) / 90) ** 2)) : 0),
    });
    const outline = wholeFront.map(
      (s): Segment =>
        s.kind === 'line'
          ? line(shift(s.start), shift(s.end))
          : cubic(shift(s.start), shift(s.control1), shift(s.control2), shift(s.end)),
    );
    const [axis] = findMirrorAxes(outline);
    const half = folded({ outline, mirror: axis!.mirror });
    expect(axis!.apart).toBeGreaterThan(1);
    expect(axis!.apart).toBeLessThan(3.3);
    expect(half.deviation).toBeLessThan(axis!.apart / 2 + 0.5);
    expect(half.ends.map(({ drawn }) => drawn)).toEqual(['square', 'square']);
    const foldLine = half.outline.at(-1)!;
    const along = unit(subtract(foldLine.end, foldLine.start));
    expect(Math.abs(cross(along, unitTangentAt(half.outline[0]!, 0)))).toBeCloseTo(1, 12);
    expect(Math.abs(cross(along, unitTangentAt(half.outline.at(-2)!, 1)))).toBeCloseTo(1, 12);
  });

  it('R34 the mean lies halfway between both sides, whether they are drawn alike or in different pieces', () => {
    // The right side wider by 4 mm everywhere beyond the neck, so its mean with the left is wider by 2 mm.
    const wider = (by: number, { x, y }: Point): Point => ({ x: x > 60 ? x + by : x, y });
    const widened = (by: number, path: Path): Path =>
      path.map(
        (s): Segment =>
          s.kind === 'line'
            ? line(wider(by, s.start), wider(by, s.end))
            : cubic(wider(by, s.start), wider(by, s.control1), wider(by, s.control2), wider(by, s.end)),
      );
    const right = reversePath(mirrorPath(upright, leftSide));
    const middle = widened(2, right);
    const traced = flattenPath(widened(4, right), 0.005);
    const pieces = [widened(4, right), traced.slice(1).map((p, i) => line(traced[i]!, p))];
    for (const side of pieces) {
      const half = folded({ outline: [...leftSide, ...side], corners: corners.slice(0, 4), mirror: upright });
      const places = flattenPath(half.outline.slice(0, -1), 0.1);
      for (const p of places) expect(nearestOnPath(middle, p).distance).toBeLessThan(0.25);
      expect(pathBounds(half.outline).maxX).toBeCloseTo(240, 1);
    }
  });

  it('R34 a neck with a point at the centre keeps it, even 1 mm beside the line', () => {
    const outline = [
      line({ x: 1, y: 120 }, { x: -72, y: 0 }),
      ...wholeFront.slice(1, -1),
      line({ x: 72, y: 0 }, { x: 1, y: 120 }),
    ];
    const half = folded({
      outline,
      meanOn: 'plus',
      corners: [{ segment: 0, t: 0, name: 'Left neck', role: 'neckline' }, ...corners],
    });
    expect(half.ends.map(({ drawn }) => drawn)).toEqual(['corner', 'square']);
    expect(half.outline[0]!.start).toEqual({ x: 0, y: 120 });
    expect(half.outline[0]!.kind).toBe('line');
  });

  it('R34 sides too far apart are refused with what to do; so is a line beside the middle', () => {
    const halfSkirt: Path = [
      [0, 0],
      [0, 600],
      [260, 600],
      [230, 180],
      [200, 0],
    ].map(([x, y], i, all) => line({ x: x!, y: y! }, { x: all[(i + 1) % 5]![0]!, y: all[(i + 1) % 5]![1]! }));
    const starts = halfSkirt.map((_, segment) => ({
      segment,
      t: 0,
      name: `Edge ${segment + 1}`,
      role: 'other' as const,
    }));
    const [axis] = findMirrorAxes(halfSkirt);
    const skirt = foldInHalf({ ...answers, outline: halfSkirt, corners: starts, mirror: axis!.mirror });
    expect(skirt).toMatchObject({
      ok: false,
      code: 'sides-differ',
      sentence: expect.stringMatching(/12\.\d mm apart, and 10\.0 mm is the most\. Move the line/),
    });
    const beside = foldInHalf({ ...answers, mirror: lineThrough({ x: 30, y: 0 }, { x: 30, y: 100 })! });
    expect(beside).toMatchObject({ ok: false, code: 'sides-differ' });
  });
});
