import { describe, expect, it } from 'vitest';
import { joinLoosePaths, type LoosePath } from '../../src/exchange/drawing/joinLoosePaths';
import { enclosedArea } from '../../src/geometry/area';
import { pathLength } from '../../src/geometry/path';
import { distance, type Point } from '../../src/geometry/point';
import { cubic, line, type Path, reversePath } from '../../src/geometry/segment';
import { fixture, readScaled } from './svgFixture';
import { seeded } from './svgMutate';
import { bodiceFront, trace } from './svgTrace';

const p = (x: number, y: number): Point => ({ x, y });
const open = (id: string, ...points: Point[]): LoosePath => ({
  id,
  closed: false,
  path: points.slice(1).map((end, i) => line(points[i]!, end)),
});

function expectJoined(path: Path, closed: boolean): void {
  path.forEach((segment, i) => {
    if (i > 0 || closed) expect(segment.start).toEqual(path.at(i - 1)!.end);
  });
}

describe('loose lines', () => {
  it('of the fixture become one closed skirt of the known length, every slip named', () => {
    const { outlines, widestGap, notes } = joinLoosePaths(readScaled(fixture('loose-lines.svg')).shapes);
    expect(outlines.map(({ closed }) => closed)).toEqual([true, false]);
    const whole = pathLength(readScaled(fixture('skirt-mm.svg')).shapes[0]!.path);
    expect(Math.abs(pathLength(outlines[0]!.path) - whole)).toBeLessThan(0.3);
    expect(enclosedArea(outlines[0]!.path)).toBeGreaterThan(0);
    expect(outlines[0]!.gaps.map(({ width }) => width).sort()).toEqual(
      [0.1, 0.1, 0.2, 0.25, 0.3].map((n) => expect.closeTo(n, 9)),
    );
    expect(widestGap).toBeCloseTo(0.3, 9);
    expectJoined(outlines[0]!.path, true);
    expect(notes).toEqual([
      '1 line drawn twice was left out.',
      '1 speck was left out.',
      '5 gaps between loose ends were closed, the widest 0.30 mm (up to 0.5 mm are closed).',
      '1 line stays open; the nearest loose ends are 400.00 mm apart.',
    ]);
  });

  it('in any order and direction make the same outline, exactly where the ends meet', () => {
    const random = seeded(4);
    for (let round = 0; round < 50; round++) {
      const pieces = bodiceFront
        .map((segment, i) => ({
          id: `line-${i}`,
          closed: false,
          path: random() < 0.5 ? [segment] : reversePath([segment]),
          key: random(),
        }))
        .sort((a, b) => a.key - b.key);
      const { outlines, widestGap, nextGap, notes } = joinLoosePaths(pieces);
      expect(outlines).toHaveLength(1);
      expect(outlines[0]!.closed).toBe(true);
      expect(outlines[0]!.from).toHaveLength(7);
      expectJoined(outlines[0]!.path, true);
      expect(enclosedArea(outlines[0]!.path)).toBeCloseTo(enclosedArea(bodiceFront), 6);
      expect([widestGap, nextGap, notes]).toEqual([0, null, []]);
    }
  });

  it('stay apart where the gap is wider than allowed, and the width that would close it is told', () => {
    const lines = [open('a', p(0, 0), p(0, 100), p(100, 100)), open('b', p(100.8, 100), p(50, 0), p(0.3, 0))];
    const { outlines, nextGap, notes } = joinLoosePaths(lines);
    expect(outlines.map(({ closed, from }) => [closed, from.length])).toEqual([[false, 2]]);
    expect(nextGap).toBeCloseTo(0.8, 9);
    expect(notes.at(-1)).toBe('1 line stays open; the nearest loose ends are 0.80 mm apart.');
    const wider = joinLoosePaths(lines, 0.8 + 1e-9);
    expect(wider.outlines.map(({ closed }) => closed)).toEqual([true]);
    // Wider than half a millimetre: bridged, nothing moved.
    expect(pathLength(wider.outlines[0]!.path)).toBeGreaterThan(pathLength(lines[0]!.path) + 0.8);
    expectJoined(wider.outlines[0]!.path, true);
  });

  it('meet half-way, and a curve keeps its direction there', () => {
    const curve = { id: 'a', closed: false, path: [cubic(p(0, 0), p(0, 50), p(50, 100), p(100, 100))] };
    const { outlines } = joinLoosePaths([curve, open('b', p(100, 100.4), p(200, 100.4))]);
    const [first] = outlines[0]!.path;
    expect(first!.end.y).toBeCloseTo(100.2, 12);
    expect(first!.kind === 'cubic' && first!.control2.y).toBeCloseTo(100.2, 12);
  });

  it('join the nearest ends first, and say where more than two meet', () => {
    const { outlines, notes } = joinLoosePaths([
      open('a', p(0, 0), p(100, 0)),
      open('b', p(100.1, 0), p(200, 0)),
      open('c', p(100.2, 0), p(100, 90)),
    ]);
    expect(outlines.map(({ from }) => [...from].sort())).toContainEqual(['a', 'b']);
    expect(notes).toContainEqual(
      'At 1 place more than two lines meet; the nearest ends were joined. Check the outline there.',
    );
  });

  it('a short dash does not close on itself, a loop does', () => {
    const dash = joinLoosePaths([open('a', p(0, 0), p(3, 0))], 5);
    expect(dash.outlines.map(({ closed }) => closed)).toEqual([false]);
    const loop = joinLoosePaths([open('a', p(0, 0), p(90, 0), p(90, 90), p(0.2, 0.1))], 1);
    expect(loop.outlines.map(({ closed }) => closed)).toEqual([true]);
  });

  it('drawn twice are one: turned round, begun elsewhere, a hair off; but not lines that only look alike', () => {
    const ring = [p(0, 0), p(0, 90), p(90, 90)];
    const closed = (id: string, points: Point[]): LoosePath => ({ ...open(id, ...points, points[0]!), closed: true });
    const { outlines, notes } = joinLoosePaths([
      closed('a', ring),
      closed('b', [ring[1]!, ring[2]!, ring[0]!]),
      closed('c', [...ring].reverse()),
      closed(
        'd',
        ring.map(({ x, y }) => p(x + 0.005, y - 0.005)),
      ),
      closed(
        'e',
        ring.map(({ x, y }) => p(x + 0.02, y)),
      ),
      closed('f', [p(0, 0), p(90, 0), p(90, 90)]),
    ]);
    expect(outlines.map(({ from }) => from)).toEqual([['a'], ['e'], ['f']]);
    expect(notes).toEqual(['3 lines drawn twice were left out.']);
  });

  it('lose their tiny segments, but a fine trace keeps its shape', () => {
    const jagged = open('a', p(0, 0), p(50, 0), p(50.01, 0.005), p(50, 0.01), p(50, 80));
    const { outlines, notes } = joinLoosePaths([jagged]);
    expect(outlines[0]!.path).toHaveLength(2);
    expect(notes).toContainEqual('2 tiny steps in the lines were evened out.');
    expectJoined(outlines[0]!.path, false);
    const fine = Array.from({ length: 20_001 }, (_, i) => p(100 * Math.cos(i / 10_000), 100 * Math.sin(i / 10_000)));
    const kept = joinLoosePaths([open('b', ...fine)]).outlines[0]!.path;
    expect(pathLength(kept)).toBeCloseTo(200, 1);
    expect(kept.at(-1)!.end).toEqual(fine.at(-1));
  });

  it('run counter-clockwise as seen on screen once closed', () => {
    for (const path of [bodiceFront, reversePath(bodiceFront)]) {
      const [outline] = joinLoosePaths([{ id: 'a', path, closed: true }]).outlines;
      expect(enclosedArea(outline!.path)).toBeGreaterThan(0);
      expect(outline!.path[0]!.kind).toBe(path === bodiceFront ? 'cubic' : 'cubic');
    }
  });

  it('come out largest first', () => {
    const square = (id: string, size: number): LoosePath => ({
      ...open(id, p(0, 0), p(0, size), p(size, size), p(size, 0), p(0, 0)),
      closed: true,
    });
    expect(
      joinLoosePaths([square('a', 10), square('b', 90), square('c', 40)]).outlines.map(({ from }) => from[0]),
    ).toEqual(['b', 'c', 'a']);
  });

  it('an outline handed over as 20,000 separate steps is one again, in under two seconds', () => {
    const points = trace(bodiceFront, 20_000);
    const lines = points.map((from, i) => open(`line-${i}`, from, points[(i + 1) % points.length]!));
    const before = process.cpuUsage();
    const { outlines } = joinLoosePaths(
      [...lines.slice(7000), ...lines.slice(0, 7000)].filter((_, i) => i !== 50),
      0.1,
    );
    const { user, system } = process.cpuUsage(before);
    expect((user + system) / 1e6).toBeLessThan(2);
    // Each step is a twelfth of a millimetre: shorter than a speck as a line of its own.
    expect(outlines).toHaveLength(1);
    expect(outlines[0]!.path.length).toBeGreaterThan(19_000);
  });

  it('20,000 of them in under two seconds', () => {
    const random = seeded(9);
    const lines = Array.from({ length: 20_000 }, (_, i) => {
      const from = p(1000 * random(), 1000 * random());
      return open(`line-${i}`, from, p(from.x + 20 * random() - 10, from.y + 20 * random()));
    });
    const before = process.cpuUsage();
    const { outlines } = joinLoosePaths(lines, 1);
    const { user, system } = process.cpuUsage(before);
    expect((user + system) / 1e6).toBeLessThan(2);
    expect(outlines.length).toBeGreaterThan(1000);
    for (const { path, closed } of outlines.slice(0, 500)) expectJoined(path, closed);
    expect(distance(lines[0]!.path[0]!.start, lines[1]!.path[0]!.start)).toBeGreaterThan(0);
  });
});
