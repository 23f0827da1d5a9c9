import { line } from '../../src/geometry/segment';
import type { Cut, CutOpening, SideTurn, SpreadPlan } from '../../src/operations/linkage/plan';
import type { Piece } from '../../src/pattern/piece';

/** A rectangle with its centre line at x = 0, hem at y = 0 and top at y = -length, mm. */
export function rectangle(width: number, length: number): Piece {
  const [a, b, c, d] = [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: -length },
    { x: 0, y: -length },
  ];
  return {
    id: 'rectangle',
    name: 'Rectangle',
    edges: [
      { id: 'hem', name: 'hem', role: 'hem', path: [line(a, b)] },
      { id: 'side', name: 'side seam', role: 'side', path: [line(b, c)] },
      { id: 'top', name: 'waist', role: 'waist', path: [line(c, d)] },
      { id: 'centre', name: 'centre front', role: 'centre-front', path: [line(d, a)] },
    ],
    notches: [],
    grainline: null,
    fold: null,
    drillHoles: [],
    darts: [],
    internalLines: [],
    labelAt: null,
    cutCount: 1,
    size: null,
  };
}

/** A cut straight up from the hem at x to the top edge (or another target). */
export function slashAt(x: number, opening: CutOpening, to: Cut['to'] = { kind: 'edge', edge: 'top' }): Cut {
  return {
    id: `x${x}`,
    name: `the slash at ${x}`,
    from: 'hem',
    to,
    course: { kind: 'line', through: { x, y: 0 }, direction: { x: 0, y: -1 } },
    hinge: null,
    drop: null,
    opening,
  };
}

/**
 * The rectangle in n strips of one width: every slash opens by turn / n, both sides by half of that, so that all of it
 * turns by `turn`, radians. The first strip stays.
 */
export function sectorPlan(width: number, length: number, strips: number, turn: number): SpreadPlan {
  const angle = turn / strips;
  const side = (edge: string, x: number): SideTurn => ({
    edge,
    hinge: { x, y: -length },
    opening: { kind: 'angle', angle: angle / 2 },
  });
  return {
    hem: 'hem',
    fixed: { x: width / strips / 2, y: -length / 2 },
    cuts: Array.from({ length: strips - 1 }, (_, k) => slashAt((width * (k + 1)) / strips, { kind: 'angle', angle })),
    sideTurns: [side('side', width), side('centre', 0)],
  };
}
