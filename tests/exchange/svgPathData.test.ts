import paper from 'paper/dist/paper-core';
import { describe, expect, it } from 'vitest';
import { readPathData } from '../../src/exchange/svg/pathData';
import { pathLength } from '../../src/geometry/path';
import { type Path, segmentPointAt } from '../../src/geometry/segment';

paper.setup(new paper.Size(10, 10));

const many = 10_000;
const strokes = (d: string): Path[] => readPathData(d, many).subPaths.map((subPath) => subPath.segments);

function paperChildren(d: string): paper.Path[] {
  const compound = new paper.CompoundPath({ pathData: d, insert: false });
  return compound.children.map((child) => child as paper.Path).filter(({ length }) => length > 0);
}

/** Ends and handles of every curve, a line having its handles at its ends, rounded to what both can be held to. */
function paperCurves(d: string): number[][][] {
  return paperChildren(d).map((child) =>
    child.curves
      .filter((curve) => curve.length > 0)
      .map(({ point1, handle1, handle2, point2 }) =>
        [point1, point1.add(handle1), point2.add(handle2), point2].flatMap(({ x, y }) => [x, y]),
      ),
  );
}

function ourCurves(d: string): number[][][] {
  return strokes(d).map((path) =>
    path.map(({ start, end, ...handles }) => {
      const { control1, control2 } = handles.kind === 'cubic' ? handles : { control1: start, control2: end };
      return [start, control1, control2, end].flatMap(({ x, y }) => [x, y]);
    }),
  );
}

/** Area between an open or closed stroke and the chord of its ends, positive clockwise on screen, as paper.js counts it. */
function area(path: Path): number {
  let twice = 0;
  const points = path.flatMap((segment) => Array.from({ length: 4000 }, (_, i) => segmentPointAt(segment, i / 4000)));
  points.push(path.at(-1)!.end);
  points.forEach((p, i) => {
    const next = points[(i + 1) % points.length]!;
    twice += p.x * next.y - p.y * next.x;
  });
  return twice / 2;
}

describe('path data', () => {
  it.each([
    ['absolute and relative lines', 'M10 20L30 40l5-5H70h-5V9v-3Z'],
    ['cubics with reflected handles', 'M100,200 C100,100 250,100 250,200 S400,300 400,200 s10-50 60 0 S 1 2 3 4'],
    ['a reflection after something that is no cubic', 'M10 10 L 20 20 S 40 50 60 20 M0 0 S 5 9 9 3'],
    ['quadratics with reflected handles', 'M200,300 Q400,50 600,300 T1000,300 t 30 5 T 4 4'],
    ['a reflection after something that is no quadratic', 'M10 10 C 1 2 3 4 50 60 T 80 20 T 90 90'],
    ['moves that become lines, relative after absolute', 'M 10 20 30 40 50 10 m 5 5 10 0 0 10 z'],
    ['several strokes, one starting where the last was closed', 'M0 0 h10 v10 z l-5 -5 h-9 z m 30 30 l 4 4'],
    ['numbers run together', 'M-.5.5.5-.5L1e1-1.5E+1.25.75C1-1-1 1 1.5.5'],
    ['commas and white space of every kind', 'M 1,\n2\tL3 ,4\r\n, 5,6'],
  ])('agrees with paper.js: %s', (_, d) => {
    const theirs = paperCurves(d);
    expect(theirs.flat().length).toBeGreaterThan(1);
    expect(ourCurves(d)).toEqual(theirs.map((child) => child.map((curve) => curve.map((n) => expect.closeTo(n, 9)))));
  });

  it.each([
    ['a large and a small arc', 'M300 200 h-150 a150,150 0 1,0 150,-150 z M275 175 v-150 a150,150 0 0,0 -150,150 z'],
    [
      'tilted ellipses one after the other',
      'M600,350 l 50,-25 a25,25 -30 0,1 50,-25 a25,50 -30 0,1 50,-25 25,75 -30 0,1 50,-25 25,100 -30 0,1 50,-25',
    ],
    ['radii too small to reach', 'M0 0 A 1 2 30 0 1 100 50'],
    ['negative radii', 'M0 0 A -50 -60 10 1 0 40 50'],
  ])('agrees with paper.js on arcs to the accuracy of paper.js: %s', (_, d) => {
    const ours = strokes(d);
    const theirs = paperChildren(d);
    expect(ours).toHaveLength(theirs.length);
    ours.forEach((path, i) => {
      // paper.js draws an arc with one cubic per quarter turn, up to 2.7e-4 of its radius off.
      expect(Math.abs(pathLength(path) / theirs[i]!.length - 1)).toBeLessThan(5e-4);
      expect(Math.abs(area(path) - theirs[i]!.area)).toBeLessThan(2e-3 * Math.abs(theirs[i]!.area));
    });
  });

  it('reads arc flags run together with what follows, which paper.js cannot', () => {
    const apart = strokes('M0 0 a 30 20 15 0 1 50 40 A 30 20 15 1 1 .5 -20 a 3 3 0 0 0 5.5 .5');
    expect(apart[0]!.length).toBeGreaterThan(6);
    expect(strokes('M0 0a30 20 15 0150 40A30 20 15 11.5-20a3 3 0 005.5.5')).toEqual(apart);
  });

  it('an arc with no radius is a line, one with the same ends is nothing', () => {
    expect(strokes('M0 0 A 0 5 0 0 1 3 4')).toEqual([[{ kind: 'line', start: { x: 0, y: 0 }, end: { x: 3, y: 4 } }]]);
    expect(strokes('M0 0 A 5 5 0 1 1 0 0')).toEqual([]);
  });

  it.each([
    ['M0 0 L10 10 20', 'odd coordinate', 1],
    ['M0 0 L10 10 X 20 20', 'unknown letter', 1],
    ['M0 0 L10 10 L NaN 20', 'no number', 1],
    ['M0 0 L10 10 L1e999 20', 'number beyond all places', 1],
    ['M0 0 L10 10,', 'comma left over', 1],
    ['M0 0 L10 10 A 5 5 0 2 1 20 20', 'flag that is none', 1],
    ['M0 0 L10 10 L,20 20', 'comma first', 1],
    ['M0 0 C 1 2 3 4 5 6 7 8', 'half a cubic', 1],
    ['L0 0 10 10', 'no move at the start', 0],
    ['M', 'a move to nowhere', 0],
    ['hello', 'words', 0],
  ])('draws %s up to its mistake (%s) and no further', (d, _, kept) => {
    const reading = readPathData(d, many);
    expect(reading.stoppedAt).not.toBeNull();
    expect(reading.subPaths.flatMap((subPath) => subPath.segments)).toHaveLength(kept);
  });

  it('stops at the number of segments allowed', () => {
    expect(readPathData(`M0 0${'h1'.repeat(50)}`, 20).tooMany).toBe(true);
    expect(readPathData(`M0 0${'h0'.repeat(50)}`, 20).tooMany).toBe(true);
    expect(readPathData(`M0 0${'h1'.repeat(15)}`, 20).tooMany).toBe(false);
  });

  it('raises a quadratic exactly', () => {
    const [path] = strokes('M0 0 Q 30 60 90 0');
    for (const t of [0.1, 0.37, 0.5, 0.9]) {
      const at = segmentPointAt(path![0]!, t);
      expect(at.x).toBeCloseTo(2 * (1 - t) * t * 30 + t * t * 90, 12);
      expect(at.y).toBeCloseTo(2 * (1 - t) * t * 60, 12);
    }
  });
});
