import { readdirSync, readFileSync } from 'node:fs';
import { pathLength } from '../../src/geometry/path';
import type { Point } from '../../src/geometry/point';
import type { RigidMove } from '../../src/geometry/rigidMove';
import { cubic, line, type Path, type Segment } from '../../src/geometry/segment';
import type { Cut, CutCourse, CutOpening, SideTurn, SpreadPlan } from '../../src/operations/linkage/plan';
import { type EdgeRole, edgeRoles, type Piece } from '../../src/pattern/piece';

/**
 * Reference cases, tests/fixtures/cases/*.json, brought into our frame: the files are in cm with y up, we are in mm with
 * y down, so y is mirrored, lengths times 10, areas times 100 and every angle changes sign.
 */
export interface ReferenceCase {
  readonly id: string;
  readonly title: string;
  readonly piece: Piece;
  readonly plan: SpreadPlan;
  readonly expected: ExpectedSpread;
}

export interface ExpectedSpread {
  readonly panels: readonly {
    readonly name: string;
    readonly at: Point;
    readonly move: RigidMove;
    readonly area: number;
  }[];
  readonly cuts: readonly {
    readonly id: string;
    readonly pivot: Point | null;
    readonly radius: number | null;
    readonly length: number;
    readonly angle: number;
    readonly chord: number;
  }[];
  readonly sideTurns: readonly { readonly edge: string; readonly radius: number; readonly angle: number }[];
  readonly edges: readonly {
    readonly id: string;
    readonly before: number;
    readonly own: number;
    readonly withGaps: number;
  }[];
  readonly gapAreas: readonly { readonly id: string; readonly area: number }[];
  readonly sweepBefore: number;
  readonly sweepChord: number;
  /** null where the case gives none (overlaps). */
  readonly sweepArc: number | null;
  readonly areaBefore: number;
  readonly areaAfter: number;
  readonly notches: readonly { readonly edge: string; readonly to: Point }[];
  readonly drillHoles: readonly { readonly from: Point; readonly to: Point }[];
  /** Start and end of the placed hem, either way round. */
  readonly hemEnds: readonly Point[];
  readonly drop: number | null;
  readonly fill: number | null;
}

// biome-ignore lint/suspicious/noExplicitAny: the files are checked by what the tests read from them
type Json = any;

const folder = new URL('../fixtures/cases/', import.meta.url);

export function caseIds(): string[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .map((name) => name.replace('.json', ''))
    .sort();
}

export function loadCase(id: string): ReferenceCase {
  const file = caseIds().find((name) => name === id || name.startsWith(`${id}-`));
  const json: Json = JSON.parse(readFileSync(new URL(`${file}.json`, folder), 'utf8'));
  return {
    id: json.id,
    title: json.title,
    piece: readPiece(json.piece),
    plan: readPlan(json.spread),
    expected: readExpected(json.expected),
  };
}

function readPoint([x, y]: [number, number]): Point {
  return { x: 10 * x, y: -10 * y };
}

function readDirection([x, y]: [number, number]): Point {
  return { x, y: -y };
}

function readPath(commands: Json[]): Path {
  const path: Segment[] = [];
  let at: Point = { x: 0, y: 0 };
  for (const [letter, ...numbers] of commands) {
    const points: Point[] = [];
    for (let i = 0; i < numbers.length; i += 2) points.push(readPoint([numbers[i], numbers[i + 1]]));
    const end = points[points.length - 1]!;
    if (letter === 'L') path.push(line(at, end));
    if (letter === 'C') path.push(cubic(at, points[0]!, points[1]!, end));
    at = end;
  }
  return path;
}

const roleOfEdge: Record<string, EdgeRole> = { top: 'waist', neck: 'neckline', outer: 'hem' };

function readRole(name: string): EdgeRole {
  return roleOfEdge[name] ?? edgeRoles.find((role) => role === name) ?? 'other';
}

function readPiece(json: Json): Piece {
  const edges = json.outline.map(({ edge, path }: Json) => ({
    id: edge,
    name: edge,
    role: readRole(edge),
    path: readPath(path),
  }));
  return {
    id: json.name,
    name: json.name,
    edges,
    notches: (json.notches ?? []).map(({ edge, fraction }: Json, index: number) => ({
      id: `n${index + 1}`,
      edge,
      distance: fraction * pathLength(edges.find(({ id }: Json) => id === edge).path),
      style: 'single',
    })),
    grainline: json.grainline ? { start: readPoint(json.grainline[0]), end: readPoint(json.grainline[1]) } : null,
    fold: null,
    drillHoles: (json.drills ?? []).map((at: Json, index: number) => ({ id: `d${index + 1}`, at: readPoint(at) })),
    darts: (json.darts ?? []).map(({ edge, apex, legs }: Json, index: number) => ({
      id: `dart${index + 1}`,
      edge,
      apex: readPoint(apex),
      // The files give legs from the centre; ours follow the outline.
      legs: [readPoint(legs[1]), readPoint(legs[0])],
    })),
    internalLines: [],
    labelAt: null,
    cutCount: 1,
    size: null,
  };
}

function readPlan(json: Json): SpreadPlan {
  const turns = json.side_half === undefined ? [] : [json.side_half].flat();
  return {
    hem: json.hem,
    fixed: readPoint(json.fixed),
    cuts: json.cuts.map(readCut),
    sideTurns: turns.map(readSideTurn),
  };
}

function readCut(json: Json): Cut {
  const course: CutCourse = json.line
    ? { kind: 'line', through: readPoint(json.line.through), direction: readDirection(json.line.dir) }
    : { kind: 'path', path: readPath(json.path) };
  return {
    id: json.id,
    name: `cut ${json.id}`,
    from: json.from.edge,
    to: json.to.edge === undefined ? { kind: 'cut', cut: json.to.cut } : { kind: 'edge', edge: json.to.edge },
    course,
    hinge: json.hinge ? readPoint(json.hinge.at) : null,
    drop: json.drop ? readPoint(json.drop) : null,
    opening: readOpening(json.open),
  };
}

function readOpening(json: Json): CutOpening {
  if (json === undefined) return { kind: 'none' };
  if (json.chord !== undefined) return { kind: 'chord', width: 10 * json.chord };
  // An opening is a size, not a direction: it keeps its sign in either frame.
  if (json.angle_deg !== undefined) return { kind: 'angle', angle: radians(json.angle_deg) };
  if (json.near !== undefined) return { kind: 'unequal', far: 10 * json.far, near: 10 * json.near };
  if (json.dart !== undefined) {
    const [a, b] = json.dart.legs;
    return { kind: 'dart', legs: [readPoint(a), readPoint(b)], fraction: json.dart.fraction };
  }
  if (json.rule !== undefined) {
    // Without a line the case's centre line is x = 0, with the hem corner at the origin.
    const centre = json.line ?? { through: [0, 0], dir: [0, 1] };
    return {
      kind: 'centre',
      rule: json.rule,
      panel: readPoint(json.panel),
      line: { through: readPoint(centre.through), direction: readDirection(centre.dir) },
      corner: readPoint(json.corner ?? [0, 0]),
    };
  }
  throw new Error(`Unknown opening ${JSON.stringify(json)}`);
}

function readSideTurn(json: Json): SideTurn {
  return {
    edge: json.edge,
    hinge: readPoint(json.hinge),
    opening:
      json.chord === undefined
        ? { kind: 'angle', angle: radians(json.angle_deg) }
        : { kind: 'chord', width: 10 * json.chord },
  };
}

function readExpected(json: Json): ExpectedSpread {
  const marks: Json[] = json.marks ?? [];
  return {
    panels: json.panels.map(({ name, at, angle_deg, cos, sin, tx, ty, area }: Json) => ({
      name,
      at: readPoint(at),
      move: { angle: -radians(angle_deg), cos, sin: -sin, tx: 10 * tx, ty: -10 * ty },
      area: 100 * area,
    })),
    cuts: Object.entries<Json>(json.cuts).map(([id, cut]) => ({
      id,
      pivot: cut.pivot === null ? null : readPoint(cut.pivot),
      radius: cut.r === null ? null : 10 * cut.r,
      length: 10 * cut.length,
      angle: radians(cut.theta_deg),
      chord: 10 * cut.chord,
    })),
    sideTurns: (json.half ?? []).map(({ edge, r, theta_deg }: Json) => ({
      edge,
      radius: 10 * r,
      angle: radians(theta_deg),
    })),
    edges: Object.entries<Json>(json.edges).map(([id, edge]) => ({
      id,
      before: 10 * edge.before,
      own: 10 * edge.after_own,
      withGaps: 10 * edge.after_with_gaps,
    })),
    gapAreas: Object.entries<number>(json.gap_areas).map(([id, area]) => ({ id, area: 100 * area })),
    sweepBefore: 10 * json.sweep_before,
    sweepChord: 10 * json.sweep_after_chord,
    sweepArc: json.sweep_after_arc === undefined ? null : 10 * json.sweep_after_arc,
    areaBefore: 100 * json.area_before,
    areaAfter: 100 * json.area_after_chord,
    notches: marks.filter(({ kind }) => kind === 'notch').map(({ edge, to }) => ({ edge, to: readPoint(to) })),
    drillHoles: marks
      .filter(({ kind }) => kind === 'drill')
      .map(({ frm, to }) => ({ from: readPoint(frm), to: readPoint(to) })),
    hemEnds: json.hem_ends.map(readPoint),
    drop: json.drop === undefined ? null : 10 * json.drop,
    fill: json.cf_offset === undefined ? null : 10 * json.cf_offset,
  };
}

function radians(degrees: number): number {
  return (degrees * Math.PI) / 180;
}
