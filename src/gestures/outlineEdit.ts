import { add, distance, type Point, scale, subtract, unit } from '../geometry/point';
import type { Path, Segment } from '../geometry/segment';
import { samePoint } from '../geometry/tolerance';
import type { Edge, Piece } from '../pattern/piece';

/** A node of an outline: the start of a segment of an edge. */
export interface NodePlace {
  readonly edge: string;
  readonly segment: number;
}

/** A node with what can be taken hold of there, mm in the piece's frame. */
export interface OutlineNode extends NodePlace {
  readonly at: Point;
  /** Handle of the curve that arrives; null when a straight line does. */
  readonly handleIn: Point | null;
  /** Handle of the curve that leaves. */
  readonly handleOut: Point | null;
  /** The first point of an edge: moving it moves two edges. */
  readonly corner: boolean;
}

/** Handles within this angle of one straight line make a smooth node, radians. */
const smoothWithin = 0.02;

/** All nodes in the order of the outline. */
export function outlineNodes(piece: Piece): OutlineNode[] {
  const { edges } = piece;
  return edges.flatMap((edge, edgeIndex) => {
    const before = edges[(edgeIndex - 1 + edges.length) % edges.length]!;
    return edge.path.map((segment, index) => {
      const arriving = index === 0 ? before.path.at(-1)! : edge.path[index - 1]!;
      return {
        edge: edge.id,
        segment: index,
        at: segment.start,
        handleIn: arriving.kind === 'cubic' ? arriving.control2 : null,
        handleOut: segment.kind === 'cubic' ? segment.control1 : null,
        corner: index === 0,
      };
    });
  });
}

/** The outline with one node moved to `to`; its curve handles go with it. Marks measured along edges stay in place. */
export function moveNode<P extends Piece>(piece: P, place: NodePlace, to: Point): P {
  const found = findNode(piece, place);
  if (found === null) return piece;
  const shift = subtract(to, found.at);
  return redraw(piece, place, {
    arriving: (segment) =>
      segment.kind === 'line'
        ? { ...segment, end: to }
        : { ...segment, control2: add(segment.control2, shift), end: to },
    leaving: (segment) =>
      segment.kind === 'line'
        ? { ...segment, start: to }
        : { ...segment, start: to, control1: add(segment.control1, shift) },
  });
}

/** The outline with one curve handle moved to `to`. At a smooth node the other handle turns along unless `alone`. */
export function moveHandle<P extends Piece>(
  piece: P,
  place: NodePlace,
  which: 'in' | 'out',
  to: Point,
  alone: boolean,
): P {
  const node = findNode(piece, place);
  if (node === null) return piece;
  const other = which === 'in' ? node.handleOut : node.handleIn;
  const turned =
    other !== null && !alone && isSmooth(node)
      ? add(node.at, scale(unit(subtract(node.at, to)), distance(other, node.at)))
      : other;
  const handleIn = which === 'in' ? to : turned;
  const handleOut = which === 'out' ? to : turned;
  return redraw(piece, place, {
    arriving: (segment) => (segment.kind === 'cubic' && handleIn ? { ...segment, control2: handleIn } : segment),
    leaving: (segment) => (segment.kind === 'cubic' && handleOut ? { ...segment, control1: handleOut } : segment),
  });
}

export function findNode(piece: Piece, place: NodePlace): OutlineNode | null {
  return outlineNodes(piece).find((node) => node.edge === place.edge && node.segment === place.segment) ?? null;
}

/** Whether the two handles lie on one line through the node. */
function isSmooth(node: OutlineNode): boolean {
  if (node.handleIn === null || node.handleOut === null) return false;
  const a = subtract(node.at, node.handleIn);
  const b = subtract(node.handleOut, node.at);
  if (distance(node.at, node.handleIn) < samePoint || distance(node.at, node.handleOut) < samePoint) return false;
  const bend = Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
  return Math.abs(bend) < smoothWithin;
}

interface Redraw {
  arriving(segment: Segment): Segment;
  leaving(segment: Segment): Segment;
}

function redraw<P extends Piece>(piece: P, place: NodePlace, change: Redraw): P {
  const edgeIndex = piece.edges.findIndex((edge) => edge.id === place.edge);
  const beforeIndex = place.segment === 0 ? (edgeIndex - 1 + piece.edges.length) % piece.edges.length : edgeIndex;
  const beforeLast = place.segment === 0 ? piece.edges[beforeIndex]!.path.length - 1 : place.segment - 1;
  const edges = piece.edges.map((candidate, index): Edge => {
    let { path } = candidate;
    if (index === beforeIndex) path = withSegment(path, beforeLast, change.arriving);
    if (index === edgeIndex) path = withSegment(path, place.segment, change.leaving);
    return path === candidate.path ? candidate : { ...candidate, path };
  });
  return { ...piece, edges };
}

function withSegment(path: Path, at: number, change: (segment: Segment) => Segment): Path {
  return path.map((segment, index) => (index === at ? change(segment) : segment));
}
