import { describe, expect, it } from 'vitest';
import { line } from '../../src/geometry/segment';
import { fan } from '../../src/operations/fan';
import { placePanels } from '../../src/operations/linkage/place';
import type { Cut, CutOpening, SpreadPlan } from '../../src/operations/linkage/plan';
import { openCuts } from '../../src/operations/linkage/spread';
import type { Dart, Piece } from '../../src/pattern/piece';
import type { FanStep } from '../../src/pattern/recipe';
import { loadCase } from '../support/caseFile';
import { rectangle, slashAt } from '../support/rectangle';

const [W, L] = [300, 500];
const chord = (width: number): CutOpening => ({ kind: 'chord', width });

function plan(cuts: readonly Cut[], more: Partial<SpreadPlan> = {}): SpreadPlan {
  return { hem: 'hem', fixed: { x: 1, y: -1 }, cuts, sideTurns: [], ...more };
}

function refusal(cuts: readonly Cut[], more: Partial<SpreadPlan> = {}, piece: Piece = rectangle(W, L)): string {
  const result = openCuts(piece, plan(cuts, more));
  if (result.ok) return 'accepted';
  expect(result.sentence).toMatch(/^[A-Z].*\.$/);
  return result.code;
}

function drawn(id: string, points: readonly [number, number][], more: Partial<Cut> = {}): Cut {
  const corners = points.map(([x, y]) => ({ x, y }));
  return {
    ...slashAt(0, chord(20)),
    id,
    name: `line ${id}`,
    course: { kind: 'path', path: corners.slice(1).map((end, i) => line(corners[i]!, end)) },
    ...more,
  };
}

describe('R14 openCuts refuses', () => {
  const slash = slashAt(140, chord(30));

  it('edges the piece does not have: unknown-edge', () => {
    expect(refusal([{ ...slash, from: 'cuff' }])).toBe('unknown-edge');
    expect(refusal([{ ...slash, to: { kind: 'edge', edge: 'cuff' } }])).toBe('unknown-edge');
    expect(refusal([slash], { hem: 'cuff' })).toBe('unknown-edge');
  });

  it('a line that misses its edge, grazes it or meets another first: cut-misses-edge', () => {
    expect(refusal([slashAt(400, chord(30))])).toBe('cut-misses-edge');
    expect(refusal([slashAt(140, chord(30), { kind: 'edge', edge: 'side' })])).toBe('cut-misses-edge');
    expect(
      refusal([
        drawn('d', [
          [140, 0],
          [140, -300],
        ]),
      ]),
    ).toBe('cut-misses-edge');
    expect(refusal([{ ...slash, course: { kind: 'path', path: [] } }])).toBe('cut-misses-edge');
  });

  it('cuts across each other: cuts-cross', () => {
    const leaning = {
      ...slashAt(100, chord(20)),
      course: { kind: 'line', through: { x: 100, y: 0 }, direction: { x: 0.2, y: -1 } },
    } as const;
    expect(refusal([slash, leaning])).toBe('cuts-cross');
    expect(
      refusal([
        slash,
        drawn('d', [
          [100, 0],
          [180, -200],
          [100, -500],
        ]),
      ]),
    ).toBe('cuts-cross');
  });

  it('a slash that ends on a line nobody cut, and offers what can be done: slash-ends-on-uncut-line', () => {
    const result = openCuts(rectangle(W, L), plan([slashAt(140, chord(30), { kind: 'cut', cut: 'fullness' })]));
    expect(result.ok ? 'accepted' : result.code).toBe('slash-ends-on-uncut-line');
    const sentence = result.ok ? '' : result.sentence;
    for (const way of ['Cut that line too', 'through to the far edge', 'godet', 'fold out an equal dart']) {
      expect(sentence).toContain(way);
    }
  });

  it("an open end on another line's hinge: cuts-meet-at-hinge; a shared hinge or open end is fine", () => {
    const left = drawn('a', [
      [80, 0],
      [140, -500],
    ]);
    const fromHinge = drawn(
      'b',
      [
        [140, -500],
        [220, 0],
      ],
      { from: 'top', to: { kind: 'edge', edge: 'hem' } },
    );
    expect(refusal([left, fromHinge])).toBe('cuts-meet-at-hinge');
    expect(
      refusal([
        left,
        drawn('b', [
          [220, 0],
          [140, -500],
        ]),
      ]),
    ).toBe('accepted');
    expect(
      refusal([
        left,
        drawn('b', [
          [80, 0],
          [260, -500],
        ]),
      ]),
    ).toBe('accepted');
  });

  it('the same id twice: cut-repeated', () => {
    expect(refusal([slash, { ...slashAt(200, chord(10)), id: slash.id }])).toBe('cut-repeated');
  });

  it('a strip with no width: strip-too-thin', () => {
    expect(refusal([slash, slashAt(140 + 1e-6, chord(10))])).toBe('strip-too-thin');
  });

  it('a hinge off its line, or part-way with cloth beyond it', () => {
    expect(refusal([{ ...slash, hinge: { x: 150, y: -200 } }])).toBe('hinge-off-cut');
    expect(refusal([{ ...slash, hinge: { x: 140, y: 0 } }])).toBe('hinge-off-cut');
    expect(refusal([{ ...slash, hinge: { x: 140, y: -200 } }])).toBe('hinge-inside-cut');
    expect(refusal([{ ...slash, hinge: { x: 140, y: -200 }, opening: { kind: 'unequal', far: 5, near: 9 } }])).toBe(
      'hinge-inside-cut',
    );
    expect(refusal([{ ...slash, hinge: { x: 140, y: -200 }, opening: chord(0) }])).toBe('accepted');
  });

  it('openings that cannot be: too wide, mixed, not a number, turning too far', () => {
    expect(refusal([slashAt(140, chord(2 * L + 1))])).toBe('opening-too-wide');
    expect(refusal([slashAt(140, { kind: 'arc', length: L * 3.2 })])).toBe('opening-too-wide');
    expect(refusal([slashAt(140, { kind: 'unequal', far: 0.5, near: 2 * L + 1 })])).toBe('opening-too-wide');
    expect(refusal([slashAt(140, { kind: 'unequal', far: -5, near: 20 })])).toBe('opening-mixed');
    expect(refusal([slashAt(140, chord(Number.NaN))])).toBe('opening-not-a-number');
    expect(refusal([slashAt(140, { kind: 'angle', angle: Number.POSITIVE_INFINITY })])).toBe('opening-not-a-number');
    expect(refusal([100, 200].map((x) => slashAt(x, { kind: 'angle', angle: 1.6 })))).toBe('turn-too-far');
    // Spread to both sides of a fixed middle, no strip turns by half a circle, but the piece does.
    expect(
      refusal(
        [100, 200].map((x) => slashAt(x, { kind: 'angle', angle: 1.6 })),
        { fixed: { x: 150, y: -1 } },
      ),
    ).toBe('turn-too-far');
  });

  it('an outline that would run into itself: outline-crosses-itself', () => {
    // A tall narrow part beside a low wide one: swung far enough, the wide part's top hits the tall part.
    const corners = [
      [0, 0],
      [350, 0],
      [350, -200],
      [100, -200],
      [100, -500],
      [0, -500],
    ] as const;
    const at = (i: number) => ({ x: corners[i % 6]![0], y: corners[i % 6]![1] });
    const edge = (id: string, i: number) => ({ id, name: id, role: 'other' as const, path: [line(at(i), at(i + 1))] });
    const piece: Piece = {
      ...rectangle(W, L),
      edges: ['hem', 'side', 'top', 'inner', 'upper', 'centre'].map((id, i) => edge(id, i)),
    };
    expect(refusal([slashAt(200, { kind: 'angle', angle: 1.5 })], {}, piece)).toBe('accepted');
    expect(refusal([slashAt(200, { kind: 'angle', angle: 2.6 })], {}, piece)).toBe('outline-crosses-itself');
  });

  it('overlaps that swallow a strip: overlap-too-deep; that share an open end: overlap-shared-end', () => {
    expect(refusal([140, 145].map((x) => slashAt(x, chord(-40))))).toBe('overlap-too-deep');
    expect(
      refusal([
        drawn(
          'a',
          [
            [140, 0],
            [120, -500],
          ],
          { opening: chord(-10) },
        ),
        drawn(
          'b',
          [
            [140, 0],
            [160, -500],
          ],
          { opening: chord(-10) },
        ),
      ]),
    ).toBe('overlap-shared-end');
  });

  it('a drawn slash that turns back on itself, so that its sides would lie over each other: banks-overlap', () => {
    const hook = (x: number): Cut =>
      drawn('h', [
        [140, 0],
        [140, -100],
        [x, -60],
        [x, -L],
      ]);
    expect(refusal([hook(180)])).toBe('banks-overlap');
    expect(refusal([{ ...hook(180), opening: chord(0) }])).toBe('accepted');
    expect(
      refusal([
        drawn('h', [
          [140, 0],
          [150, -100],
          [145, -300],
          [140, -L],
        ]),
      ]),
    ).toBe('accepted');
  });

  it('a fixed point outside the piece: fixed-point-outside', () => {
    expect(refusal([slash], { fixed: { x: -10, y: 0 } })).toBe('fixed-point-outside');
  });

  it('side turns off the hem, inward, or with a misplaced hinge', () => {
    const turn = (edge: string, x: number, y: number, width = 20) => ({
      sideTurns: [{ edge, hinge: { x, y }, opening: { kind: 'chord' as const, width } }],
    });
    expect(refusal([], turn('side', W, -300))).toBe('accepted');
    expect(refusal([], turn('cuff', W, -300))).toBe('unknown-edge');
    expect(refusal([], turn('top', 100, -L))).toBe('side-turn-not-at-hem');
    expect(refusal([], turn('side', 200, -300))).toBe('hinge-off-edge');
    expect(refusal([], turn('side', W, 0))).toBe('hinge-at-hem');
    expect(refusal([], turn('side', W, -300, -20))).toBe('side-turn-out-of-range');
    expect(refusal([], turn('side', W, -300, 700))).toBe('side-turn-out-of-range');
  });

  it('a centre strip that does not hang on the fullness line, and a corner out of reach', () => {
    const { piece, plan: bodice } = loadCase('O05');
    const [fullness, ...slashes] = bodice.cuts;
    const changed = (opening: object): SpreadPlan => ({
      ...bodice,
      cuts: [{ ...fullness!, opening: { ...fullness!.opening, ...opening } as CutOpening }, ...slashes],
    });
    const code = (one: SpreadPlan) => {
      const result = openCuts(piece, one);
      return result.ok ? 'accepted' : result.code;
    };
    expect(code(changed({ panel: { x: 100, y: -500 } }))).toBe('centre-strip-not-carried');
    expect(code(changed({ line: { through: { x: -900, y: 0 }, direction: { x: 0, y: 1 } } }))).toBe(
      'corner-out-of-reach',
    );
    expect(code(changed({ panel: { x: -100, y: 0 } }))).toBe('fixed-point-outside');
  });
});

describe('the corner rule on strips that are wide and short', () => {
  const step = (downSide: number): FanStep => ({
    kind: 'fan',
    centre: 'centre',
    hem: 'hem',
    side: 'side',
    fullness: { downSide, tilt: 0 },
    slashes: [{ id: 's1', across: 0.8, tilt: 0, opening: { measure: 'chord', hem: 20, far: 0 } }],
    centreRule: 'corner',
    sideTurn: 0,
  });

  it('is refused when it would lift them into the part above: corner-lifts-strips', () => {
    const codes = [200, 460].map((downSide) => {
      const result = fan(rectangle(W, L), step(downSide));
      return result.ok ? 'accepted' : result.code;
    });
    expect(codes).toEqual(['accepted', 'corner-lifts-strips']);
  });
});

describe('darts', () => {
  const dart: Dart = {
    id: 'dart',
    edge: 'top',
    apex: { x: 140, y: -380 },
    legs: [
      { x: 155, y: -L },
      { x: 125, y: -L },
    ],
  };
  const piece: Piece = { ...rectangle(W, L), darts: [dart] };

  it('a cut across an open dart is refused, through its tip it is not: cut-crosses-dart', () => {
    const across = { ...slashAt(0, chord(10)), from: 'side', to: { kind: 'edge', edge: 'centre' } as const };
    const level = (y: number): Cut => ({
      ...across,
      course: { kind: 'line', through: { x: W, y }, direction: { x: -1, y: 0 } },
    });
    expect(refusal([level(-450)], {}, piece)).toBe('cut-crosses-dart');
    expect(refusal([slashAt(145, chord(10))], {}, piece)).toBe('cut-crosses-dart');
    expect(refusal([level(-380)], {}, piece)).toBe('accepted');
    expect(refusal([slashAt(140, chord(10))], {}, piece)).toBe('accepted');
    expect(refusal([level(-300)], {}, piece)).toBe('accepted');
  });

  const closing = (
    fraction: number,
    tip: readonly [number, number] = [140, -380],
    drop: Cut['drop'] = { x: 140, y: -495 },
  ): Cut[] => [
    drawn('s', [[140, 0], [...tip], [125, -L]], {
      hinge: { x: tip[0], y: tip[1] },
      opening: { kind: 'dart', legs: [dart.legs[0], dart.legs[1]], fraction },
    }),
    drawn('w', [[155, -L], [...tip]], { from: 'top', to: { kind: 'cut', cut: 's' }, drop, opening: { kind: 'none' } }),
  ];

  it('a slash that misses the tip cannot close the dart: slash-misses-apex', () => {
    expect(refusal(closing(1, [140, -370]), {}, piece)).toBe('slash-misses-apex');
  });

  it('a dart closes by 0 to all of it: dart-fraction', () => {
    expect(refusal(closing(1.2), {}, piece)).toBe('dart-fraction');
    expect(refusal(closing(-0.1), {}, piece)).toBe('dart-fraction');
    expect(refusal(closing(1), {}, piece)).toBe('accepted');
  });

  it('a part to take away that is not there, or that holds the rest: drop-outside, panels-come-apart', () => {
    expect(refusal(closing(1, [140, -380], { x: 140, y: 40 }), {}, piece)).toBe('drop-outside');
    expect(refusal([slashAt(100, chord(5)), { ...slashAt(200, chord(5)), drop: { x: 150, y: -100 } }])).toBe(
      'panels-come-apart',
    );
  });

  it('closing more than all of it: dart-overclosed', () => {
    const [slash, wedge] = closing(1);
    const second = drawn(
      't',
      [
        [240, 0],
        [140, -380],
      ],
      {
        to: { kind: 'cut', cut: 's' },
        opening: { kind: 'angle', angle: 0.1 },
      },
    );
    expect(refusal([slash!, wedge!, second], {}, piece)).toBe('dart-overclosed');
  });
});

describe('a linkage must be a tree', () => {
  const hinge = { kind: 'turn', pivot: { x: 0, y: 0 }, angle: 0.1, overlaps: false } as const;
  const joint = (left: number, right: number) => ({ left, right, parting: hinge, tear: null });
  const code = (panels: number, joints: ReturnType<typeof joint>[]) => {
    const result = placePanels(new Array(panels).fill(true), joints, 0);
    return result.ok ? 'accepted' : result.code;
  };

  it('rings are refused: linkage-loop', () => {
    expect(code(3, [joint(0, 1), joint(1, 2)])).toBe('accepted');
    expect(code(3, [joint(0, 1), joint(1, 2), joint(2, 0)])).toBe('linkage-loop');
    expect(code(2, [joint(0, 1), joint(0, 1)])).toBe('linkage-loop');
    expect(code(2, [joint(0, 1), joint(1, 1)])).toBe('linkage-loop');
  });

  it('loose panels are refused: panels-come-apart', () => {
    expect(code(3, [joint(0, 1)])).toBe('panels-come-apart');
  });
});
