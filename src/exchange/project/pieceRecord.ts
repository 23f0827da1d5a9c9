import type { BlockPiece } from '../../pattern/garment';
import {
  type Dart,
  type DrillHole,
  type Edge,
  edgeRoles,
  type Grainline,
  type InternalLine,
  type Notch,
} from '../../pattern/piece';
import { type Found, flag, list, Misread, number, oneOf, orNull, record, text } from './decode';
import { readPath, readPoint, writePath, writePoint } from './pathCommands';

/** A block piece as it stands in a project file. */
export function writePiece(piece: BlockPiece): unknown {
  return {
    id: piece.id,
    name: piece.name,
    size: piece.size,
    locked: piece.locked,
    cutCount: piece.cutCount,
    fold: piece.fold,
    edges: piece.edges.map(({ id, name, role, path }) => ({ id, name, role, path: writePath(path) })),
    notches: piece.notches.map(({ id, edge, distance, style }) => ({ id, edge, distance, style })),
    grainline: piece.grainline && [writePoint(piece.grainline.start), writePoint(piece.grainline.end)],
    drillHoles: piece.drillHoles.map(({ id, at }) => ({ id, at: writePoint(at) })),
    darts: piece.darts.map(({ id, edge, apex, legs }) => ({
      id,
      edge,
      apex: writePoint(apex),
      legs: legs.map(writePoint),
    })),
    internalLines: piece.internalLines.map(({ id, name, path }) => ({ id, name, path: writePath(path) })),
    labelAt: piece.labelAt && writePoint(piece.labelAt),
  };
}

export function readPiece(found: Found): BlockPiece {
  return record(found, ({ take }) => ({
    id: take('id', text),
    name: take('name', text),
    size: take('size', orNull(text)),
    edges: take('edges', list(readEdge)),
    notches: take('notches', list(readNotch)),
    grainline: take('grainline', orNull(readGrainline)),
    fold: take('fold', orNull(text)),
    drillHoles: take('drillHoles', list(readHole)),
    darts: take('darts', list(readDart)),
    internalLines: take('internalLines', list(readInternalLine)),
    labelAt: take('labelAt', orNull(readPoint)),
    cutCount: take('cutCount', number),
    locked: take('locked', flag),
  }));
}

function readEdge(found: Found): Edge {
  return record(found, ({ take }) => ({
    id: take('id', text),
    name: take('name', text),
    role: take('role', oneOf(edgeRoles)),
    path: take('path', readPath),
  }));
}

function readNotch(found: Found): Notch {
  return record(found, ({ take }) => ({
    id: take('id', text),
    edge: take('edge', text),
    distance: take('distance', number),
    style: take('style', oneOf(['single', 'double'] as const)),
  }));
}

function readGrainline(found: Found): Grainline {
  const [start, end] = pair(found);
  return { start, end };
}

function readHole(found: Found): DrillHole {
  return record(found, ({ take }) => ({ id: take('id', text), at: take('at', readPoint) }));
}

function readDart(found: Found): Dart {
  return record(found, ({ take }) => ({
    id: take('id', text),
    edge: take('edge', text),
    apex: take('apex', readPoint),
    legs: take('legs', pair),
  }));
}

function readInternalLine(found: Found): InternalLine {
  return record(found, ({ take }) => ({
    id: take('id', text),
    name: take('name', text),
    path: take('path', readPath),
  }));
}

function pair(found: Found) {
  const [first, second, ...more] = list(readPoint)(found);
  if (!first || !second || more.length > 0) throw new Misread(found.place, 'two points');
  return [first, second] as const;
}
