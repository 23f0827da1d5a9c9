import { describe, expect, it } from 'vitest';
import { carriedOn } from '../../src/exchange/carriedOn';
import { arcCubics } from '../../src/exchange/drawing/arc';
import { endTangent, pathEnd, pathLength, pathStart } from '../../src/geometry/path';
import { angleBetween, distance, point } from '../../src/geometry/point';
import { line, type Path, reversePath, segmentPointAt } from '../../src/geometry/segment';

/** Part of a circle about 0, 0; angles in radians. */
function round(radius: number, from: number, sweep: number): Path {
  const at = (angle: number) => point(radius * Math.cos(angle), radius * Math.sin(angle));
  const arc = { centre: point(0, 0), axisX: point(radius, 0), axisY: point(0, radius), from, sweep };
  return arcCubics(arc, at(from), at(from + sweep));
}

describe('an edge carried on', () => {
  it('straight where it is straight', () => {
    const { path, before, edge } = carriedOn([line(point(0, 0), point(30, 40))], 50, 10);
    expect([before, edge, path.length]).toEqual([1, 1, 3]);
    expect(distance(pathStart(path), point(-30, -40))).toBeLessThan(1e-9);
    expect(distance(pathEnd(path), point(60, 80))).toBeLessThan(1e-9);
  });

  it.each([1, -1])('on its own circle, either way round, at both ends (closed form)', (way) => {
    const arc = round(80, 0.3, way * 1.2);
    const { path, before, edge } = carriedOn(arc, 60, 15);
    expect(path.slice(before, before + edge)).toEqual(arc);
    for (const segment of path) {
      for (const t of [0, 0.3, 0.7, 1])
        expect(Math.hypot(...Object.values(segmentPointAt(segment, t)))).toBeCloseTo(80, 3);
    }
    expect(pathLength(path)).toBeCloseTo(80 * 1.2 + 2 * 60, 3);
    expect(path.slice(1).map(({ start }) => start)).toEqual(path.slice(0, -1).map(({ end }) => end));
  });

  it('no farther round than a quarter turn', () => {
    const { path, before, edge } = carriedOn(round(10, 0, 1), 180, 5);
    expect(pathLength(path.slice(before + edge))).toBeCloseTo((10 * Math.PI) / 2, 3);
    expect(pathLength(path.slice(0, before))).toBeCloseTo((10 * Math.PI) / 2, 3);
  });

  it('as it bends over its last stretch, not as a last half millimetre does', () => {
    const arc = round(100, 0, 0.8);
    const from = pathEnd(arc);
    const direction = endTangent(arc);
    // A hook of radius 1 mm that turns by half a radian.
    const hook = round(1, 0, 0.5);
    const turned = Math.atan2(direction.y, direction.x) - Math.PI / 2;
    const moved = (p: { x: number; y: number }) => ({
      x: from.x + Math.cos(turned) * (p.x - 1) - Math.sin(turned) * p.y,
      y: from.y + Math.sin(turned) * (p.x - 1) + Math.cos(turned) * p.y,
    });
    const hooked: Path = [
      ...arc,
      ...hook.map((s) =>
        s.kind === 'line'
          ? line(moved(s.start), moved(s.end))
          : {
              ...s,
              start: moved(s.start),
              control1: moved(s.control1),
              control2: moved(s.control2),
              end: moved(s.end),
            },
      ),
    ];
    const carried = carriedOn(hooked, 15, 15);
    const put = carried.path.slice(carried.before + carried.edge);
    // By the hook's own bend it would turn as far as is allowed; over 15 mm the edge turns by 0.5 + 14.5 / 100.
    expect(angleBetween(endTangent(hooked), endTangent(put))).toBeCloseTo(0.645, 2);
    const other = carriedOn(reversePath(hooked), 15, 15);
    expect(pathStart(other.path).x).toBeCloseTo(pathEnd(put).x, 6);
  });
});
