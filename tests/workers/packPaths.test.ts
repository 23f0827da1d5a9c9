import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cubic, line, type Path } from '../../src/geometry/segment';
import { packPaths, unpackPaths } from '../../src/workers/packPaths';

/** What arrives in another thread, by the platform's own copying. */
const sent = (value: unknown): unknown => unpackPaths(structuredClone(packPaths(value)));

const number = fc.double({ noNaN: true });
const point = fc.record({ x: number, y: number }, { noNullPrototype: true });
const path = fc
  .tuple(point, fc.array(fc.tuple(fc.boolean(), point, point, point), { maxLength: 6 }))
  .map(([first, steps]): Path => {
    let start = first;
    return steps.map(([straight, a, b, end]) => {
      const segment = straight ? line(start, end) : cubic(start, a, b, end);
      start = end;
      return segment;
    });
  });

describe('paths packed as numbers for another thread', () => {
  test('every drawing arrives as it was sent', () => {
    const shape = fc.record({ id: fc.string(), path, layer: fc.option(fc.string()) }, { noNullPrototype: true });
    fc.assert(
      fc.property(fc.record({ shapes: fc.array(shape), origin: point }, { noNullPrototype: true }), (drawing) => {
        expect(sent(drawing)).toEqual(drawing);
      }),
    );
  });

  test('no segment is left among the objects, and lines take as many numbers as curves', () => {
    const path = [
      line({ x: 1, y: 2 }, { x: 3, y: 4 }),
      cubic({ x: 3, y: 4 }, { x: 5, y: 6 }, { x: 7, y: 8 }, { x: 9, y: 10 }),
    ];
    const { rest, numbers } = packPaths({ shapes: [{ path }] });
    expect(rest).toEqual({ shapes: [{ path: null }] });
    expect([...numbers]).toEqual([2, 1, 2, 0, 0, 0, 0, 0, 3, 4, 1, 5, 6, 7, 8, 9, 10]);
  });

  test('what is packed stays as it was, and what is shared stays shared', () => {
    const shape = { path: [line({ x: 0, y: 0 }, { x: 1, y: 0 })] };
    const drawing = { one: shape, other: shape, path: 'a word' };
    const arrived = sent(drawing) as typeof drawing;
    expect(arrived).toEqual(drawing);
    expect(arrived.one).toBe(arrived.other);
    expect(shape.path).toHaveLength(1);
  });

  test('bytes are not looked into, and segments that do not meet are left as they are', () => {
    const path = [line({ x: 0, y: 0 }, { x: 1, y: 0 }), line({ x: 2, y: 0 }, { x: 3, y: 0 })];
    const bytes = new Uint8Array([1, 2, 3]);
    const { rest, numbers } = packPaths({ path, bytes });
    expect(rest).toEqual({ path, bytes });
    expect((rest as { bytes: unknown }).bytes).toBe(bytes);
    expect(numbers.length).toBe(0);
  });
});
