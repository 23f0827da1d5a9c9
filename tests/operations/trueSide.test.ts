import { describe, expect, it } from 'vitest';
import { curvatureAt } from '../../src/geometry/curvature';
import { nearestOnPath } from '../../src/geometry/nearest';
import { endTangent, pathLength, pathPointAt, pathStart, startTangent } from '../../src/geometry/path';
import { add, angleBetween, distance, scale, turn } from '../../src/geometry/point';
import { line, reversePath } from '../../src/geometry/segment';
import { defaultFan, fan } from '../../src/operations/fan';
import { openCuts } from '../../src/operations/linkage/spread';
import { defaultTrue, trueFanned } from '../../src/operations/true';
import { meetingHandles } from '../../src/operations/trueing/sideBlend';
import { pathOf } from '../../src/operations/trueing/tracedPath';
import type { Piece } from '../../src/pattern/piece';
import type { TrueStep } from '../../src/pattern/recipe';
import { granted } from '../support/outcomes';
import { rectangle } from '../support/rectangle';
import { loadTruedCase } from '../support/truedCase';

/** A blend over a corner of straight lines: legs of `leg` mm, turned by `angle`. */
function corner(leg: number, angle: number, fullness: number) {
  const kink = { x: 0, y: 0 };
  const arriving = { x: 1, y: 0 };
  const leaving = turn(arriving, angle);
  return {
    kink,
    arriving,
    leaving,
    blend: meetingHandles(scale(arriving, -leg), arriving, scale(leaving, leg), leaving, fullness),
  };
}

describe('the blend over a corner (docs/maths/trueing.md, section 2)', () => {
  const leg = 70;

  it.each([2 / 3, 0.8, 0.9, 1])('handles at %f of the way have the end curvature of the formula', (fullness) => {
    const angle = 0.3;
    const { blend } = corner(leg, angle, fullness);
    const expected = ((2 / 3) * (1 - fullness) * Math.sin(angle)) / (fullness * fullness * leg);
    expect(curvatureAt(blend, 0)).toBeCloseTo(expected, 12);
    expect(curvatureAt(blend, 1)).toBeCloseTo(expected, 12);
  });

  it('full handles bend most in the middle, by the formula', () => {
    const angle = 0.3;
    const { blend } = corner(leg, angle, 1);
    const peak = ((4 / 3) * Math.sin(angle)) / (leg * Math.cos(angle / 2) ** 3);
    expect(curvatureAt(blend, 0.5)).toBeCloseTo(peak, 12);
  });

  it.each([2 / 3, 0.8, 1])('handles at %f cut the corner off by l sin(angle / 2)(4 - 3 lambda) / 4', (fullness) => {
    const angle = 0.25;
    const { blend, kink } = corner(leg, angle, fullness);
    const cutOff = (leg * Math.sin(angle / 2) * (4 - 3 * fullness)) / 4;
    expect(nearestOnPath([blend], kink).distance).toBeCloseTo(cutOff, 9);
  });

  it.each([
    [2 / 3, 1 / 6],
    [0.8, 0.14],
    [1, 0.09],
  ])('handles at %f lose about %f l angle^2 of seam', (fullness, share) => {
    const angle = 0.1;
    const { blend } = corner(leg, angle, fullness);
    const loss = 2 * leg - pathLength([blend]);
    expect(loss / (leg * angle * angle)).toBeGreaterThan(share * 0.97);
    expect(loss / (leg * angle * angle)).toBeLessThan(share * 1.03);
  });

  it('keeps both directions, also over a jog where the tangents do not meet', () => {
    const start = { x: 0, y: 0 };
    const end = { x: 100, y: 5 };
    const along = { x: 1, y: 0 };
    const away = turn(along, -0.01);
    const blend = meetingHandles(start, along, end, away, 0.8);
    expect(Math.abs(angleBetween(startTangent([blend]), along))).toBeLessThan(1e-12);
    expect(Math.abs(angleBetween(endTangent([blend]), away))).toBeLessThan(1e-12);
    expect(distance(blend.start, blend.control1)).toBeCloseTo(distance(start, end) / 2, 9);
  });
});

describe('the trued side seam', () => {
  const { piece, plan, fanStep, trueStep } = loadTruedCase('O03');
  const fanned = granted(openCuts(piece, plan));
  const block = piece.edges.find(({ id }) => id === 'side')!.path;
  const blended = (side: TrueStep['side'], notched: Piece = piece) => {
    const opened = granted(openCuts(notched, plan));
    const trued = granted(trueFanned(opened, { ...trueStep, side }, fanStep));
    return { ...trued, side: trued.piece.edges.find(({ id }) => id === 'side')!.path };
  };

  it.each([
    [60, 80, 0.8],
    [60, 80, 2 / 3],
    [60, 80, 1],
    [10, 300, 0.8],
    [500, 500, 0.8],
    [40, 0, 0.8],
    [0, 40, 0.8],
  ])('R17 keeps the length of the block with a blend of %f up and %f down at fullness %f', (up, down, fullness) => {
    expect(Math.abs(pathLength(blended({ up, down, fullness }).side) - pathLength(block))).toBeLessThan(1e-9);
  });

  it('is smooth where the blend begins and ends', () => {
    const { side } = blended({ up: 60, down: 80, fullness: 0.8 });
    for (let i = 1; i < side.length; i++) {
      const bend = angleBetween(endTangent([side[i - 1]!]), startTangent([side[i]!]));
      expect(Math.abs(bend)).toBeLessThan(1e-9);
    }
  });

  it('with no blend wanted the corner and the hem end stay', () => {
    const { side, report } = blended({ up: 0, down: 0, fullness: 0.8 });
    expect(report.blendLoss).toBe(0);
    expect(side).toEqual(pathOf(fanned.edges.find(({ id }) => id === 'side')!.segments));
  });

  it('R18 a notch keeps its distance from the upper end of the seam', () => {
    const fromTop = pathLength(block) - piece.notches[0]!.distance;
    const { side, piece: result } = blended({ up: 60, down: 80, fullness: 0.8 });
    const notch = result.notches.find(({ id }) => id === piece.notches[0]!.id)!;
    expect(pathLength(side) - notch.distance).toBeCloseTo(fromTop, 9);
    // Below the blend the seam is the strip's own, so the notch is where the strip carried it, less the loss.
    const { point: at } = pathPointAt(side, notch.distance);
    const carried = fanned.marks.notches.find(({ id }) => id === notch.id)!.at;
    expect(distance(at, carried)).toBeLessThan(1.3);
  });

  it('stops the blend at a dart on the seam', () => {
    const leg = (from: number) => pathPointAt(reversePath(block), from).point;
    const dart = { id: 'bust', edge: 'side', apex: { x: 120, y: -380 }, legs: [leg(50), leg(20)] as const };
    const { side } = blended({ up: 60, down: 80, fullness: 0.8 }, { ...piece, darts: [dart] });
    for (const at of dart.legs) expect(nearestOnPath(side, at).distance).toBeLessThan(1e-9);
    const free = blended({ up: 60, down: 80, fullness: 0.8 }).side;
    expect(nearestOnPath(free, dart.legs[0]).distance).toBeGreaterThan(0.05);
  });

  it('without a fullness line is as the fan left it', () => {
    const step = { ...granted(defaultFan(rectangle(300, 500))), fullness: null, sideTurn: 15 };
    const opened = granted(fan(rectangle(300, 500), step));
    const trued = granted(trueFanned(opened, defaultTrue(), step));
    const before = pathOf(opened.edges.find(({ id }) => id === 'side')!.segments);
    expect(trued.piece.edges.find(({ id }) => id === 'side')!.path).toEqual(before);
  });

  it('blends every corner when slashes without a fullness line run into it, and keeps cloth put into it', () => {
    // A flared piece: slashes lean outward and end on the side, one opened there too.
    const flared: Piece = {
      ...rectangle(200, 500),
      edges: rectangle(200, 500).edges.map((edge) => {
        if (edge.id === 'hem') return { ...edge, path: [line({ x: 0, y: 0 }, { x: 320, y: 0 })] };
        return edge.id === 'side' ? { ...edge, path: [line({ x: 320, y: 0 }, { x: 200, y: -500 })] } : edge;
      }),
    };
    const slash = (id: string, across: number, far: number) => ({
      id,
      across,
      tilt: 0,
      opening: { measure: 'chord' as const, hem: 20, far },
    });
    const through = (far: number) => ({
      ...granted(defaultFan(flared)),
      fullness: null,
      slashes: [slash('a', 0.7, 0), slash('b', 0.78, far), slash('c', 0.88, 0)],
    });
    const lengthOf = (far: number, up: number) => {
      const opened = granted(fan(flared, through(far)));
      const standard = defaultTrue();
      const trued = granted(trueFanned(opened, { ...standard, side: { up, down: up, fullness: 0.8 } }, through(far)));
      return { trued, side: trued.piece.edges.find(({ id }) => id === 'side')!.path };
    };
    const seam = Math.hypot(120, 500);
    const { side } = lengthOf(0, 60);
    expect(Math.abs(pathLength(side) - seam)).toBeLessThan(1e-9);
    for (let i = 1; i < side.length; i++) {
      expect(Math.abs(angleBetween(endTangent([side[i - 1]!]), startTangent([side[i]!])))).toBeLessThan(1e-9);
    }
    // Not blended there are three corners; opened 15 mm on the side, the seam is 15 mm longer.
    const corners = lengthOf(0, 0).side.filter(
      (segment, i, all) => i > 0 && Math.abs(angleBetween(endTangent([all[i - 1]!]), startTangent([segment]))) > 1e-3,
    );
    expect(corners).toHaveLength(3);
    expect(Math.abs(pathLength(lengthOf(15, 60).side) - seam - 15)).toBeLessThan(1e-9);
  });

  it('nothing opened leaves no corner to blend', () => {
    const step = granted(defaultFan(piece, { opening: 0, downSide: 68 }));
    const opened = granted(fan(piece, step));
    const trued = granted(trueFanned(opened, defaultTrue(), step));
    expect(trued.report.blendLoss).toBe(0);
    expect(
      Math.abs(pathLength(trued.piece.edges.find(({ id }) => id === 'side')!.path) - pathLength(block)),
    ).toBeLessThan(1e-9);
    expect(pathStart(trued.piece.edges.find(({ id }) => id === 'side')!.path)).toEqual(pathStart(block));
  });
});

describe('the centre line', () => {
  it('R15 is one straight line even when the fold has a drop', () => {
    const step = { ...granted(defaultFan(rectangle(300, 500))), fullness: null };
    const folded = { ...rectangle(300, 500), fold: 'centre' };
    const opened = granted(fan(folded, step));
    const standard = defaultTrue();
    const lower = { ...standard, hem: { ...standard.hem, drop: { centre: 12, side: 0 } } };
    const trued = granted(trueFanned(opened, lower, step));
    const centre = trued.piece.edges.find(({ id }) => id === 'centre')!.path;
    expect(centre).toHaveLength(1);
    expect(pathLength(centre)).toBeCloseTo(512, 9);
    expect(trued.piece.fold).toBe('centre');
  });

  it('warns when the strip reaches over the old line, where width would be cut off', () => {
    const { piece } = loadTruedCase('O03');
    const step = granted(defaultFan(piece, { slashes: 3, opening: 40, downSide: 68 }));
    const tilted = { ...step, fullness: { downSide: 68, tilt: 0.4 } };
    const opened = granted(fan(piece, tilted));
    expect(opened.centreFill).toBeLessThan(-0.5);
    const { report } = granted(trueFanned(opened, defaultTrue(), tilted));
    expect(report.centreFillAtHem).toBeLessThan(-0.5);
    expect(report.warnings.join(' ')).toContain('over the centre line');
  });

  it('warns when more than 15 mm has to be filled in', () => {
    const { piece } = loadTruedCase('O03');
    const step = granted(defaultFan(piece, { slashes: 3, opening: 90, downSide: 68 }));
    const { report } = granted(trueFanned(granted(fan(piece, step)), defaultTrue(), step));
    expect(report.centreFillAtHem).toBeGreaterThan(15);
    expect(report.warnings.join(' ')).toContain('More slash lines or smaller openings');
  });

  it('that is curved above the fullness line stays curved there and is straight below', () => {
    const { piece } = loadTruedCase('O03');
    const bent: Piece = {
      ...piece,
      edges: piece.edges.map((edge) => {
        if (edge.id !== 'centre-front') return edge;
        const { start, end } = edge.path[0]!;
        const knee = { x: 0, y: -400 };
        const bow = {
          kind: 'cubic' as const,
          start,
          control1: add(start, { x: 4, y: 40 }),
          control2: { x: 0, y: -450 },
          end: knee,
        };
        return { ...edge, path: [bow, line(knee, end)] };
      }),
    };
    const step = granted(defaultFan(bent, { slashes: 3, opening: 40, downSide: 68 }));
    const { report, piece: result } = granted(trueFanned(granted(fan(bent, step)), defaultTrue(), step));
    const centre = result.edges.find(({ id }) => id === 'centre-front')!.path;
    expect(centre[0]).toEqual(bent.edges.find(({ id }) => id === 'centre-front')!.path[0]);
    expect(centre[centre.length - 1]!.kind).toBe('line');
    expect(report.warnings.join(' ')).toContain('redrawn straight');
    expect(report.cornerCentre).toBeCloseTo(Math.PI / 2, 9);
  });
});

describe('a hem that is straight and stays so', () => {
  it.each([1, 2, 3] as const)('is drawn straight with %i spans, whatever its handles', (spans) => {
    const piece = rectangle(300, 500);
    const step = granted(defaultFan(piece, { opening: 0 }));
    const standard = defaultTrue();
    const { report, piece: result } = granted(
      trueFanned(granted(fan(piece, step)), { ...standard, hem: { ...standard.hem, spans } }, step),
    );
    expect(report.sweep).toBeCloseTo(300, 9);
    expect(report.hemDeviation).toBeLessThan(1e-9);
    expect(report.hemCurvatureMax).toBeCloseTo(0, 12);
    expect(report.unwantedInflections).toBe(0);
    for (const { start, end } of result.edges.find(({ id }) => id === 'hem')!.path) {
      expect(start.y).toBeCloseTo(0, 9);
      expect(end.y).toBeCloseTo(0, 9);
    }
  });
});

describe('overlapped slashes', () => {
  it('are trued to a shorter hem that is square and smooth, the side seam held', () => {
    const piece = rectangle(300, 500);
    const base = granted(defaultFan(piece, { slashes: 3, opening: -12 }));
    for (const step of [base, { ...base, fullness: null }]) {
      const { report, piece: result } = granted(trueFanned(granted(fan(piece, step)), defaultTrue(), step));
      expect(report.sweep).toBeLessThan(300 - 3 * 11);
      expect(report.hemTurning).toBeLessThan(0);
      expect(report.cornerCentre).toBeCloseTo(Math.PI / 2, 9);
      expect(report.cornerSide).toBeCloseTo(Math.PI / 2, 9);
      expect(pathLength(result.edges.find(({ id }) => id === 'side')!.path)).toBeCloseTo(500, 9);
    }
  });
});
