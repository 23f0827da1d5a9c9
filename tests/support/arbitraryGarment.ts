import fc from 'fast-check';
import { pathLength } from '../../src/geometry/path';
import type { Point } from '../../src/geometry/point';
import { cubic, line, type Path, type Segment } from '../../src/geometry/segment';
import type { BlockPiece, Garment, Version } from '../../src/pattern/garment';
import { type Edge, edgeRoles } from '../../src/pattern/piece';
import {
  type CloseDartStep,
  centreRules,
  type FanStep,
  type FinishStep,
  type Opening,
  type Recipe,
  type TrueStep,
} from '../../src/pattern/recipe';

/** Finite measures of any size that a document may hold; -0 is left out because a file writes it as 0. */
const measure = fc.double({ min: -500, max: 500, noNaN: true }).map((value) => (value === 0 ? 0 : value));
const depth = fc.double({ min: 0, max: 80, noNaN: true });
const label = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 12 }).map((text) => `${text}x`.trim());
const share = fc.double({ min: 0, max: 1, noNaN: true });

const opening: fc.Arbitrary<Opening> = fc.oneof(
  fc.record({ measure: fc.constant('chord' as const), hem: measure, far: measure }),
  fc.record({ measure: fc.constant('arc' as const), hem: measure }),
  fc.record({ measure: fc.constant('angle' as const), angle: measure }),
);

const trueStep: fc.Arbitrary<TrueStep> = fc.record({
  kind: fc.constant('true' as const),
  side: fc.record({ up: depth, down: depth, fullness: share }),
  hem: fc.record({
    level: fc.constantFrom('follow-strips' as const, 'keep-centre-length' as const),
    corners: fc.constantFrom('square' as const, 'keep' as const),
    spans: fc.constantFrom(1 as const, 2 as const, 3 as const),
    fairness: fc.double({ min: 1e-9, max: 1e-3, noNaN: true }),
    handles: fc.record({ centre: fc.option(depth.map((d) => d + 1)), side: fc.option(depth.map((d) => d + 1)) }),
    drop: fc.record({ centre: measure, side: measure }),
  }),
});

function fanStep(block: BlockPiece): fc.Arbitrary<FanStep> {
  const slashes = fc
    .uniqueArray(fc.integer({ min: 1, max: 9999 }), { minLength: 0, maxLength: 5 })
    .chain((places) =>
      fc.tuple(
        ...places
          .sort((a, b) => a - b)
          .map((place) => fc.record({ place: fc.constant(place), tilt: measure, opening })),
      ),
    )
    .map((lines) =>
      lines.map(({ place, tilt, opening }, index) => ({ id: `slash-${index}`, across: place / 10_000, tilt, opening })),
    );
  return fc.record({
    kind: fc.constant('fan' as const),
    centre: fc.constant(block.edges[0]!.id),
    hem: fc.constant(block.edges[1]!.id),
    side: fc.constant(block.edges[2]!.id),
    fullness: fc.option(fc.record({ downSide: measure, tilt: measure })),
    slashes,
    centreRule: fc.constantFrom(...centreRules),
    sideTurn: measure,
  });
}

function closing(block: BlockPiece): fc.Arbitrary<CloseDartStep | null> {
  const [dart] = block.darts;
  if (dart === undefined) return fc.constant(null);
  return fc.record({
    kind: fc.constant('close-dart' as const),
    dart: fc.constant(dart.id),
    centre: fc.constant(block.edges[0]!.id),
    hem: fc.constant(block.edges[1]!.id),
    side: fc.constant(block.edges[2]!.id),
    share: fc.double({ min: 0, max: 1, noNaN: true }),
    foot: fc.option(fc.double({ min: 0.01, max: 0.99, noNaN: true })),
  });
}

function finishStep(block: BlockPiece): fc.Arbitrary<FinishStep> {
  return fc.record({
    kind: fc.constant('finish' as const),
    seam: depth,
    hem: depth,
    byEdge: fc.dictionary(fc.constantFrom(...block.edges.map((edge) => edge.id)), depth, { noNullPrototype: true }),
    mirrorHemEnds: fc.boolean(),
  });
}

function recipe(block: BlockPiece): fc.Arbitrary<Recipe> {
  return fc
    .tuple(fc.option(closing(block)), fc.option(fanStep(block)), fc.option(trueStep), fc.option(finishStep(block)))
    .map((steps) => steps.filter((step) => step !== null));
}

/**
 * A sound piece of random shape. Its corners go round a middle point and every segment stays in the wedge between its
 * two corners, so the outline never crosses itself, whatever the numbers.
 */
export function arbitraryPiece(id: string, locked: boolean): fc.Arbitrary<BlockPiece> {
  const corner = fc.record({
    reach: fc.double({ min: 100, max: 400, noNaN: true }),
    jitter: share,
    curved: fc.boolean(),
    bend: share,
  });
  const shape = fc.record({
    middle: fc.record({ x: measure, y: measure }),
    corners: fc.array(corner, { minLength: 6, maxLength: 9 }),
  });
  return fc
    .record({
      shape,
      name: label,
      names: fc.array(label, { minLength: 9, maxLength: 9 }),
      role: fc.constantFrom(...edgeRoles),
      notches: fc.array(
        fc.record({
          edge: fc.nat({ max: 3 }),
          at: share,
          style: fc.constantFrom('single' as const, 'double' as const),
        }),
        { maxLength: 3 },
      ),
      holes: fc.array(fc.record({ x: share, y: share }), { maxLength: 2 }),
      grain: fc.boolean(),
      dart: fc.boolean(),
      lines: fc.array(fc.record({ name: label, curved: fc.boolean() }), { maxLength: 2 }),
      labelled: fc.boolean(),
      cutCount: fc.integer({ min: 1, max: 4 }),
      size: fc.constantFrom(null, '12', 'M', '38 to 40'),
    })
    .map(({ shape: { middle, corners }, ...marks }): BlockPiece => {
      const path = starOutline(middle, corners);
      // The first four segments are edges of their own, the rest is one longer edge.
      const paths: Path[] = [...path.slice(0, 4).map((segment) => [segment]), path.slice(4)];
      const edges: Edge[] = paths.map((part, index) => ({
        id: `edge-${index}`,
        name: marks.names[index]!,
        role: index === 0 ? 'hem' : marks.role,
        path: part,
      }));
      const straight = edges.find((edge) => edge.path.length === 1 && edge.path[0]!.kind === 'line');
      const near = (x: number, y: number): Point => ({ x: middle.x + (x - 0.5) * 20, y: middle.y + (y - 0.5) * 20 });
      return {
        id,
        name: marks.name,
        locked,
        edges,
        notches: marks.notches.map(({ edge, at, style }, index) => ({
          id: `notch-${index}`,
          edge: `edge-${edge}`,
          distance: at * pathLength(edges[edge]!.path),
          style,
        })),
        grainline: marks.grain ? { start: near(0, 0), end: near(0, 1) } : null,
        fold: straight?.id ?? null,
        drillHoles: marks.holes.map(({ x, y }, index) => ({ id: `hole-${index}`, at: near(x, y) })),
        darts:
          marks.dart && straight
            ? [
                {
                  id: 'dart',
                  edge: straight.id,
                  apex: near(0.5, 0.5),
                  legs: [straight.path[0]!.start, straight.path[0]!.end],
                },
              ]
            : [],
        internalLines: marks.lines.map(({ name, curved }, index) => ({
          id: `line-${index}`,
          name,
          path: curved ? [cubic(near(0, 0), near(1, 0), near(1, 1), near(0, 1))] : [line(near(0, 0), near(1, 1))],
        })),
        labelAt: marks.labelled ? near(0.2, 0.8) : null,
        cutCount: marks.cutCount,
        size: marks.size,
      };
    });
}

function starOutline(
  middle: Point,
  corners: readonly { reach: number; jitter: number; curved: boolean; bend: number }[],
): Segment[] {
  const at = (angle: number, reach: number): Point => ({
    x: middle.x + reach * Math.cos(angle),
    y: middle.y + reach * Math.sin(angle),
  });
  // Falling angles run counter-clockwise on screen, where y points down.
  const angles = corners.map(({ jitter }, index) => (-(index + 0.4 * jitter) * 2 * Math.PI) / corners.length);
  const points = corners.map(({ reach }, index) => at(angles[index]!, reach));
  return corners.map(({ curved, bend }, index) => {
    const start = points[index]!;
    const end = points[(index + 1) % points.length]!;
    if (!curved) return line(start, end);
    const pull = (p: Point): Point => ({
      x: p.x + (middle.x - p.x) * 0.2 * bend,
      y: p.y + (middle.y - p.y) * 0.2 * bend,
    });
    const between = (t: number): Point => ({ x: start.x + (end.x - start.x) * t, y: start.y + (end.y - start.y) * t });
    return cubic(start, pull(between(0.3)), pull(between(0.7)), end);
  });
}

/** A sound garment with every kind of content: pieces, marks, seams, versions with recipes of every step and measure. */
export const arbitraryGarment: fc.Arbitrary<Garment> = fc
  .tuple(arbitraryPiece('front', true), arbitraryPiece('back', true), arbitraryPiece('facing', false))
  .chain(([front, back, facing]) => {
    const version = (id: string): fc.Arbitrary<Version> =>
      fc.record({
        id: fc.constant(id),
        name: label,
        note: fc.string({ unit: 'grapheme', maxLength: 20 }),
        made: fc
          .date({ min: new Date('2000-01-01'), max: new Date('2100-01-01'), noInvalidDate: true })
          .map((date) => date.toISOString()),
        recipes: fc.record({ front: recipe(front), back: recipe(back) }, { requiredKeys: [], noNullPrototype: true }),
      });
    return fc.record({
      id: fc.constant('garment'),
      name: label,
      note: fc.string({ unit: 'grapheme', maxLength: 30 }),
      unit: fc.constantFrom('cm' as const, 'mm' as const, 'in' as const),
      blocks: fc.constant([front, back, facing]),
      seamLinks: fc.array(measure, { maxLength: 2 }).map((eases) =>
        eases.map((ease, index) => ({
          id: `seam-${index}`,
          first: { piece: 'front', edge: `edge-${index}` },
          second: { piece: 'back', edge: `edge-${index + 1}` },
          ease,
        })),
      ),
      versions: fc.tuple(version('first'), version('second')),
    });
  })
  // Records come without a prototype from the generator; documents are ordinary objects.
  .map((garment) => structuredClone(garment));
