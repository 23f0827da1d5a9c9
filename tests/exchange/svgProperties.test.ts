import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Affine, affine, chain, mapPath, mapPoint } from '../../src/exchange/drawing/affine';
import { joinLoosePaths } from '../../src/exchange/drawing/joinLoosePaths';
import { readPathData } from '../../src/exchange/svg/pathData';
import { readSvg } from '../../src/exchange/svg/readSvg';
import { readTransform } from '../../src/exchange/svg/transforms';
import { enclosedArea } from '../../src/geometry/area';
import { pathLength } from '../../src/geometry/path';
import { distance, type Point } from '../../src/geometry/point';
import { cubic, line, type Path, type Segment } from '../../src/geometry/segment';
import { pathsIn, sheet } from './svgFixture';
import { bodiceFront } from './svgTrace';

const runs = { numRuns: 2000 };
// Adding 0 turns -0, which no writer of numbers keeps, into 0.
const coordinate = fc.double({ min: -2000, max: 2000, noNaN: true }).map((n) => n + 0);
const point: fc.Arbitrary<Point> = fc.record({ x: coordinate, y: coordinate });

/** Paths of one to eight lines and cubics, every one with some extent. */
const path: fc.Arbitrary<Path> = fc
  .tuple(point, fc.array(fc.oneof(fc.tuple(point), fc.tuple(point, point, point)), { minLength: 1, maxLength: 8 }))
  .map(([start, steps]) => {
    let here = start;
    const made: Segment[] = [];
    for (const step of steps) {
      const end = step.at(-1)!;
      made.push(step.length === 1 ? line(here, end) : cubic(here, step[0], step[1]!, end));
      here = end;
    }
    return made;
  })
  .filter(
    (made) =>
      made.every(({ start, end }) => distance(start, end) > 1e-3) && distance(made[0]!.start, made.at(-1)!.end) > 0.1,
  );

const pair = ({ x, y }: Point) => `${x},${y}`;

/** Path data with absolute commands, every number in full. */
function written(made: Path): string {
  const commands = made.map((segment) =>
    segment.kind === 'line'
      ? `L${pair(segment.end)}`
      : `C${pair(segment.control1)} ${pair(segment.control2)} ${pair(segment.end)}`,
  );
  return `M${pair(made[0]!.start)}${commands.join('')}`;
}

/** The same with relative commands, and the differences as they are: rounded once. */
function writtenRelative(made: Path): string {
  const off = (to: Point, from: Point) => `${to.x - from.x} ${to.y - from.y}`;
  const commands = made.map((segment) =>
    segment.kind === 'line'
      ? `l${off(segment.end, segment.start)}`
      : `c${off(segment.control1, segment.start)} ${off(segment.control2, segment.start)} ${off(segment.end, segment.start)}`,
  );
  return `m${pair(made[0]!.start)}${commands.join('')}`;
}

function pointsOf(made: Path): Point[] {
  return made.flatMap((segment) =>
    segment.kind === 'line'
      ? [segment.start, segment.end]
      : [segment.start, segment.control1, segment.control2, segment.end],
  );
}

function farthest(a: Path, b: Path): number {
  const [ours, theirs] = [pointsOf(a), pointsOf(b)];
  expect(ours).toHaveLength(theirs.length);
  return Math.max(...ours.map((p, i) => distance(p, theirs[i]!)));
}

const step = fc.oneof(
  fc.tuple(coordinate, coordinate).map(([x, y]) => `translate(${x} ${y})`),
  fc
    .tuple(fc.double({ min: 0.1, max: 4, noNaN: true }), fc.double({ min: -4, max: -0.1, noNaN: true }))
    .map(([x, y]) => `scale(${x},${y})`),
  fc.double({ min: -400, max: 400, noNaN: true }).map((angle) => `rotate(${angle})`),
  fc.tuple(fc.integer({ min: -4, max: 8 }), coordinate, coordinate).map(([n, x, y]) => `rotate(${90 * n},${x},${y})`),
  fc.double({ min: -60, max: 60, noNaN: true }).map((angle) => `skewX( ${angle} )`),
  fc.double({ min: -60, max: 60, noNaN: true }).map((angle) => `skewY(${angle})`),
  fc.tuple(fc.double({ min: 0.5, max: 2, noNaN: true }), coordinate).map(([a, e]) => `matrix(${a} 0.25 -0.5 1 ${e} 3)`),
);

describe('properties', () => {
  it('a path written as SVG is read back to the last digit', () => {
    fc.assert(
      fc.property(path, (made) => {
        expect(pathsIn(`<path fill="none" stroke="black" d="${written(made)}"/>`)).toEqual([made]);
      }),
      runs,
    );
  });

  it('written with relative commands it is read back to rounding', () => {
    fc.assert(
      fc.property(path, (made) => {
        const [read] = pathsIn(`<path d="${writtenRelative(made)}"/>`);
        expect(farthest(read!, made)).toBeLessThan(1e-10);
      }),
      runs,
    );
  });

  it('transforms written one after the other, nested in groups, or applied by hand agree', () => {
    fc.assert(
      fc.property(path, fc.array(step, { minLength: 1, maxLength: 5 }), (made, steps) => {
        const d = written(made);
        const listed = readSvg(sheet(`<path transform="${steps.join(' ')}" d="${d}"/>`));
        const nested = readSvg(
          sheet(`${steps.map((t) => `<g transform="${t}">`).join('')}<path d="${d}"/>${'</g>'.repeat(steps.length)}`),
        );
        const copied = readSvg(
          sheet(
            `<defs><path id="p" d="${d}"/></defs><g transform="${steps[0]}"><use href="#p" transform="${steps.slice(1).join(',')}"/></g>`,
          ),
        );
        if (!listed.ok || !nested.ok || !copied.ok) throw new Error('not read');
        const expected = steps.reduceRight((inner, text) => mapPath(byHand(text), inner), made);
        const size = Math.max(1, ...pointsOf(expected).map(({ x, y }) => Math.hypot(x, y)));
        for (const { value } of [listed, nested, copied]) {
          expect(farthest(value.shapes[0]!.path, expected)).toBeLessThan(1e-9 * size);
        }
      }),
      runs,
    );
  });

  it('maps chain: doing two after each other is doing their chain', () => {
    const map = fc
      .tuple(coordinate, coordinate, coordinate, coordinate, coordinate, coordinate)
      .map((n) => affine(...n));
    fc.assert(
      fc.property(map, map, map, point, (a, b, c, p) => {
        const size = 1 + 2000 ** 4;
        expect(distance(mapPoint(chain(a, b), p), mapPoint(a, mapPoint(b, p)))).toBeLessThan(1e-9 * size);
        const left = mapPoint(chain(chain(a, b), c), p);
        expect(distance(left, mapPoint(chain(a, chain(b, c)), p))).toBeLessThan(1e-9 * size * 2000);
      }),
      runs,
    );
  });

  it('path data never throws, and reading it again from where it was understood gives the same', () => {
    const fragment = fc.constantFrom(...'MmLlHhVvCcSsQqTtAaZz0123456789.,-+eE \n#x'.split(''));
    fc.assert(
      fc.property(fc.array(fragment, { maxLength: 60 }), (letters) => {
        const d = `M0 0${letters.join('')}`;
        const reading = readPathData(d, 1000);
        for (const { segments } of reading.subPaths) {
          segments.forEach(({ start, end }, i) => {
            if (i > 0) expect(start).toBe(segments[i - 1]!.end);
            expect([start.x, start.y, end.x, end.y].every(Number.isFinite)).toBe(true);
          });
        }
        if (reading.stoppedAt !== null) {
          expect(reading.stoppedAt).toBeLessThanOrEqual(d.length);
          const again = readPathData(d.slice(0, reading.stoppedAt), 1000);
          expect(again.subPaths).toEqual(reading.subPaths);
        }
      }),
      runs,
    );
  });

  it('an outline cut into loose lines with gaps below the tolerance is one outline again, length and area kept', () => {
    const slip = fc.double({ min: -0.15, max: 0.15, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(slip, slip), { minLength: 7, maxLength: 7 }),
        fc.array(fc.boolean(), { minLength: 7, maxLength: 7 }),
        (slips, turned) => {
          const loose = bodiceFront.map((segment, i) => {
            const start = { x: segment.start.x + slips[i]![0], y: segment.start.y + slips[i]![1] };
            const moved: Segment = { ...segment, start };
            const path: Path = turned[i] ? [{ ...reversed(moved) }] : [moved];
            return { id: `line-${i}`, path, closed: false };
          });
          const { outlines } = joinLoosePaths(loose);
          expect(outlines).toHaveLength(1);
          expect(outlines[0]!.closed).toBe(true);
          // Every end moves by at most half of its gap of 0.21 mm, and both ends of seven lines move.
          expect(Math.abs(pathLength(outlines[0]!.path) - pathLength(bodiceFront))).toBeLessThan(14 * 0.22);
          expect(Math.abs(enclosedArea(outlines[0]!.path) - enclosedArea(bodiceFront))).toBeLessThan(
            0.22 * pathLength(bodiceFront),
          );
        },
      ),
      runs,
    );
  });
});

function reversed(segment: Segment): Segment {
  return segment.kind === 'line'
    ? line(segment.end, segment.start)
    : cubic(segment.end, segment.control2, segment.control1, segment.start);
}

/** The map of one transform function, written out from the definitions of SVG 1.1, section 7.6, and not by our reader. */
function byHand(text: string): Affine {
  const [, name, inside] = /^(\w+)\((.*)\)$/.exec(text)!;
  const n = inside!
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  const angle = (n[0]! * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  if (name === 'matrix') return affine(n[0]!, n[1]!, n[2]!, n[3]!, n[4]!, n[5]!);
  if (name === 'translate') return affine(1, 0, 0, 1, n[0]!, n[1]!);
  if (name === 'scale') return affine(n[0]!, 0, 0, n[1]!, 0, 0);
  if (name === 'skewX') return affine(1, 0, Math.tan(angle), 1, 0, 0);
  if (name === 'skewY') return affine(1, Math.tan(angle), 0, 1, 0, 0);
  const [x = 0, y = 0] = n.slice(1);
  return affine(c, s, -s, c, x - c * x + s * y, y - s * x - c * y);
}

describe('the reader of transforms', () => {
  it.each([
    'rotate',
    'rotate()',
    'rotate(1,2)',
    'scale(1,2,3)',
    'matrix(1 2 3 4 5)',
    'translate(a)',
    'Scale(2)',
    'scale(2',
    'scale 2)',
    'scale(1e999)',
    'skewX(1) x',
  ])('cannot read %s', (text) => {
    expect(readTransform(text)).toBeNull();
  });
});
