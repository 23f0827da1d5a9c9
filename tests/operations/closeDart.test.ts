import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { pathLength } from '../../src/geometry/path';
import { distance, type Point } from '../../src/geometry/point';
import { compose, movePoint, shiftBy, turnAbout } from '../../src/geometry/rigidMove';
import { line } from '../../src/geometry/segment';
import { grainBeyond } from '../../src/measure/grainBeyond';
import { dartReach, openingOfShare, shareOfOpening } from '../../src/operations/closeDart';
import { closeDarts } from '../../src/operations/closedDarts';
import { fan } from '../../src/operations/fan';
import { panelTurn } from '../../src/operations/fanClosed';
import { workPiece } from '../../src/operations/recipe';
import type { DartsClosed } from '../../src/operations/worked';
import type { Piece } from '../../src/pattern/piece';
import type { CloseDartStep, FanStep, Recipe } from '../../src/pattern/recipe';
import { mirrorPiece } from '../support/drafting/mirror';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { movedPiece } from '../support/movedPiece';
import { granted, refusalOf } from '../support/outcomes';
import { loadTruedCase } from '../support/truedCase';

const edges = { centre: 'centre-front', hem: 'hem', side: 'side' } as const;

function closing(dart: string, share = 1, foot: number | null = null): CloseDartStep {
  return { kind: 'close-dart', dart, ...edges, share, foot };
}

function closedAs(piece: Piece, ...steps: CloseDartStep[]): DartsClosed {
  return granted(closeDarts(piece, steps))!;
}

function near(a: Point, b: Point, within = 1e-9): void {
  expect(distance(a, b), `(${a.x}, ${a.y}) against (${b.x}, ${b.y})`).toBeLessThan(within);
}

const lengthOf = (piece: Piece, id: string) => pathLength(piece.edges.find((edge) => edge.id === id)!.path);
const areaOf = (piece: Piece) => enclosedArea(piece.edges.flatMap(({ path }) => path));

/** A plain skirt panel, 260 by 600 mm, waist dart of chosen places; the mouth lies on the straight waist. */
function panel({ apexX = 120, width = 24, depth = 110 } = {}): Piece {
  const corner = { hemLeft: { x: 0, y: 0 }, hemRight: { x: 260, y: 0 }, topRight: { x: 260, y: -600 } };
  const topLeft = { x: 0, y: -600 };
  const edge = (id: string, role: 'hem' | 'side' | 'waist' | 'centre-front', a: Point, b: Point) => ({
    id,
    name: id,
    role,
    path: [line(a, b)],
  });
  return {
    id: 'panel',
    name: 'Panel',
    size: null,
    cutCount: 1,
    fold: 'centre-front',
    edges: [
      edge('hem', 'hem', corner.hemLeft, corner.hemRight),
      edge('side', 'side', corner.hemRight, corner.topRight),
      edge('waist', 'waist', corner.topRight, topLeft),
      edge('centre-front', 'centre-front', topLeft, corner.hemLeft),
    ],
    notches: [
      { id: 'side-notch', edge: 'side', distance: 400, style: 'single' },
      { id: 'waist-notch', edge: 'waist', distance: 30, style: 'single' },
    ],
    grainline: { start: { x: 40, y: -100 }, end: { x: 40, y: -500 } },
    drillHoles: [
      { id: 'left', at: { x: 20, y: -50 } },
      { id: 'right', at: { x: 250, y: -50 } },
    ],
    darts: [
      {
        id: 'd',
        edge: 'waist',
        apex: { x: apexX, y: -600 + depth },
        legs: [
          { x: apexX + width / 2, y: -600 },
          { x: apexX - width / 2, y: -600 },
        ],
      },
    ],
    internalLines: [{ id: 'pocket', name: 'Pocket', path: [line({ x: 200, y: -450 }, { x: 240, y: -400 })] }],
    labelAt: { x: 220, y: -200 },
  };
}

describe('reference case O09: a waist dart closed into the hem', () => {
  const reference = loadTruedCase('O09');
  const { piece, expected, trued } = reference;
  const step = closing('dart1');
  const closed = closedAs(piece, step);

  it('R36 gives the turn, the opening, the lengths and the area', () => {
    const slash = expected.cuts.find(({ id }) => id === 'S1')!;
    const [dart] = closed.darts;
    expect(Math.abs(dart!.angle - slash.angle)).toBeLessThan(1e-12);
    expect(Math.abs(dart!.radius - slash.radius!)).toBeLessThan(1e-8);
    expect(Math.abs(dart!.opening - slash.chord)).toBeLessThan(1e-8);
    for (const { id, withGaps } of expected.edges) {
      expect(Math.abs(lengthOf(closed.piece, id) - withGaps), id).toBeLessThan(1e-8);
    }
    expect(Math.abs(areaOf(closed.piece) - expected.areaAfter)).toBeLessThan(1e-6);
  });

  it('R36 places both parts', () => {
    for (const { at, move } of expected.panels) {
      const holed = { ...piece, drillHoles: [{ id: 'h', at }] };
      near(closedAs(holed, step).piece.drillHoles[0]!.at, movePoint(move, at), 1e-8);
    }
  });

  it('R36 trues it without a fan to the hem of the reference case', () => {
    const worked = granted(workPiece(piece, [step, reference.trueStep]));
    expect(Math.abs(worked.trued!.sweep - trued.sweep)).toBeLessThan(1e-4);
    expect(Math.abs(worked.trued!.area - trued.area)).toBeLessThan(1e-3);
    expect(Math.abs(worked.trued!.hemDeviation - trued.hemDeviation)).toBeLessThan(1e-4);
    expect(worked.trued!.unwantedInflections).toBe(0);
    expect(Math.abs(worked.fanned!.sweepArc - trued.arcBridged)).toBeLessThan(1e-8);
    expect(Math.abs(worked.sweepBefore! - expected.sweepBefore)).toBeLessThan(1e-8);
    expect(Math.abs(worked.areaBefore - expected.areaBefore)).toBeLessThan(1e-6);
  });
});

describe('closed forms of a dart closed into the hem (arithmetic anyone can redo)', () => {
  const angle = 2 * Math.atan(12 / 110);
  const radius = 490;

  it('R36 opens the hem by 2 r sin(angle / 2) and the area by the wedge less the dart', () => {
    const piece = panel();
    const { piece: after, darts } = closedAs(piece, closing('d'));
    expect(darts[0]!.angle).toBeCloseTo(angle, 12);
    expect(lengthOf(after, 'hem') - 260).toBeCloseTo(2 * radius * Math.sin(angle / 2), 9);
    expect(lengthOf(after, 'waist')).toBeCloseTo(260 - 24, 9);
    expect(lengthOf(after, 'side')).toBeCloseTo(600, 9);
    expect(lengthOf(after, 'centre-front')).toBe(600);
    const wedge = (radius ** 2 * Math.sin(angle)) / 2;
    expect(areaOf(after) - areaOf(piece)).toBeCloseTo(wedge - (24 * 110) / 2, 6);
  });

  it('R36 makes the legs one line and the waist one edge, and says by how much it turns there', () => {
    const { piece: after, darts, edges: traced } = closedAs(panel(), closing('d'));
    const { warnings } = granted(workPiece(panel(), [closing('d')]));
    const waist = traced.find(({ id }) => id === 'waist')!;
    expect(waist.segments.every(({ origin }) => origin.kind === 'own')).toBe(true);
    expect(after.darts).toEqual([]);
    const [seam] = darts[0]!.seam!;
    expect(distance(seam!.start, seam!.end)).toBeCloseTo(Math.hypot(12, 110), 9);
    near(seam!.end, { x: 108, y: -600 });
    expect(darts[0]!.corner).toBeCloseTo(angle, 9);
    expect(warnings.join(' ')).toContain('corner of 12°');
  });

  it('R36 says where the legs differ and by how much', () => {
    const piece = panel();
    const [dart] = piece.darts;
    const uneven = { ...piece, darts: [{ ...dart!, apex: { x: 128, y: -490 } }] };
    const { darts } = closedAs(uneven, closing('d'));
    const { warnings } = granted(workPiece(uneven, [closing('d')]));
    const difference = Math.hypot(20, 110) - Math.hypot(4, 110);
    expect(darts[0]!.legDifference).toBeCloseTo(difference, 9);
    expect(granted(workPiece(uneven, [closing('d')])).piece.darts, 'nothing of it is left').toEqual([]);
    expect(warnings.join(' ')).toContain('differ by');
  });

  it('R18 marks go with their part; the grainline stays', () => {
    const { piece: after } = closedAs(panel(), closing('d'));
    const turn = turnAbout({ x: 120, y: -490 }, -angle);
    near(after.drillHoles[0]!.at, { x: 20, y: -50 });
    near(after.drillHoles[1]!.at, movePoint(turn, { x: 250, y: -50 }));
    near(after.internalLines[0]!.path[0]!.start, movePoint(turn, { x: 200, y: -450 }));
    near(after.labelAt!, movePoint(turn, { x: 220, y: -200 }));
    expect(after.grainline).toEqual(panel().grainline);
    expect(after.notches.map(({ distance: along }) => along)).toEqual([400, expect.closeTo(30, 9)]);
    expect(after.fold).toBe('centre-front');
  });

  it('R36 the slash may leave the hem elsewhere', () => {
    const { darts } = closedAs(panel(), closing('d', 1, 0.75));
    near(darts[0]!.wedge.centreFoot, { x: 195, y: 0 });
    expect(darts[0]!.radius).toBeCloseTo(Math.hypot(75, 490), 9);
  });

  it('R36 a share of the dart turns by that share of its angle and leaves a smaller dart with the same point', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.02, max: 0.98, noNaN: true }),
        fc.double({ min: 60, max: 200, noNaN: true }),
        fc.double({ min: 6, max: 60, noNaN: true }),
        fc.double({ min: 60, max: 200, noNaN: true }),
        (share, apexX, width, depth) => {
          const whole = 2 * Math.atan(width / 2 / depth);
          const { piece: after, darts } = closedAs(panel({ apexX, width, depth }), closing('d', share));
          expect(darts[0]!.angle).toBeCloseTo(share * whole, 10);
          const [left] = after.darts;
          near(left!.apex, { x: apexX, y: -600 + depth });
          const leg = Math.hypot(width / 2, depth);
          const mouth = 2 * leg * Math.sin(((1 - share) * whole) / 2);
          expect(distance(...left!.legs)).toBeCloseTo(mouth, 8);
          expect(lengthOf(after, 'waist')).toBeCloseTo(260 - width + mouth, 8);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('R36 all of it closes the legs onto each other', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 60, max: 200, noNaN: true }),
        fc.double({ min: 6, max: 60, noNaN: true }),
        fc.double({ min: 60, max: 200, noNaN: true }),
        (apexX, width, depth) => {
          const piece = panel({ apexX, width, depth });
          const { piece: after } = closedAs(piece, closing('d'));
          const waist = after.edges.find(({ id }) => id === 'waist')!.path;
          expect(waist).toHaveLength(2);
          near(waist[0]!.end, waist[1]!.start);
          near(waist[0]!.end, piece.darts[0]!.legs[1]);
          expect(lengthOf(after, 'waist')).toBeCloseTo(260 - width, 8);
        },
      ),
      { numRuns: 40 },
    );
  });
});

describe('closing darts in a recipe', () => {
  const fanStep: FanStep = {
    kind: 'fan',
    ...edges,
    fullness: null,
    slashes: [{ id: 's1', across: 0.8, tilt: 0, opening: { measure: 'chord', hem: 30, far: 0 } }],
    centreRule: 'parallel',
    sideTurn: 0,
  };

  const slashAt = (across: number) => ({ ...fanStep.slashes[0]!, id: `at-${across}`, across });

  it('R36 none of a dart closed is the piece as it was, bit for bit', () => {
    const piece = panel();
    const bare = granted(workPiece(piece, [fanStep]));
    const closedByNone = granted(workPiece(piece, [closing('d', 0), fanStep]));
    expect(closedByNone).toEqual(bare);
    expect(bare.fanned).toEqual(granted(fan(piece, fanStep)));
  });

  it('R36 turned and mirrored pieces close alike', () => {
    const piece = panel();
    const recipe: Recipe = [closing('d', 0.7), fanStep];
    const upright = granted(workPiece(piece, recipe)).piece;
    fc.assert(
      fc.property(
        fc.double({ min: -3.1, max: 3.1, noNaN: true }),
        fc.double({ min: -300, max: 300, noNaN: true }),
        (turned, shift) => {
          const move = compose(shiftBy({ x: shift, y: -shift }), turnAbout({ x: 10, y: 20 }, turned));
          const after = granted(workPiece(movedPiece(piece, move), recipe)).piece;
          const wanted = movedPiece(upright, move);
          after.edges.forEach(({ path }, index) => {
            path.forEach((segment, at) => {
              near(segment.start, wanted.edges[index]!.path[at]!.start, 1e-8);
            });
          });
          near(after.darts[0]!.apex, wanted.darts[0]!.apex, 1e-8);
        },
      ),
      { numRuns: 15 },
    );
    const mirrored = granted(workPiece(mirrorPiece({ ...piece, locked: true }, 0), recipe)).piece;
    for (const id of ['hem', 'side', 'waist', 'centre-front']) {
      expect(lengthOf(mirrored, id)).toBeCloseTo(lengthOf(upright, id), 8);
    }
    expect(areaOf(mirrored)).toBeCloseTo(areaOf(upright), 5);
  });

  it('R36 a fan goes on with the piece whose darts are closed', () => {
    const piece = panel();
    const closed = closedAs(piece, closing('d'));
    const worked = granted(workPiece(piece, [closing('d'), fanStep]));
    const gave = 2 * 490 * Math.sin(Math.atan(12 / 110));
    expect(worked.sweepAfter).toBeCloseTo(260 + gave + 30, 9);
    expect(worked.sweepBefore).toBe(260);
    expect(worked.areaBefore).toBe(areaOf(piece));
    const alone = granted(fan(closed.piece, fanStep));
    expect(worked.fanned!.areaAfter).toBe(alone.areaAfter);
    expect(worked.lengths.find(({ id }) => id === 'waist')!.after).toBeCloseTo(236, 9);
  });

  it('every segment knows the block edge it came from', () => {
    const piece = panel();
    const worked = granted(workPiece(piece, [closing('d'), fanStep]));
    for (const edge of worked.edges) {
      for (const { segment, origin } of edge.segments) {
        if (origin.kind !== 'own') continue;
        const [block] = piece.edges.find(({ id }) => id === origin.edge)!.path;
        const along = distance(block!.start, block!.end) * (origin.to - origin.from);
        expect(distance(segment.start, segment.end)).toBeCloseTo(along, 8);
      }
    }
    const gaps = worked.edges[0]!.segments.flatMap(({ origin }) => (origin.kind === 'gap' ? [origin.cut] : []));
    expect(new Set(gaps)).toEqual(new Set(['dart:d', 's1']));
  });

  it('R36 the order in which darts are closed says nothing', () => {
    const piece = panel({ apexX: 90 });
    const second = { ...panel({ apexX: 180 }).darts[0]!, id: 'e' };
    const two = { ...piece, darts: [...piece.darts, second] };
    const one = closedAs(two, closing('d'), closing('e', 0.5)).piece;
    const other = closedAs(two, closing('e', 0.5), closing('d')).piece;
    expect(areaOf(one)).toBeCloseTo(areaOf(other), 6);
    expect(lengthOf(one, 'hem')).toBeCloseTo(lengthOf(other, 'hem'), 9);
    expect(one.darts.map(({ id }) => id)).toEqual(['e']);
  });

  it('R36 each wedge lies between its two hem corners, on the hem as it is once all darts are closed', () => {
    const piece = panel({ apexX: 90 });
    const second = { ...panel({ apexX: 180 }).darts[0]!, id: 'e' };
    const { piece: after, darts } = closedAs({ ...piece, darts: [...piece.darts, second] }, closing('d'), closing('e'));
    const hem = after.edges.find(({ id }) => id === 'hem')!.path;
    const corners = hem.slice(1).map(({ start }) => start);
    darts.forEach(({ wedge, opening, radius }, index) => {
      near(wedge.centreFoot, corners[2 * index]!);
      near(wedge.sideFoot, corners[2 * index + 1]!);
      expect(distance(wedge.centreFoot, wedge.sideFoot)).toBeCloseTo(opening, 9);
      expect(distance(wedge.apex, wedge.sideFoot)).toBeCloseTo(radius, 9);
    });
  });

  it('R36 the turns of closing and fanning add up, and every stretch of the hem knows its own', () => {
    const piece = panel();
    const worked = granted(workPiece(piece, [closing('d'), { ...fanStep, slashes: [0.2, 0.5, 0.8].map(slashAt) }]));
    const fanned = worked.fanned!;
    const alone = granted(
      fan(closedAs(piece, closing('d')).piece, { ...fanStep, slashes: [0.2, 0.5, 0.8].map(slashAt) }),
    );
    expect(fanned.totalTurn).toBeCloseTo(alone.totalTurn + 2 * Math.atan(12 / 110), 9);
    expect(fanned.sweepBefore).toBe(260);
    const hem = fanned.edges.find(({ id }) => id === 'hem')!;
    let turned = 0;
    for (const { segment, origin } of hem.segments) {
      if (origin.kind !== 'own') continue;
      const heading = Math.atan2(segment.end.y - segment.start.y, segment.end.x - segment.start.x);
      expect(panelTurn(fanned, origin.panel)).toBeCloseTo(heading, 9);
      if (Math.abs(heading) > 0.01) turned++;
    }
    expect(turned).toBeGreaterThan(1);
  });

  it('R36 where a slash starts is measured from the centre line, whichever way the outline runs', () => {
    for (const piece of [panel(), mirrorPiece({ ...panel(), locked: true }, 0)]) {
      for (const [foot, told] of [
        [0.7, 0.7],
        [null, 120 / 260],
      ] as const) {
        expect(granted(dartReach(piece, closing('d', 1, foot))).foot).toBeCloseTo(told, 9);
        const moved = closedAs(piece, closing('d', 1, foot)).darts[0]!;
        expect(Math.abs(moved.wedge.centreFoot.x)).toBeCloseTo(told * 260, 9);
      }
    }
  });

  it('R36 what a dart opens when all of it is closed asks for exactly all of it', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 6, max: 60, noNaN: true }),
        fc.double({ min: 60, max: 200, noNaN: true }),
        (width, depth) => {
          const reach = granted(dartReach(panel({ width, depth }), closing('d')));
          expect(shareOfOpening(reach, openingOfShare(reach, 1))).toBe(1);
          expect(shareOfOpening(reach, openingOfShare(reach, 1) - 1e-9)).toBe(1);
          expect(shareOfOpening(reach, openingOfShare(reach, 0.4))).toBeCloseTo(0.4, 9);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('R14 a slash line across an open dart is refused with the offer to close it; closed, it is cut', () => {
    const across = { ...fanStep, slashes: [{ ...fanStep.slashes[0]!, across: 116 / 260 }] };
    const refused = workPiece(panel(), [across]);
    expect(refusalOf(refused)).toBe('cut-crosses-dart');
    expect(refused.ok ? '' : refused.sentence).toContain('Close that dart into the hem');
    expect(refusalOf(workPiece(panel(), [closing('d'), across]))).toBe('accepted');
  });

  it('the fold, the side seam and the hem come out trued, square and as long as before', () => {
    const [front] = draftStraightSkirt().blocks;
    const reference = loadTruedCase('O09');
    const steps: Recipe = [
      closing('waist-dart'),
      { ...fanStep, slashes: [] },
      { ...reference.trueStep, side: { up: 60, down: 80, fullness: 0.8 } },
    ];
    const worked = granted(workPiece(front!, steps));
    const side = worked.lengths.find(({ id }) => id === 'side')!;
    expect(side.after).toBeCloseTo(side.before, 6);
    expect(worked.piece.fold).toBe(front!.fold);
    expect(worked.trued!.cornerCentre).toBeCloseTo(Math.PI / 2, 9);
    expect(worked.trued!.cornerSide).toBeCloseTo(Math.PI / 2, 9);
  });

  it('R36 says how far the grain has turned beyond each slash, through the wedge too', () => {
    const lines = [0.2, 0.45, 0.9].map((across, index) => ({
      id: `s${index}`,
      across,
      tilt: 0,
      opening: { measure: 'angle', angle: 0.05 } as const,
    }));
    const step = { ...fanStep, slashes: lines };
    const { fanned } = granted(workPiece(panel(), [closing('d'), step]));
    const turned = lines.map(({ id }) => grainBeyond(fanned!, step, fanned!.cuts.find((cut) => cut.id === id)!));
    const dart = 2 * Math.atan(12 / 110);
    // The first line lies on the centre's side of the dart, the second in its wedge, the third beyond.
    expect(turned[0]).toBeCloseTo(0.05, 9);
    expect(turned[1]).toBeCloseTo(0.1 + dart, 9);
    expect(turned[2]).toBeCloseTo(0.15 + dart, 9);
  });

  it('refuses what cannot be closed', () => {
    const piece = panel();
    const onHem = { ...piece.darts[0]!, edge: 'hem' };
    expect(refusalOf(closeDarts({ ...piece, darts: [onHem] }, [closing('d')]))).toBe('dart-opens-at-hem');
    const onCentre = { ...piece.darts[0]!, edge: 'centre-front' };
    expect(refusalOf(closeDarts({ ...piece, darts: [onCentre] }, [closing('d')]))).toBe('dart-on-centre-line');
    expect(refusalOf(closeDarts(piece, [closing('gone')]))).toBe('dart-unknown');
    const past = { ...piece, darts: [{ ...piece.darts[0]!, apex: { x: 300, y: -490 } }] };
    expect(refusalOf(closeDarts(past, [closing('d')]))).toBe('dart-slash-misses-hem');
  });
});
