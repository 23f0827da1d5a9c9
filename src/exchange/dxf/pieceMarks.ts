import { enclosedArea } from '../../geometry/area';
import { type Affine, chain, mapPoint } from '../drawing/affine';
import type { DrawnMark, DrawnShape } from '../drawing/drawingReading';
import { planeMap } from './frame';
import { dxfLimits } from './limits';
import { type Entry, numberIn } from './pairs';
import { boundaryLayer, drillLayer, grainLayer, layerInWords, notchLayer } from './pieceFile';

type Loose<M> = M extends DrawnMark ? Omit<M, 'shape'> : never;

/** Gathers what the layers of one piece's block tell: notches, drill holes and the grainline. */
export class PieceMarks {
  readonly marks: Loose<DrawnMark>[] = [];

  constructor(
    private readonly firstShape: number,
    readonly name: string | null,
  ) {}

  /** Looks at an entity of the block; only points, circles and lines on the layers of marks are any. */
  meet(entry: Entry, layer: string, map: Affine): void {
    const { type } = entry;
    if (layer === notchLayer && type === 'POINT') this.add('notch', entry, map);
    else if (layer === drillLayer && (type === 'POINT' || type === 'CIRCLE')) this.add('drill', entry, map);
    else if (layer === grainLayer && type === 'LINE') {
      const [from, to] = [at(entry, 10, map), at(entry, 11, map)];
      if (from && to) this.marks.push({ kind: 'grain', from, to });
    }
  }

  /** Index of the largest shape on the boundary layer among those drawn since the block began; null without one. */
  outlineIn(drawn: readonly Omit<DrawnShape, 'id'>[]): number | null {
    const boundary = layerInWords(boundaryLayer);
    let best: number | null = null;
    let largest = -1;
    for (let i = this.firstShape; i < drawn.length; i++) {
      const shape = drawn[i]!;
      if (shape.layer !== boundary) continue;
      const size = shape.closed ? Math.abs(enclosedArea(shape.path)) : 0;
      if (size > largest) {
        largest = size;
        best = i;
      }
    }
    return best;
  }

  private add(kind: 'notch' | 'drill', entry: Entry, map: Affine): void {
    const plane = entry.type === 'CIRCLE' ? planeMap(entry) : null;
    const place = at(entry, 10, plane ? chain(map, plane) : map);
    if (place) this.marks.push({ kind, at: place });
  }
}

function at(entry: Entry, code: number, map: Affine): { x: number; y: number } | null {
  const point = mapPoint(map, {
    x: numberIn(entry, code, Number.NaN),
    y: numberIn(entry, code + 10, Number.NaN),
  });
  const isBelievable = Math.abs(point.x) <= dxfLimits.coordinate && Math.abs(point.y) <= dxfLimits.coordinate;
  return isBelievable ? point : null;
}
