import { describe, expect, it } from 'vitest';
import { proposeCorners } from '../../src/exchange/cornerProposal';
import { joinLoosePaths } from '../../src/exchange/drawing/joinLoosePaths';
import { smoothOutline } from '../../src/exchange/smoothOutline';
import { readPathData } from '../../src/exchange/svg/pathData';
import { enclosedArea } from '../../src/geometry/area';
import { nearestOnPath } from '../../src/geometry/nearest';
import { pathLength, pathPointAt } from '../../src/geometry/path';
import { distance, type Point, turn } from '../../src/geometry/point';
import { line, type Path } from '../../src/geometry/segment';
import { fixture, readScaled } from './svgFixture';
import { bodiceCorners, bodiceFront, polygon, trace, tracedDrawing } from './svgTrace';

const degrees = (radians: number) => (radians * 180) / Math.PI;

/** Distance from each true corner to the nearest of the found ones; the counts must agree. */
function missesOf(found: readonly { readonly point: Point }[]): number[] {
  expect(found).toHaveLength(bodiceCorners.length);
  return bodiceCorners.map((corner) => Math.min(...found.map(({ point }) => distance(point, corner))));
}

/** Largest distance of evenly spread points of one path from another. */
function apart(path: Path, other: Path): number {
  const whole = pathLength(path);
  return Math.max(
    ...Array.from({ length: 700 }, (_, i) => nearestOnPath(other, pathPointAt(path, (i * whole) / 700).point).distance),
  );
}

describe('corners proposed', () => {
  it('finds the six corners of a bodice drawn with curves, with their turns, and none at the smooth joint of the armhole', () => {
    const corners = proposeCorners(bodiceFront);
    expect(corners.map(({ segment }) => segment)).toEqual([0, 1, 2, 4, 5, 6]);
    expect(corners.every(({ turn: angle }) => angle < 0)).toBe(true);
    // Centre front to hem and neckline to centre front are square.
    expect(degrees(corners[0]!.turn)).toBeCloseTo(-90, 6);
    expect(degrees(corners[5]!.turn)).toBeCloseTo(-90, 6);
  });

  it('needs no unit: the same corners at a hundredth of the size', () => {
    const small = bodiceFront.map((segment) => {
      const scaled = Object.entries(segment).map(([key, value]) => [
        key,
        typeof value === 'string' ? value : { x: value.x / 100, y: value.y / 100 },
      ]);
      return Object.fromEntries(scaled) as (typeof bodiceFront)[number];
    });
    expect(proposeCorners(small).map(({ segment }) => segment)).toEqual([0, 1, 2, 4, 5, 6]);
  });

  it.each([
    [300, 0],
    [800, 0],
    [2000, 0],
    [5000, 0],
    [800, 0.05],
    [2000, 0.05],
    [2000, 0.15],
  ])('finds them in a trace of %i steps, each up to %f mm off', (count, rough) => {
    const step = pathLength(bodiceFront) / count;
    const misses = missesOf(proposeCorners(polygon(trace(bodiceFront, count, rough, 5))));
    for (const miss of misses) expect(miss).toBeLessThan(step + 2 * rough);
  });

  it('finds them wherever the trace begins and however it lies', () => {
    const points = trace(bodiceFront, 900, 0.03, 11);
    for (const [start, angle] of [
      [0, 0.4],
      [137, 1.9],
      [450, 3.3],
      [899, 5.5],
    ] as const) {
      const turned = [...points.slice(start), ...points.slice(0, start)].map((at) => turn(at, angle));
      const back = proposeCorners(polygon(turned)).map((corner) => ({ point: turn(corner.point, -angle) }));
      for (const miss of missesOf(back)) expect(miss).toBeLessThan(2.1);
    }
  });

  it('offers none on a circle, drawn as curves, as 30 chords or as 3,000', () => {
    const circle = readPathData('M100 0A100 100 0 0 1-100 0A100 100 0 0 1 100 0z', 100).subPaths[0]!.segments;
    expect(proposeCorners(circle)).toEqual([]);
    for (const count of [30, 3000]) expect(proposeCorners(polygon(trace(circle, count)))).toEqual([]);
  });

  it('offers both corners of a step shorter than the window, since long segments are certain', () => {
    const points = [
      [0, 0],
      [0, 300],
      [200, 300],
      [200, 100],
      [196, 100],
      [196, 0],
    ].map(([x, y]) => ({ x: x!, y: y! }));
    expect(proposeCorners(polygon(points))).toHaveLength(6);
  });

  it('has nothing to offer for an open line or one without extent', () => {
    expect(proposeCorners([line({ x: 0, y: 0 }, { x: 9, y: 0 })])).toEqual([]);
    expect(proposeCorners([line({ x: 1, y: 1 }, { x: 1, y: 1 })])).toEqual([]);
    expect(proposeCorners([])).toEqual([]);
  });
});

describe('traced outlines smoothed', () => {
  it('the fixture is the bodice traced in 800 steps', () => {
    expect(fixture('traced-800.svg')).toBe(tracedDrawing());
  });

  it('turns 800 steps into ten lines and curves at most, true to 0.1 mm, sides straight, corners found again', () => {
    const { shapes } = readScaled(fixture('traced-800.svg'));
    expect(shapes[0]).toMatchObject({ closed: true, nearText: 'Top front', layer: 'Top' });
    const outline = joinLoosePaths(shapes).outlines[0]!.path;
    expect(outline).toHaveLength(800);
    const smooth = smoothOutline(outline, proposeCorners(outline));
    expect(smooth.segmentsAfter).toBeLessThanOrEqual(10);
    expect(smooth.roughEdges).toBe(0);
    expect(smooth.deviation).toBeLessThanOrEqual(0.1);
    // Against the truth, not the trace, both ways.
    expect(apart(smooth.path, bodiceFront)).toBeLessThan(0.12);
    expect(apart(bodiceFront, smooth.path)).toBeLessThan(0.12);
    for (const miss of missesOf(smooth.corners)) expect(miss).toBeLessThan(0.05);
    expect(Math.abs(pathLength(smooth.path) / pathLength(bodiceFront) - 1)).toBeLessThan(1e-4);
    expect(Math.abs(enclosedArea(smooth.path) / enclosedArea(bodiceFront) - 1)).toBeLessThan(1e-4);
    expect(smooth.path.filter(({ kind }) => kind === 'line')).toHaveLength(3);
    expect(smooth.sentence).toMatch(/^800 small steps were drawn as \d+ lines and curves, nowhere more than 0\.\d+ mm/);
  });

  it.each([
    [300, 0, 0.1, 0.4],
    [20_000, 0.02, 0.1, 0.12],
    [2000, 0, 0.1, 0.1],
    [2000, 0.05, 0.1, 0.15],
    [4000, 0.02, 0.1, 0.1],
    [2000, 0.15, 0.3, 0.4],
  ])(
    '%i steps up to %f mm off, allowed %f mm: within the allowance of every traced point, %f mm of the truth',
    (count, rough, allowed, truth) => {
      const points = trace(bodiceFront, count, rough, 3);
      const outline = polygon(points);
      const smooth = smoothOutline(outline, proposeCorners(outline), allowed);
      expect(smooth.roughEdges).toBe(0);
      expect(smooth.segmentsAfter).toBeLessThan(20);
      const worst = Math.max(...points.map((at) => nearestOnPath(smooth.path, at).distance));
      expect(worst).toBeLessThanOrEqual(allowed);
      expect(smooth.deviation).toBeGreaterThanOrEqual(worst - 1e-9);
      expect(smooth.deviation).toBeLessThanOrEqual(allowed);
      expect(apart(smooth.path, bodiceFront)).toBeLessThan(truth);
      smooth.path.forEach((segment, i) => {
        expect(segment.start).toEqual(smooth.path.at(i - 1)!.end);
      });
    },
  );

  it('says so where a trace is too rough, and leaves it as it is', () => {
    const outline = polygon(trace(bodiceFront, 2000, 0.3, 3));
    const smooth = smoothOutline(outline, proposeCorners(outline));
    expect(smooth.roughEdges).toBeGreaterThan(0);
    expect(smooth.sentence).toContain('too rough');
  });

  it('leaves an outline of few segments exactly as it is', () => {
    const smooth = smoothOutline(bodiceFront, proposeCorners(bodiceFront));
    expect(smooth.path).toEqual(bodiceFront);
    expect(smooth).toMatchObject({ deviation: 0, cornerGain: 0, roughEdges: 0 });
  });

  it('smooths an outline without corners', () => {
    const circle = readPathData('M100 0A100 100 0 0 0-100 0A100 100 0 0 0 100 0z', 100).subPaths[0]!.segments;
    const outline = polygon(trace(circle, 1000));
    const smooth = smoothOutline(outline, []);
    expect(smooth.segmentsAfter).toBeLessThan(20);
    expect(apart(smooth.path, circle)).toBeLessThan(0.11);
  });
});
