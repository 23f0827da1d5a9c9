import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry/point';
import { distance } from '../../src/geometry/point';
import { compose, movePoint, type RigidMove, shiftBy, turnAbout } from '../../src/geometry/rigidMove';
import type { Segment } from '../../src/geometry/segment';
import { defaultFan, fan } from '../../src/operations/fan';
import { defaultTrue, trueFanned } from '../../src/operations/true';
import type { Piece } from '../../src/pattern/piece';
import type { FanStep } from '../../src/pattern/recipe';
import { mirrorPiece } from '../support/drafting/mirror';
import { movedPiece } from '../support/movedPiece';
import { granted } from '../support/outcomes';
import { loadTruedCase } from '../support/truedCase';

const { piece } = loadTruedCase('O03');
const withLabel: Piece = { ...piece, labelAt: { x: 200, y: -100 } };
const step: FanStep = { ...granted(defaultFan(withLabel, { slashes: 5, opening: 25, downSide: 68 })) };

function truedFrom(source: Piece) {
  return granted(trueFanned(granted(fan(source, step)), defaultTrue(), step));
}

function points(segment: Segment): Point[] {
  return segment.kind === 'line'
    ? [segment.start, segment.end]
    : [segment.start, segment.control1, segment.control2, segment.end];
}

/** Every point of the result: outline with handles, and marks. */
function allPoints(result: Piece): Point[] {
  return [
    ...result.edges.flatMap(({ path }) => path.flatMap(points)),
    ...result.drillHoles.map(({ at }) => at),
    ...result.internalLines.flatMap(({ path }) => path.flatMap(points)),
    result.labelAt!,
  ];
}

describe('trueing a piece that lies another way', () => {
  const upright = truedFrom(withLabel);

  it.each([
    ['a little', compose(shiftBy({ x: 300, y: -80 }), turnAbout({ x: 0, y: 0 }, 0.4))],
    ['upside down', turnAbout({ x: 10, y: 20 }, Math.PI)],
    ['on its side', turnAbout({ x: -50, y: 0 }, -Math.PI / 2)],
  ] as [string, RigidMove][])('turned %s gives the same piece turned', (_, move) => {
    const turned = truedFrom(movedPiece(withLabel, move));
    const expected = allPoints(upright.piece).map((p) => movePoint(move, p));
    for (const [i, p] of allPoints(turned.piece).entries()) expect(distance(p, expected[i]!)).toBeLessThan(1e-6);
    expect(turned.piece.notches.map(({ distance: d }) => d)).toEqual(
      upright.piece.notches.map(({ distance: d }) => expect.closeTo(d, 7)),
    );
    expect(turned.report.sweep).toBeCloseTo(upright.report.sweep, 8);
    expect(turned.report.hemTurning).toBeCloseTo(upright.report.hemTurning, 9);
    expect(turned.report.hemCurvatureMax).toBeCloseTo(upright.report.hemCurvatureMax, 12);
  });

  it('mirrored gives the same piece mirrored, and the same report', () => {
    const mirrored = truedFrom(mirrorPiece({ ...withLabel, locked: true }, 500));
    const back = mirrorPiece({ ...mirrored.piece, locked: true }, 500);
    for (const edge of upright.piece.edges) {
      const other = back.edges.find(({ id }) => id === edge.id)!;
      expect(other.path).toHaveLength(edge.path.length);
      edge.path.forEach((segment, i) => {
        const expected = points(segment);
        for (const [k, p] of points(other.path[i]!).entries()) expect(distance(p, expected[k]!)).toBeLessThan(1e-8);
      });
    }
    for (const notch of upright.piece.notches) {
      expect(back.notches.find(({ id }) => id === notch.id)!.distance).toBeCloseTo(notch.distance, 7);
    }
    for (const [i, hole] of back.drillHoles.entries()) {
      expect(distance(hole.at, upright.piece.drillHoles[i]!.at)).toBeLessThan(1e-9);
    }
    expect(distance(back.labelAt!, upright.piece.labelAt!)).toBeLessThan(1e-9);
    const { warnings: _, ...figures } = upright.report;
    const { warnings: __, ...otherFigures } = mirrored.report;
    for (const [name, value] of Object.entries(figures)) {
      const other = otherFigures[name as keyof typeof otherFigures];
      if (typeof value === 'number') expect(other).toBeCloseTo(value, 7);
    }
    expect(otherFigures.handles.centre).toBeCloseTo(figures.handles.centre, 7);
    expect(otherFigures.handles.side).toBeCloseTo(figures.handles.side, 7);
  });

  it('every redrawn segment says which edge it came from, every other one keeps its origin', () => {
    const origins = Object.fromEntries(
      upright.edges.map(({ id, segments }) => [id, [...new Set(segments.map(({ origin }) => origin.kind))]]),
    );
    expect(origins).toEqual({
      hem: ['trued'],
      side: ['trued', 'own'],
      armhole: ['own'],
      shoulder: ['own'],
      neckline: ['own'],
      'centre-front': ['trued'],
    });
    const side = upright.edges.find(({ id }) => id === 'side')!.segments.map(({ origin }) => origin);
    const own = side.filter((origin) => origin.kind === 'own');
    // Lower strip up to the blend, then the part above it to the armhole, in the parameters of the block's seam.
    expect(own).toHaveLength(2);
    expect(own[0]).toMatchObject({ edge: 'side', segment: 0, from: 0 });
    expect(own[1]).toMatchObject({ edge: 'side', segment: 0, to: 1 });
    expect(own[0]!.to).toBeLessThan(own[1]!.from);
  });
});
