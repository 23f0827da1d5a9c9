import fc from 'fast-check';
import { pathLength } from '../../src/geometry/path';
import type { CentreRule, FanStep, Opening, SlashLine } from '../../src/pattern/recipe';
import type { PieceDraft } from './arbitraries';

function real(min: number, max: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 2 ** 30 }).map((k) => min + (max - min) * (k / 2 ** 30));
}

export interface FanChoices {
  /** Openings may overlap (negative). */
  readonly overlaps?: boolean;
  /** Every opening is 0. */
  readonly closed?: boolean;
  /** true always, false never, otherwise half of the time. */
  readonly fullness?: boolean;
  readonly rules?: readonly CentreRule[];
  /** Both ends of slashes that run through may open, and the side may turn. */
  readonly extras?: boolean;
}

/** Fan steps for a drafted piece: 1 to 8 slashes at uneven places, leaning a little, opened unevenly. */
export function fanSteps(draft: PieceDraft, choices: FanChoices = {}): fc.Arbitrary<FanStep> {
  const { overlaps = false, closed = false, extras = true, rules = ['parallel', 'slide', 'corner'] } = choices;
  const sideLength = pathLength(draft.piece.edges.find(({ id }) => id === draft.side)!.path);
  const through = choices.fullness === undefined ? fc.boolean() : fc.constant(!choices.fullness);
  const low = overlaps ? -30 : 0;
  // Whole millimetres and nothing at all come up often; so do hair-fine openings.
  const width = closed
    ? fc.constant(0)
    : fc.oneof(real(low, 60), fc.integer({ min: low, max: 60 }), fc.constantFrom(0, 1e-6, 1e-3, 0.1));
  const slash = fc.record({
    step: fc.oneof(real(0.3, 2), fc.constant(1)),
    tilt: fc.oneof(fc.constant(0), real(-0.06, 0.06)),
    measure: fc.constantFrom('chord' as const, 'chord' as const, 'arc' as const, 'angle' as const),
    width,
    far: fc.oneof(fc.constant(0), width),
  });
  return fc
    .record({
      through,
      downSide: real(0.05, 0.7),
      lineTilt: fc.oneof(fc.constant(0), real(-0.12, 0.12)),
      slashes: fc.array(slash, { minLength: 1, maxLength: 8 }),
      lastStep: real(0.3, 2),
      centreRule: fc.constantFrom(...rules),
      sideTurn: closed || !extras ? fc.constant(0) : fc.oneof(fc.constant(0), real(0, 40)),
    })
    .map((drawn): FanStep => {
      const total = drawn.slashes.reduce((sum, { step }) => sum + step, drawn.lastStep);
      let at = 0;
      const slashes = drawn.slashes.map(({ step, tilt, measure, width: hem, far }, k): SlashLine => {
        at += step;
        const opening: Opening =
          measure === 'angle'
            ? { measure, angle: hem / 400 }
            : measure === 'arc'
              ? { measure, hem }
              : { measure, hem, far: drawn.through && extras && far * hem >= 0 ? far : 0 };
        return { id: `s${k + 1}`, across: at / total, tilt, opening };
      });
      return {
        kind: 'fan',
        centre: draft.centre,
        hem: draft.hem,
        side: draft.side,
        fullness: drawn.through ? null : { downSide: drawn.downSide * sideLength, tilt: drawn.lineTilt },
        slashes,
        centreRule: drawn.centreRule,
        sideTurn: drawn.through ? drawn.sideTurn : 0,
      };
    });
}
