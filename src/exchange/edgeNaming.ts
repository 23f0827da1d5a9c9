import { containsPoint, enclosedArea } from '../geometry/area';
import { pathBounds } from '../geometry/bounds';
import { flattenPath } from '../geometry/flatten';
import { intersectLineWithPath } from '../geometry/intersect';
import { nearestOnPath } from '../geometry/nearest';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import { pathLength } from '../geometry/path';
import { add, cross, distance, type Point, scale, subtract, unit } from '../geometry/point';
import type { Path } from '../geometry/segment';
import { notchReach, straightEnough } from '../geometry/tolerance';
import type { DrillHole, Edge, EdgeRole, Grainline, Notch, NotchStyle, Piece } from '../pattern/piece';
import { validatePiece } from '../pattern/validate';
import { edgeParts, type OutlinePlace, straightLine } from './edgeParts';

/** A corner of the outline, and what the edge is that starts there. */
export interface EdgeStart extends OutlinePlace {
  readonly name: string;
  readonly role: EdgeRole;
}

export interface PieceAnswers {
  readonly id: string;
  readonly name: string;
  /** null or blank: none is given. */
  readonly size?: string | null;
  /** Closed, mm, counter-clockwise as seen on screen. */
  readonly outline: Path;
  /** In order along the outline. */
  readonly corners: readonly EdgeStart[];
  /** Which edge lies on the fold: index of the corner it starts at; null for none. */
  readonly fold: number | null;
  /** `default` lays one along the centre line (or upright) through the middle of the piece; null for none. */
  readonly grainline: Grainline | 'default' | null;
  /** Points clicked on or close to the outline. */
  readonly notches: readonly { readonly at: Point; readonly style: NotchStyle }[];
  readonly drillHoles: readonly Point[];
  readonly cutCount: number;
}

/**
 * Turns an outline and the maker's answers into a pattern piece, or says what is still missing. The fold edge is drawn
 * as one straight line when it leaves the straight by half a millimetre at most; every other line stays as it is.
 */
export function buildPiece(answers: PieceAnswers): Outcome<Piece> {
  const { id, outline, corners, cutCount } = answers;
  const name = answers.name.trim();
  if (name === '') return fail('piece-unnamed', 'Give the piece a name.');
  if (!isClosed(outline)) {
    return fail('outline-open', 'The outline is not closed. Join its ends first, or choose another line.');
  }
  if (!(enclosedArea(outline) > 0)) {
    return fail('outline-wrong-way', 'The outline encloses nothing, or runs the wrong way round. Choose it again.');
  }
  const parts = edgeParts(outline, corners);
  if (!parts.ok) return parts;
  const unnamed = corners.findIndex((corner) => corner.name.trim() === '');
  if (unnamed >= 0) return fail('edge-unnamed', `Give edge ${unnamed + 1} a name.`);
  const edges = nameEdges(parts.value, corners);
  const folded = answers.fold === null ? succeed({ edges, fold: null }) : layFold(edges, answers.fold);
  if (!folded.ok) return folded;
  const notches = placeNotches(folded.value.edges, answers.notches);
  if (!notches.ok) return notches;
  const grainline = answers.grainline === 'default' ? defaultGrainline(folded.value.edges) : answers.grainline;
  const piece: Piece = {
    id,
    name,
    size: answers.size?.trim() || null,
    edges: folded.value.edges,
    notches: notches.value,
    grainline,
    fold: folded.value.fold,
    drillHoles: answers.drillHoles.map((at, i): DrillHole => ({ id: `hole-${i + 1}`, at })),
    darts: [],
    internalLines: [],
    labelAt: null,
    cutCount,
  };
  const broken = validatePiece(piece)[0];
  return broken ? fail(broken.code, broken.sentence) : succeed(piece);
}

function isClosed(outline: Path): boolean {
  const first = outline[0];
  const last = outline.at(-1);
  return first !== undefined && last !== undefined && distance(first.start, last.end) === 0;
}

/** Ids come from the role, numbered where a role occurs more than once: `hem`, `side`, `side-2`. */
function nameEdges(parts: readonly Path[], corners: readonly EdgeStart[]): Edge[] {
  const used = new Map<EdgeRole, number>();
  return parts.map((path, i) => {
    const { role, name } = corners[i]!;
    const count = (used.get(role) ?? 0) + 1;
    used.set(role, count);
    const stem = role === 'other' ? 'edge' : role;
    return { id: count === 1 && role !== 'other' ? stem : `${stem}-${count}`, name: name.trim(), role, path };
  });
}

function layFold(edges: readonly Edge[], index: number): Outcome<{ edges: readonly Edge[]; fold: string }> {
  const edge = edges[index];
  if (!edge) return fail('fold-unknown', 'The edge on the fold is not there any more. Choose it again.');
  const path = straightLine(edge.path);
  const off = leavesStraight(edge.path);
  if (off > straightEnough) {
    return fail(
      'fold-not-straight',
      `“${edge.name}” cannot lie on the fold: it leaves the straight by ${off.toFixed(1)} mm, and ${straightEnough} mm is the most. Straighten it, choose another edge, or cut the piece without a fold.`,
    );
  }
  const unchanged = edge.path.length === 1 && edge.path[0]!.kind === 'line';
  return succeed({
    edges: unchanged ? edges : edges.map((other) => (other === edge ? { ...edge, path } : other)),
    fold: edge.id,
  });
}

/** The edge as one straight line for the fold; null where it leaves the straight by more than may be drawn straight. */
export function straightForFold(edge: Path): Path | null {
  return leavesStraight(edge) > straightEnough ? null : straightLine(edge);
}

/** How far an edge leaves the straight line between its ends, mm. */
function leavesStraight(edge: Path): number {
  const start = edge[0]!.start;
  const along = unit(subtract(edge.at(-1)!.end, start));
  // One by one: a traced edge can have more points than a call takes arguments.
  return flattenPath(edge, 0.01).reduce((most, p) => Math.max(most, Math.abs(cross(along, subtract(p, start)))), 0);
}

function placeNotches(
  edges: readonly Edge[],
  clicked: readonly { readonly at: Point; readonly style: NotchStyle }[],
): Outcome<Notch[]> {
  const notches: Notch[] = [];
  for (const [i, { at, style }] of clicked.entries()) {
    const places = edges.map((edge) => ({ edge, near: nearestOnPath(edge.path, at) }));
    const { edge, near } = places.reduce((best, place) => (place.near.distance < best.near.distance ? place : best));
    if (!(near.distance <= notchReach)) {
      return fail(
        'notch-off-outline',
        `Notch ${i + 1} is ${near.distance.toFixed(0)} mm away from the outline. Click closer to the edge it belongs to.`,
      );
    }
    notches.push({ id: `notch-${i + 1}`, edge: edge.id, distance: Math.min(near.along, pathLength(edge.path)), style });
  }
  return succeed(notches);
}

/**
 * A grainline parallel to the centre line (upright when there is none), through the middle of the piece and as long as
 * three fifths of the piece there. Null for a piece too thin to hold one.
 */
function defaultGrainline(edges: readonly Edge[]): Grainline | null {
  const outline = edges.flatMap((edge) => edge.path);
  const centre = edges.find((edge) => edge.role === 'centre-front' || edge.role === 'centre-back');
  const box = pathBounds(outline);
  const middle = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const along = centre ? upright(subtract(centre.path.at(-1)!.end, centre.path[0]!.start)) : { x: 0, y: -1 };
  const crossings = intersectLineWithPath(middle, along, outline).map((found) => found.along);
  let longest: { from: number; to: number } | null = null;
  for (let i = 0; i + 1 < crossings.length; i++) {
    const [from, to] = [crossings[i]!, crossings[i + 1]!];
    const inside = containsPoint(outline, add(middle, scale(along, (from + to) / 2)));
    if (inside && (!longest || to - from > longest.to - longest.from)) longest = { from, to };
  }
  if (!longest || longest.to - longest.from < 1) return null;
  const fifth = (longest.to - longest.from) / 5;
  return {
    start: add(middle, scale(along, longest.from + fifth)),
    end: add(middle, scale(along, longest.to - fifth)),
  };
}

/** The direction pointing up the page, or to the right where it lies across. */
function upright(direction: Point): Point {
  const along = unit(direction);
  return along.y > 0 || (along.y === 0 && along.x < 0) ? scale(along, -1) : along;
}
