import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cornerSide } from '../../../src/exchange/photo/cornerSide';
import { bridgeDoubtful, runsOf } from '../../../src/exchange/photo/doubtfulRuns';
import { type OutlineFound, proposeOutline } from '../../../src/exchange/photo/proposeOutline';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { distance, type Point } from '../../../src/geometry/point';
import { granted } from '../../support/outcomes';
import { polygon } from '../svgTrace';
import { type FlatShape, flatPicture, flatView } from './flatScene';

const edge = { at: null, kind: 'edge-of-paper', leaveOut: [] } as const;
const kraft = [0.45, 0.3, 0.16] as const;
const slate = [0.1, 0.12, 0.16] as const;
const optics = { blur: 0.8, noise: 0.01 };

const corners: Point[] = [
  { x: 200.3, y: 150.7 },
  { x: 640.2, y: 150.7 },
  { x: 640.2, y: 460.4 },
  { x: 200.3, y: 460.4 },
];
const sheet = polygon(corners.map(({ x, y }) => ({ x: x / 2, y: y / 2 })));

/** The outline proposed for the sheet of kraft paper lying on these shapes, half a mm to the dot. */
function foundOn(under: readonly FlatShape[]): OutlineFound {
  const picture = flatPicture(840, 600, slate, [...under, { loops: [corners], colour: kraft }], optics);
  return granted(proposeOutline(picture, flatView(picture, 0.5), edge));
}

function isDoubtful({ path, doubtful }: OutlineFound, i: number): boolean {
  const n = path.length;
  return doubtful.some(({ from, to }) => (i - from + n) % n <= (to - from + n) % n);
}

const offs = ({ path }: OutlineFound) => path.map(({ start }) => nearestOnPath(sheet, start).distance);

describe('an edge with something beside it', () => {
  it('is doubtful nowhere on a plain table', () => {
    const found = foundOn([]);
    expect(Math.max(...offs(found))).toBeLessThan(0.15);
    expect(found.doubtful).toEqual([]);
  });

  it.each([2, 3, 5])('is the inner side of a ruled line along it, %d dots of which show', (shown) => {
    // The line is nearer to the paper's colour than to the table's; it shows along the upper edge and lies beneath the rest.
    const y = 150.7 - shown;
    const line = [
      { x: 150, y },
      { x: 690, y },
      { x: 690, y: 160 },
      { x: 150, y: 160 },
    ];
    const found = foundOn([{ loops: [line], colour: [0.42, 0.35, 0.26] }]);
    const off = offs(found);
    // Away from the paper's corners, beneath which the line runs off. Its outer side is half of `shown` mm away.
    const along = found.path.flatMap(({ start }, i) =>
      Math.abs(start.y - 75.35) < 5 && start.x > 125 && start.x < 295 ? [i] : [],
    );
    expect(along.length).toBeGreaterThan(150);
    expect(Math.max(...along.map((i) => off[i]!))).toBeLessThan(0.1);
    expect(along.filter((i) => isDoubtful(found, i)).length / along.length).toBeGreaterThan(0.8);
  });
});

describe('runs of flagged places', () => {
  it('hold every flag, lie apart, and go round the end', () => {
    fc.assert(
      fc.property(
        fc.array(fc.boolean(), { minLength: 12, maxLength: 80 }),
        fc.nat(2),
        fc.nat(4),
        (flags, more, apart) => {
          const n = flags.length;
          const runs = runsOf(Uint8Array.from(flags, Number), more, apart);
          const covered = new Uint8Array(n);
          for (const { from, to } of runs) for (let k = 0; k <= (to - from + n) % n; k++) covered[(from + k) % n]!++;
          flags.forEach((flag, i) => {
            if (flag) for (let k = -more; k <= more; k++) expect(covered[(i + k + n) % n]).toBe(1);
          });
          expect(Math.max(...covered)).toBeLessThanOrEqual(1);
          expect(runs.length > 0).toBe(flags.includes(true));
        },
      ),
    );
  });
});

describe('a short stretch that cannot be told', () => {
  const spacing = 0.5;

  /** A closed chain round this shape, its places between `from` and `to` not trusted. */
  function untrusted(at: (s: number) => Point, whole: number, from: number, to: number) {
    const n = Math.round(whole / spacing);
    const places = Array.from({ length: n }, (_, i) => at((i * whole) / n));
    const chain = { xs: Float64Array.from(places, ({ x }) => x), ys: Float64Array.from(places, ({ y }) => y) };
    const inside = (i: number) => (i * whole) / n > from && (i * whole) / n < to;
    return { chain, trust: Float64Array.from(places, (_, i) => (inside(i) ? 0.3 : 1)) };
  }

  it.each([60, 150])('is bridged by the arc of both sides: a circle of %d mm with a bump of 1.2 mm on it', (radius) => {
    const bump = (s: number) => (s > 100 && s < 116 ? 0.6 * (1 - Math.cos((2 * Math.PI * (s - 100)) / 16)) : 0);
    const at = (s: number) => ({
      x: (radius + bump(s)) * Math.cos(s / radius),
      y: -(radius + bump(s)) * Math.sin(s / radius),
    });
    const { chain, trust } = untrusted(at, 2 * Math.PI * radius, 100, 116);
    const bridged = bridgeDoubtful(chain, trust, 3, spacing);
    const off = chain.xs.map((x, i) => Math.abs(Math.hypot(x, chain.ys[i]!) - radius));
    if (radius === 150) {
      expect(bridged).toHaveLength(1);
      expect(Math.max(...off)).toBeLessThan(0.05);
    } else {
      // Over so tight an arc a bump this high could be a corner: it stays, and stays not trusted.
      expect(bridged).toHaveLength(0);
      expect(Math.max(...off)).toBeCloseTo(1.2, 2);
      expect(Math.min(...trust)).toBeLessThan(0.5);
    }
  });

  it('keeps a true corner that lies in it', () => {
    // A rhombus with corners of 150 degrees: a turn of 30.
    const side = 200;
    const turn = Math.PI / 6;
    const ways = [0, turn, Math.PI, Math.PI + turn];
    const joints: Point[] = [{ x: 0, y: 0 }];
    for (const way of ways) {
      const { x, y } = joints.at(-1)!;
      joints.push({ x: x + side * Math.cos(way), y: y - side * Math.sin(way) });
    }
    const at = (s: number) => {
      const k = Math.min(3, Math.floor(s / side));
      const t = (s - k * side) / side;
      return {
        x: joints[k]!.x + t * (joints[k + 1]!.x - joints[k]!.x),
        y: joints[k]!.y + t * (joints[k + 1]!.y - joints[k]!.y),
      };
    };
    const { chain, trust } = untrusted(at, 4 * side, side - 10, side + 10);
    const before = Float64Array.from(chain.ys);
    expect(bridgeDoubtful(chain, trust, 3, spacing)).toHaveLength(0);
    expect(chain.ys).toEqual(before);
  });
});

describe('the edge beside a corner, carried on', () => {
  const ones = new Array<number>(200).fill(1);

  it('goes on a true arc, and a true straight line', () => {
    // A circle of 60 mm: the place 2 mm before the first one lies on it (closed form).
    const arc = Array.from({ length: 100 }, (_, k) => ({
      x: 60 * Math.sin((2 + 0.4 * k) / 60),
      y: 60 - 60 * Math.cos((2 + 0.4 * k) / 60),
    }));
    const side = cornerSide(arc, ones, 6, 0.03)!;
    const u = -2 / Math.hypot(side.slope.x, side.slope.y);
    const tip = {
      x: side.start.x + (side.slope.x + side.bend.x * u) * u,
      y: side.start.y + (side.slope.y + side.bend.y * u) * u,
    };
    expect(Math.abs(distance(tip, { x: 0, y: 60 }) - 60)).toBeLessThan(0.03);

    const straight = Array.from({ length: 100 }, (_, k) => ({ x: 3 + 0.4 * k, y: 7 - 0.3 * k }));
    const line = cornerSide(straight, ones, 6, 0.03)!;
    expect(Math.hypot(line.bend.x, line.bend.y)).toBeLessThan(1e-9);
    expect(Math.abs(4 * line.slope.y + 3 * line.slope.x)).toBeLessThan(1e-9);
  });

  it('is not led astray by a wave of a few mm, and is less sure the farther it is carried', () => {
    const wavy = Array.from({ length: 100 }, (_, k) => ({ x: 2 + 0.4 * k, y: 0.1 * Math.sin(0.4 * k) }));
    const side = cornerSide(wavy, ones, 8, 0.06)!;
    const u = -2;
    expect(Math.abs(side.start.y + (side.slope.y + side.bend.y * u) * u)).toBeLessThan(0.15);
    expect(side.spreadAt(-2)).toBeGreaterThan(side.spreadAt(0));
    expect(side.spreadAt(-5)).toBeGreaterThan(side.spreadAt(-2));
  });
});
