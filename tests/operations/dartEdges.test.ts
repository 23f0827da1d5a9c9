import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readProject, writeProject } from '../../src/exchange/project/projectFile';
import { curveOfLength } from '../../src/geometry/curveOfLength';
import { nearestOnPath } from '../../src/geometry/nearest';
import { endTangent, pathEnd, pathLength, pathPointAt, pathStart, startTangent } from '../../src/geometry/path';
import { angleBetween, distance, type Point } from '../../src/geometry/point';
import { line, type Path, reversePath } from '../../src/geometry/segment';
import { workPiece } from '../../src/operations/recipe';
import { defaultTrue } from '../../src/operations/true';
import type { WorkedPiece } from '../../src/operations/worked';
import type { Piece } from '../../src/pattern/piece';
import type { CloseDartStep, FanStep, TrueStep } from '../../src/pattern/recipe';
import { mirrorPiece } from '../support/drafting/mirror';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { granted } from '../support/outcomes';

const skirt = draftStraightSkirt();
const [front, back] = skirt.blocks;
const smooth = defaultTrue();
const keep: TrueStep = { ...smooth, dartEdges: 'keep' };

function closing(piece: Piece, dart = 'waist-dart', share = 1): CloseDartStep {
  const centre = piece.edges.find(({ role }) => role.startsWith('centre'))!.id;
  return { kind: 'close-dart', dart, centre, hem: 'hem', side: 'side', share, foot: null };
}

/** 260 by 600 mm with a straight waist; darts 24 mm wide and 110 deep at the given places across. */
function panel(...darts: readonly { readonly id: string; readonly at: number; readonly lean?: number }[]): Piece {
  const corners: Point[] = [
    { x: 0, y: 0 },
    { x: 260, y: 0 },
    { x: 260, y: -600 },
    { x: 0, y: -600 },
  ];
  const roles = ['hem', 'side', 'waist', 'centre-front'] as const;
  return {
    ...front!,
    edges: roles.map((role, index) => ({
      id: role,
      name: role,
      role,
      path: [line(corners[index]!, corners[(index + 1) % 4]!)],
    })),
    fold: 'centre-front',
    notches: [
      { id: 'near-side', edge: 'waist', distance: 40, style: 'single' },
      { id: 'near-centre', edge: 'waist', distance: 240, style: 'single' },
    ],
    grainline: null,
    labelAt: null,
    darts: darts.map(({ id, at, lean = 0 }) => ({
      id,
      edge: 'waist',
      apex: { x: at + lean, y: -490 },
      legs: [
        { x: at + 12, y: -600 },
        { x: at - 12, y: -600 },
      ],
    })),
  };
}

const edgeOf = ({ piece }: WorkedPiece, id: string): Path => piece.edges.find((edge) => edge.id === id)!.path;
const corner = (path: Path) =>
  Math.max(
    0,
    ...path.slice(1).map((next, index) => Math.abs(angleBetween(endTangent([path[index]!]), startTangent([next])))),
  );

describe('the edge that held a closed dart, trued (common practice, no source)', () => {
  it('R36 is one smooth line through its ends, its directions there kept', () => {
    for (const piece of [front!, back!]) {
      const before = edgeOf(granted(workPiece(piece, [closing(piece), keep])), 'waist');
      const worked = granted(workPiece(piece, [closing(piece), smooth]));
      const after = edgeOf(worked, 'waist');
      expect(corner(before)).toBeGreaterThan(0.15);
      expect(after).toHaveLength(1);
      expect(pathStart(after)).toEqual(pathStart(before));
      expect(pathEnd(after)).toEqual(pathEnd(before));
      expect(Math.abs(angleBetween(startTangent(after), startTangent(before)))).toBeLessThan(1e-9);
      expect(Math.abs(angleBetween(endTangent(after), endTangent(before)))).toBeLessThan(1e-9);
      const [report] = worked.trued!.smoothed;
      expect(report!.edge).toBe('waist');
      expect(report!.longer).toBeCloseTo(pathLength(after, 1e-10) - pathLength(before, 1e-10), 9);
      expect(Math.abs(report!.longer)).toBeLessThan(0.25);
      const joint = before[0]!.end;
      expect(report!.moved).toBeGreaterThanOrEqual(nearestOnPath(after, joint).distance - 1e-9);
      expect(report!.moved).toBeLessThan(3);
    }
  });

  it('R36 keeps its length to a millionth of a mm where the edge is curved enough', () => {
    const worked = granted(workPiece(back!, [closing(back!), smooth]));
    const blockWaist = pathLength(back!.edges.find(({ id }) => id === 'waist')!.path);
    expect(pathLength(edgeOf(worked, 'waist'), 1e-10)).toBeCloseTo(blockWaist - distance(...back!.darts[0]!.legs), 6);
  });

  it('R36 two straight legs lose p theta^2 (3 pi / 16 - 1 / 2) and move by p sin(theta / 2) / 4 (arithmetic)', () => {
    const theta = 2 * Math.atan(12 / 110);
    const p = 118;
    const worked = granted(workPiece(panel({ id: 'd', at: 130 }), [closing(panel(), 'd'), smooth]));
    const [report] = worked.trued!.smoothed;
    expect(report!.moved).toBeCloseTo((p * Math.sin(theta / 2)) / 4, 6);
    // The next term of the loss is of the fourth order in the angle: below 0.3 mm times theta^2.
    expect(Math.abs(report!.longer + p * theta ** 2 * ((3 * Math.PI) / 16 - 1 / 2))).toBeLessThan(0.01);
  });

  it('R36 keeps the corner where the step says so, or says nothing, and then says that it is there', () => {
    const { dartEdges: _, ...silent } = smooth;
    const kept = granted(workPiece(front!, [closing(front!), keep]));
    expect(granted(workPiece(front!, [closing(front!), silent]))).toEqual(kept);
    expect(kept.trued!.smoothed).toEqual([]);
    expect(kept.warnings.join(' ')).toContain('corner of');
    const smoothed = granted(workPiece(front!, [closing(front!), smooth]));
    expect(smoothed.warnings.join(' ')).not.toContain('corner of');
    expect(smoothed.trued!.sweep).toBe(kept.trued!.sweep);
  });

  it('R36 without a closed dart nothing is drawn anew, bit for bit', () => {
    const fan: FanStep = {
      kind: 'fan',
      centre: 'centre-front',
      hem: 'hem',
      side: 'side',
      fullness: null,
      slashes: [{ id: 's', across: 0.7, tilt: 0, opening: { measure: 'chord', hem: 40, far: 0 } }],
      centreRule: 'parallel',
      sideTurn: 0,
    };
    const bent = granted(workPiece(front!, [fan, keep]));
    expect(granted(workPiece(front!, [fan, smooth]))).toEqual(bent);
    expect(granted(workPiece(front!, [closing(front!, 'waist-dart', 0.5), smooth])).trued!.smoothed).toEqual([]);
  });

  it('R18 notches keep their place along it', () => {
    const piece = panel({ id: 'd', at: 130 });
    const before = granted(workPiece(piece, [closing(piece, 'd'), keep])).piece;
    const after = granted(workPiece(piece, [closing(piece, 'd'), smooth])).piece;
    const lengths = [before, after].map(({ edges }) => pathLength(edges.find(({ id }) => id === 'waist')!.path, 1e-10));
    expect(before.notches.map((notch) => notch.distance)).toEqual([expect.closeTo(40, 9), expect.closeTo(216, 9)]);
    after.notches.forEach((notch, index) => {
      expect(notch.distance / lengths[1]!).toBeCloseTo(before.notches[index]!.distance / lengths[0]!, 9);
    });
  });

  it('R36 a dart still open stays where it is, its mouth straight; only the stretch beside it is drawn anew', () => {
    const piece = panel({ id: 'd', at: 80 }, { id: 'e', at: 190 });
    const kept = granted(workPiece(piece, [closing(piece, 'd'), keep]));
    const worked = granted(workPiece(piece, [closing(piece, 'd'), smooth]));
    const [open] = worked.piece.darts;
    expect(open).toEqual(kept.piece.darts[0]);
    const waist = edgeOf(worked, 'waist');
    expect(waist).toHaveLength(3);
    for (const leg of open!.legs) expect(nearestOnPath(waist, leg).distance).toBeLessThan(1e-9);
    const places = open!.legs.map((leg) => nearestOnPath(waist, leg).along);
    expect(places[1]! - places[0]!).toBeCloseTo(24, 6);
    expect(pathPointAt(waist, 20).point).toEqual(pathPointAt(edgeOf(kept, 'waist'), 20).point);
    expect(corner(waist.slice(2))).toBe(0);
  });

  it('R36 draws over the step that uneven legs leave, and no longer speaks of it', () => {
    const piece = panel({ id: 'd', at: 130, lean: 8 });
    const kept = granted(workPiece(piece, [closing(piece, 'd'), keep]));
    const worked = granted(workPiece(piece, [closing(piece, 'd'), smooth]));
    expect(kept.warnings.join(' ')).toContain('differ by');
    expect(worked.warnings.join(' ')).not.toContain('differ by');
    const waist = edgeOf(worked, 'waist');
    expect(waist).toHaveLength(1);
    // The cloth beside the dart, 118 mm on each side, is what it is measured against; the step is none of it.
    const step = pathLength(edgeOf(kept, 'waist')) - 2 * 118;
    expect(step).toBeGreaterThan(1);
    expect(worked.trued!.smoothed[0]!.longer).toBeCloseTo(pathLength(waist) - 2 * 118, 6);
  });

  it('R36 bends that slash lines left on it are drawn over with it, also where the fan parts it; beside an open dart it stays', () => {
    const slash = (across: number) => ({
      id: `at-${across}`,
      across,
      tilt: 0,
      opening: { measure: 'chord', hem: 12, far: 0 } as const,
    });
    const fan: FanStep = {
      kind: 'fan',
      centre: 'centre-front',
      hem: 'hem',
      side: 'side',
      fullness: null,
      slashes: [slash(0.5)],
      centreRule: 'parallel',
      sideTurn: 0,
    };
    const piece = panel({ id: 'd', at: 150 });
    const kept = granted(workPiece(piece, [closing(piece, 'd'), fan, keep]));
    const worked = granted(workPiece(piece, [closing(piece, 'd'), fan, smooth]));
    expect(kept.warnings.join(' ')).toContain('bends at the slash lines');
    expect(worked.warnings.join(' ')).not.toContain('bends at the slash lines');
    expect(edgeOf(worked, 'waist')).toHaveLength(1);
    // What a slash line opens at the far edge is cloth, and stays in its length.
    const [opened] = fan.slashes;
    const far = { ...fan, slashes: [{ ...opened!, opening: { measure: 'chord', hem: 12, far: 5 } as const }] };
    const widened = granted(workPiece(piece, [closing(piece, 'd'), far, smooth]));
    const { longer } = widened.trued!.smoothed[0]!;
    expect(pathLength(edgeOf(widened, 'waist'))).toBeCloseTo(260 - 24 + 5 + longer, 6);
    expect(Math.abs(longer)).toBeLessThan(1);
    // A slash line right through, past a dart that is still open: the stretch it bends lost no dart.
    const two = panel({ id: 'd', at: 70 }, { id: 'e', at: 170 });
    const beside = granted(workPiece(two, [closing(two, 'd'), { ...fan, slashes: [slash(0.55)] }, smooth]));
    const cut = granted(workPiece(two, [closing(two, 'd'), { ...fan, slashes: [slash(0.55)] }, keep]));
    expect(beside.trued!.smoothed).toHaveLength(1);
    expect(pathPointAt(edgeOf(beside, 'waist'), 30).point).toEqual(pathPointAt(edgeOf(cut, 'waist'), 30).point);
    expect(corner(edgeOf(beside, 'waist').slice(0, 2))).toBeGreaterThan(0.01);
  });

  it('R36 a dart of the side seam leaves its corner to the blend of the seam; without a blend the corner is said', () => {
    const plain = panel();
    const piece: Piece = {
      ...plain,
      darts: [
        {
          id: 's',
          edge: 'side',
          apex: { x: 160, y: -410 },
          legs: [
            { x: 260, y: -400 },
            { x: 260, y: -420 },
          ],
        },
      ],
    };
    const blended = granted(workPiece(piece, [closing(piece, 's'), smooth]));
    const sharp = granted(
      workPiece(piece, [closing(piece, 's'), { ...smooth, side: { ...smooth.side, up: 0, down: 0 } }]),
    );
    expect(corner(edgeOf(blended, 'side'))).toBeLessThan(1e-6);
    expect(corner(edgeOf(sharp, 'side'))).toBeCloseTo(2 * Math.atan(10 / 100), 9);
    expect(blended.trued!.smoothed).toEqual([]);
    expect(blended.warnings.join(' ')).not.toContain('has a corner');
    expect(sharp.warnings.join(' ')).toContain('the side has a corner of 11°');
    for (const worked of [blended, sharp]) expect(pathLength(edgeOf(worked, 'side'))).toBeCloseTo(600 - 20, 6);
  });

  it('R36 an edge that would move too far stays as it was cut, and is said to have its corner', () => {
    const wide = panel({ id: 'd', at: 130 });
    const [dart] = wide.darts;
    const huge = {
      ...wide,
      darts: [
        {
          ...dart!,
          apex: { x: 130, y: -560 },
          legs: [
            { x: 160, y: -600 },
            { x: 100, y: -600 },
          ] as const,
        },
      ],
    };
    const worked = granted(workPiece(huge, [closing(huge, 'd'), smooth]));
    expect(worked.trued!.smoothed).toEqual([]);
    expect(worked.warnings.join(' ')).toContain('corner of 74°');
  });

  it('R36 a mirrored piece is drawn alike', () => {
    const fresh = granted(workPiece(front!, [closing(front!), smooth]));
    const mirrored = mirrorPiece(front!, 0);
    const other = granted(workPiece(mirrored, [closing(mirrored), smooth]));
    expect(other.trued!.smoothed[0]!.moved).toBeCloseTo(fresh.trued!.smoothed[0]!.moved, 8);
    expect(pathLength(edgeOf(other, 'waist'))).toBeCloseTo(pathLength(edgeOf(fresh, 'waist')), 8);
  });

  it('the choice is kept in the project file, and a file without it keeps the corner', () => {
    const { dartEdges: _, ...silent } = smooth;
    for (const step of [smooth, keep, silent]) {
      const recipe = [closing(front!), step];
      const version = { id: 'v', name: 'V', note: '', made: '2026-01-01T00:00:00.000Z', recipes: { front: recipe } };
      const garment = { ...skirt, versions: [version] };
      const again = granted(readProject(writeProject(garment)));
      expect(again.versions[0]!.recipes.front).toEqual(recipe);
    }
  });
});

describe('a cubic of a wanted length', () => {
  it('has it, between the shortest and the longest that its handles allow, and runs the same both ways', () => {
    const turn = fc.double({ min: 0.05, max: 0.7, noNaN: true });
    fc.assert(
      fc.property(turn, turn, fc.double({ min: 0.05, max: 0.95, noNaN: true }), (one, other, part) => {
        const [start, end] = [
          { x: 0, y: 0 },
          { x: 200, y: 0 },
        ];
        const [leaves, arrives] = [
          { x: Math.cos(one), y: -Math.sin(one) },
          { x: Math.cos(other), y: Math.sin(other) },
        ];
        const least = pathLength([curveOfLength(start, leaves, end, arrives, 0)], 1e-10);
        const most = pathLength([curveOfLength(start, leaves, end, arrives, 1e6)], 1e-10);
        expect(most).toBeGreaterThan(least);
        const wanted = least + part * (most - least);
        const curve = curveOfLength(start, leaves, end, arrives, wanted);
        expect(pathLength([curve], 1e-10)).toBeCloseTo(wanted, 8);
        const back = curveOfLength(
          end,
          { x: -arrives.x, y: -arrives.y },
          start,
          { x: -leaves.x, y: -leaves.y },
          wanted,
        );
        const [turned] = reversePath([back]);
        const handle = (segment: typeof turned) => (segment?.kind === 'cubic' ? segment.control1 : start);
        expect(distance(handle(turned), curve.control1)).toBeLessThan(1e-6);
      }),
      { numRuns: 60 },
    );
  });
});
