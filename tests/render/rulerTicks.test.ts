import { describe, expect, it } from 'vitest';
import { numberedStep, rulerTicks } from '../../src/render/rulerTicks';

const numbers = (unit: 'cm' | 'mm' | 'in', zoom: number, from: number, to: number) =>
  rulerTicks(unit, zoom, from, to)
    .filter((tick) => tick.label !== null)
    .map((tick) => [tick.at, tick.label]);

describe('true-scale rulers', () => {
  it('counts centimetres, with millimetre strokes once there is room', () => {
    expect(numbers('cm', 6, 0, 30)).toEqual([
      [0, '0'],
      [10, '1'],
      [20, '2'],
      [30, '3'],
    ]);
    expect(rulerTicks('cm', 6, 0, 10)).toHaveLength(11);
    expect(numbers('mm', 6, 0, 20).map(([, label]) => label)).toEqual(['0', '10', '20']);
  });

  it('counts inches with strokes at halves, quarters, eighths and sixteenths', () => {
    const ticks = rulerTicks('in', 3.5, 0, 25.4);
    expect(ticks).toHaveLength(17);
    expect(ticks.filter((tick) => tick.level === 0)).toHaveLength(2);
    expect(ticks.find((tick) => Math.abs(tick.at - 12.7) < 1e-9)!.level).toBe(1);
    expect(ticks.find((tick) => Math.abs(tick.at - 6.35) < 1e-9)!.level).toBe(2);
    expect(ticks.find((tick) => Math.abs(tick.at - 25.4 / 8) < 1e-9)!.level).toBe(3);
  });

  it('writes fractions of an inch as fractions, also left of zero', () => {
    expect(numbers('in', 10, -13, 13).map(([, label]) => label)).toEqual(['-½', '-¼', '0', '¼', '½']);
  });

  it.each(['cm', 'mm', 'in'] as const)('%s: strokes never crowd, numbers never collide, at any zoom', (unit) => {
    for (let zoom = 0.05; zoom < 60; zoom *= 1.17) {
      const ticks = rulerTicks(unit, zoom, -300, 300);
      for (let index = 1; index < ticks.length; index++) {
        expect((ticks[index]!.at - ticks[index - 1]!.at) * zoom).toBeGreaterThan(4.99);
      }
      const named = ticks.filter((tick) => tick.label !== null);
      for (let index = 1; index < named.length; index++) {
        expect((named[index]!.at - named[index - 1]!.at) * zoom).toBeGreaterThan(49.9);
      }
      expect(numberedStep(unit, zoom)).toBeGreaterThan(0);
    }
  });
});
