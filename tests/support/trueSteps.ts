import fc from 'fast-check';
import type { TrueStep } from '../../src/pattern/recipe';

function real(min: number, max: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 2 ** 30 }).map((k) => min + (max - min) * (k / 2 ** 30));
}

/**
 * True steps as a maker might set them, the defaults of every part coming up often. A handle set by hand is between half
 * and one and a half times a third of a hem of `hemWidth` mm to the span.
 */
export function trueSteps(hemWidth: number): fc.Arbitrary<TrueStep> {
  return fc
    .record({
      up: fc.oneof(fc.constant(60), fc.constant(0), real(0, 200)),
      down: fc.oneof(fc.constant(80), fc.constant(0), real(0, 300)),
      fullness: fc.oneof(fc.constant(0.8), real(2 / 3, 1)),
      level: fc.constantFrom('follow-strips' as const, 'follow-strips' as const, 'keep-centre-length' as const),
      corners: fc.constantFrom('square' as const, 'square' as const, 'keep' as const),
      spans: fc.constantFrom(1 as const, 1 as const, 1 as const, 1 as const, 2 as const, 3 as const),
      handle: fc.oneof({ weight: 4, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: real(0.5, 1.5) }),
      drop: fc.oneof({ weight: 2, arbitrary: fc.constant(0) }, { weight: 1, arbitrary: real(-20, 40) }),
      sideDrop: fc.oneof({ weight: 2, arbitrary: fc.constant(0) }, { weight: 1, arbitrary: real(-20, 40) }),
    })
    .map((m) => ({
      kind: 'true',
      side: { up: m.up, down: m.down, fullness: m.fullness },
      hem: {
        level: m.level,
        corners: m.corners,
        spans: m.spans,
        fairness: 3e-7,
        handles: { centre: m.handle && (m.handle * hemWidth) / (3 * m.spans), side: null },
        drop: { centre: m.drop, side: m.sideDrop },
      },
    }));
}
