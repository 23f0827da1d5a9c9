import { Clipper, EndType, FillRule, JoinType, type PathD, type PathsD, PointInPolygonResult } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { curvatureAt } from '../../src/geometry/curvature';
import { flattenPath } from '../../src/geometry/flatten';
import { pathLength } from '../../src/geometry/path';
import { type Point, point, quarterTurn } from '../../src/geometry/point';
import { movePath, type RigidMove } from '../../src/geometry/rigidMove';
import { cubic, line, type Path, reversePath, type Segment, segmentPointAt } from '../../src/geometry/segment';
import { unitTangentAt } from '../../src/geometry/tangent';
import { defaultFinish, finish } from '../../src/operations/finish';
import { crossesItself } from '../../src/operations/finishing/simpleLoop';
import type { Piece } from '../../src/pattern/piece';
import type { FinishStep } from '../../src/pattern/recipe';
import { edge, pieceOf } from '../print/support/pieces';
import { closedOutlines, pieceDrafts, rigidMoves } from '../support/arbitraries';

// Thousands of pieces take seconds on a busy machine.
vi.setConfig({ testTimeout: 180_000 });

const chord = 0.01;

/** Enough of so many random pieces to say that a property was really tried. */
function mostOf(runs: number): number {
  return 0.95 * runs;
}

function widths(piece: Piece): fc.Arbitrary<FinishStep> {
  const width = fc.oneof(
    { weight: 4, arbitrary: fc.double({ min: 0, max: 40, noNaN: true }) },
    { weight: 1, arbitrary: fc.constantFrom(0, 0.5, 15) },
  );
  return fc
    .tuple(fc.array(width, { minLength: piece.edges.length, maxLength: piece.edges.length }), fc.boolean())
    .map(([all, mirrorHemEnds]) => ({
      ...defaultFinish(),
      byEdge: Object.fromEntries(piece.edges.map((e, i) => [e.id, all[i]!])),
      mirrorHemEnds,
    }));
}

const draftsWithWidths = pieceDrafts().chain((d) => widths(d.piece).map((step) => ({ ...d, step })));

/** Wilder outlines, one edge per segment: corners of any angle, curves bent in and out. */
const wildWithWidths = closedOutlines()
  .map((path) =>
    pieceOf(
      'Wild',
      path.map((s, i) => edge(`e${i}`, 'other', [s])),
    ),
  )
  .chain((piece) => widths(piece).map((step) => ({ piece, step })));

function outlineOf(piece: Piece): Path {
  return piece.edges.flatMap((e) => e.path);
}

function polygon(path: Path): PathsD {
  return [flattenPath(path, chord).map((p) => ({ x: p.x, y: p.y }))];
}

function areaOf(paths: PathsD): number {
  return Math.abs(Clipper.areaPathsD(paths));
}

/** Depth by which a trimmed barb may leave the strip bare, mm: where an inward curve is tighter than the allowance. */
const barb = 0.1;

function bendsTighter(s: Segment, width: number): boolean {
  return Array.from({ length: 65 }, (_, i) => curvatureAt(s, i / 64)).some((k) => k * width > 0.99);
}

function distanceToOutline(p: Point, outline: PathD): number {
  return Math.min(
    ...outline.map((a, i) => {
      const b = outline[(i + 1) % outline.length]!;
      const length2 = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
      const t = length2 === 0 ? 0 : ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length2;
      const k = Math.min(1, Math.max(0, t));
      return Math.hypot(p.x - a.x - k * (b.x - a.x), p.y - a.y - k * (b.y - a.y));
    }),
  );
}

function mirrored(piece: Piece): Piece {
  const flip = (p: Point) => point(-p.x, p.y);
  const edges = piece.edges
    .map((e) => ({
      ...e,
      path: reversePath(
        e.path.map((s) =>
          s.kind === 'line'
            ? line(flip(s.start), flip(s.end))
            : cubic(flip(s.start), flip(s.control1), flip(s.control2), flip(s.end)),
        ),
      ),
    }))
    .reverse();
  return { ...piece, edges };
}

function moved(piece: Piece, move: RigidMove): Piece {
  return { ...piece, edges: piece.edges.map((e) => ({ ...e, path: movePath(move, e.path) })) };
}

/** Area in one but not in the other, mm2. */
function difference(a: Path, b: Path): number {
  return areaOf(Clipper.xorD(polygon(a), polygon(b), FillRule.NonZero, 5));
}

describe('allowances, for any piece and widths', () => {
  it('give a simple outline in the direction of the piece, at least as large', () => {
    let given = 0;
    fc.assert(
      fc.property(fc.oneof(draftsWithWidths, wildWithWidths), ({ piece, step }) => {
        const outcome = finish(piece, step);
        if (!outcome.ok) return expect(outcome.code).toMatch(/^allowance-/);
        given += 1;
        const { path } = outcome.value;
        for (const [i, s] of path.entries()) expect(path[(i + 1) % path.length]!.start).toEqual(s.end);
        expect(crossesItself(flattenPath(path, 0.02).slice(0, -1))).toBe(false);
        expect(enclosedArea(path)).toBeGreaterThan(enclosedArea(outlineOf(piece)) - 1e-6);
      }),
      { numRuns: 2000 },
    );
    // Refusals are for allowances that swallow an edge or bridge an opening; they must stay the exception.
    expect(given).toBeGreaterThan(mostOf(2000));
  });

  it('cover every point of the strip of every edge (hem ends not mirrored)', () => {
    let given = 0;
    fc.assert(
      fc.property(fc.oneof(draftsWithWidths, wildWithWidths), ({ piece, step }) => {
        const outcome = finish(piece, { ...step, mirrorHemEnds: false });
        if (!outcome.ok) return;
        given += 1;
        const outline = polygon(outcome.value.path)[0]!;
        for (const e of piece.edges) {
          const width = step.byEdge[e.id]!;
          for (const s of e.path) {
            for (const t of [0, 0.03, 0.2, 0.5, 0.77, 1]) {
              const at = segmentPointAt(s, t);
              const out = quarterTurn(unitTangentAt(s, t));
              for (const part of [0.3, 0.7, 1]) {
                // Drawn in by a hundredth of a millimetre: the chords of the test lie a little inside the curves.
                const reach = Math.max(0, part * width - 1.5 * chord);
                const p = { x: at.x + out.x * reach, y: at.y + out.y * reach };
                if (Clipper.pointInPolygonD(p, outline, 6) === PointInPolygonResult.IsOutside) {
                  expect(distanceToOutline(p, outline)).toBeLessThan(bendsTighter(s, width) ? barb : 2 * chord);
                }
              }
            }
          }
        }
      }),
      { numRuns: 2000 },
    );
    expect(given).toBeGreaterThan(mostOf(2000));
  });

  it('cover every outward corner out to the narrower of its two allowances (hem ends not mirrored)', () => {
    let corners = 0;
    fc.assert(
      fc.property(fc.oneof(draftsWithWidths, wildWithWidths), ({ piece, step }) => {
        const outcome = finish(piece, { ...step, mirrorHemEnds: false });
        if (!outcome.ok) return;
        const outline = polygon(outcome.value.path)[0]!;
        piece.edges.forEach((e, i) => {
          const next = piece.edges[(i + 1) % piece.edges.length]!;
          const [last, first] = [e.path[e.path.length - 1]!, next.path[0]!];
          const before = quarterTurn(unitTangentAt(last, 1));
          const after = quarterTurn(unitTangentAt(first, 0));
          // Outward when the outline turns from y towards x; the sector lies between the two outward normals.
          const turn = Math.atan2(before.y * after.x - before.x * after.y, before.x * after.x + before.y * after.y);
          if (turn < 0.01 || turn > 3) return;
          corners += 1;
          const reach = Math.max(0, Math.min(step.byEdge[e.id]!, step.byEdge[next.id]!) - 1.5 * chord);
          const tight = bendsTighter(last, step.byEdge[e.id]!) || bendsTighter(first, step.byEdge[next.id]!);
          for (const part of [0.25, 0.5, 0.75, 1]) {
            for (const share of [0.05, 0.3, 0.5, 0.7, 0.95]) {
              const [c, s] = [Math.cos(-share * turn), Math.sin(-share * turn)];
              const p = {
                x: last.end.x + part * reach * (c * before.x - s * before.y),
                y: last.end.y + part * reach * (s * before.x + c * before.y),
              };
              if (Clipper.pointInPolygonD(p, outline, 6) === PointInPolygonResult.IsOutside) {
                expect(distanceToOutline(p, outline)).toBeLessThan(tight ? barb : 2 * chord);
              }
            }
          }
        });
      }),
      { numRuns: 2000 },
    );
    expect(corners).toBeGreaterThan(2000);
  });

  it('equal widths agree with a closed mitred inflation by clipper2', () => {
    let given = 0;
    fc.assert(
      fc.property(pieceDrafts(), fc.double({ min: 1, max: 15, noNaN: true }), ({ piece }, width) => {
        const step = { ...defaultFinish(), seam: width, hem: width, mirrorHemEnds: false };
        const outcome = finish(piece, step);
        if (!outcome.ok) return;
        given += 1;
        const inflated = Clipper.inflatePathsD(
          [polygon(outlineOf(piece))[0]!.slice(0, -1)],
          width,
          JoinType.Miter,
          EndType.Polygon,
          3,
          5,
        );
        const off = areaOf(Clipper.xorD(inflated, polygon(outcome.value.path), FillRule.NonZero, 5));
        // The library mitres every chord of a flattened curve, so it lies a chord's height outside.
        expect(off).toBeLessThan(0.03 * pathLength(outcome.value.path));
      }),
      { numRuns: 500 },
    );
    expect(given).toBeGreaterThan(mostOf(500));
  });

  it('turned, shifted or mirrored pieces give turned, shifted or mirrored cut lines', () => {
    let given = 0;
    fc.assert(
      fc.property(draftsWithWidths, rigidMoves(), ({ piece, step }, move) => {
        const here = finish(piece, step);
        const there = finish(moved(piece, move), step);
        const opposite = finish(mirrored(piece), step);
        expect(there.ok).toBe(here.ok);
        expect(opposite.ok).toBe(here.ok);
        if (!here.ok || !there.ok || !opposite.ok) return;
        given += 1;
        const length = pathLength(here.value.path);
        expect(difference(movePath(move, here.value.path), there.value.path)).toBeLessThan(0.012 * length);
        const back = outlineOf(mirrored(pieceOf('cut', [edge('cut', 'other', opposite.value.path)])));
        expect(difference(back, here.value.path)).toBeLessThan(0.012 * length);
      }),
      { numRuns: 2000 },
    );
    expect(given).toBeGreaterThan(mostOf(2000));
  });
});
