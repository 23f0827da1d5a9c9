import { pathLength, pathPointAt } from '../../src/geometry/path';
import type { Point } from '../../src/geometry/point';
import { cubic, line, type Path } from '../../src/geometry/segment';
import { seeded } from './svgMutate';

const p = (x: number, y: number): Point => ({ x, y });

/** A sleeveless bodice front of our own, mm, centre at the left: the truth behind the traced fixtures. */
export const bodiceFront: Path = [
  cubic(p(50, 650), p(140, 650), p(230, 644), p(310, 642)),
  line(p(310, 642), p(300, 242)),
  cubic(p(300, 242), p(260, 242), p(230, 190), p(226, 145)),
  cubic(p(226, 145), p(222.8, 109), p(230, 79), p(240, 49)),
  line(p(240, 49), p(125, 9)),
  cubic(p(125, 9), p(120, 59), p(90, 94), p(50, 94)),
  line(p(50, 94), p(50, 650)),
];

/** Its six corners, in order from the lower end of the centre front. */
export const bodiceCorners: readonly Point[] = [p(50, 650), p(310, 642), p(300, 242), p(240, 49), p(125, 9), p(50, 94)];

/**
 * Points at equal steps round a closed path, none of them at its start, each off by up to `rough` mm in x and y.
 * What a tracing program leaves of it.
 */
export function trace(path: Path, count: number, rough = 0, seed = 1): Point[] {
  const random = seeded(seed);
  const step = pathLength(path) / count;
  return Array.from({ length: count }, (_, i) => {
    const { point } = pathPointAt(path, (i + 0.37) * step);
    return p(point.x + rough * (2 * random() - 1), point.y + rough * (2 * random() - 1));
  });
}

export function polygon(points: readonly Point[]): Path {
  return points.map((from, i) => line(from, points[(i + 1) % points.length]!));
}

/** The text of tests/fixtures/svg/traced-800.svg: places written to a hundredth of a mm, as tracing programs do. */
export function tracedDrawing(): string {
  const points = trace(bodiceFront, 800).map(({ x, y }) => `${x.toFixed(2)},${y.toFixed(2)}`);
  const rows = Array.from({ length: 80 }, (_, i) => points.slice(10 * i, 10 * i + 10).join(' '));
  return `<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="700mm" viewBox="0 0 400 700">
  <g id="Top">
    <polygon fill="none" stroke="black" points="
${rows.join('\n')}"/>
    <text x="130" y="400" font-size="20">Top front</text>
  </g>
</svg>
`;
}
