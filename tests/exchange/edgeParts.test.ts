import { describe, expect, it } from 'vitest';
import { edgeParts } from '../../src/exchange/edgeParts';
import { pathEnd, pathLength, pathStart } from '../../src/geometry/path';
import { point } from '../../src/geometry/point';
import { line, type Path } from '../../src/geometry/segment';
import { succeeded } from './svgFixture';

const corners = [point(0, 0), point(0, 300), point(200, 300), point(200, 0)];
const outline: Path = corners.map((p, i) => line(p, corners[(i + 1) % 4]!));

describe('parts of an outline between its corners', () => {
  it('part i runs from corner i to the next, whole segments and halves of them', () => {
    const parts = succeeded(
      edgeParts(outline, [
        { segment: 0, t: 0.5 },
        { segment: 1, t: 0 },
        { segment: 3, t: 0.25 },
      ]),
    );
    expect(parts.map((part) => pathLength(part))).toEqual([150, 500 + 50, 150 + 150]);
    parts.forEach((part, i) => {
      expect(pathEnd(part)).toBe(pathStart(parts[(i + 1) % 3]!));
    });
  });

  it('a last corner within a hundredth of a mm of where the outline begins is that point', () => {
    for (const away of [0, 1e-6, 0.009]) {
      const last = { segment: 3, t: 1 - away / 200 };
      const parts = succeeded(edgeParts(outline, [{ segment: 1, t: 0 }, { segment: 2, t: 0 }, last]));
      expect(parts.map((part) => pathLength(part))).toEqual([200, 500, 300]);
      expect(pathStart(parts[2]!)).toEqual(point(0, 0));
    }
  });

  it('corners may begin anywhere round the outline', () => {
    const places = [2, 3, 0, 1].map((segment) => ({ segment, t: 0 }));
    expect(succeeded(edgeParts(outline, places)).map((part) => pathStart(part))).toEqual([
      corners[2],
      corners[3],
      corners[0],
      corners[1],
    ]);
  });

  it.each([
    ['two on one spot', [0, 1, 1], 'corners-out-of-order'],
    ['the beginning twice, once from either side', [0, 1, 4], 'corners-out-of-order'],
    ['out of order', [0, 2, 1, 3], 'corners-out-of-order'],
    ['against the outline', [3, 2, 1, 0], 'corners-out-of-order'],
    ['beyond the outline', [0, 1, 5], 'corner-off-outline'],
    ['only one', [0], 'too-few-corners'],
  ])('refuses corners %s', (_, at, code) => {
    // 4 stands for the end of the last segment.
    const places = at.map((segment) => (segment === 4 ? { segment: 3, t: 1 } : { segment, t: 0 }));
    expect(edgeParts(outline, places)).toMatchObject({ ok: false, code });
  });
});
