import { distance, type Point } from '../geometry/point';
import { line, type Path } from '../geometry/segment';
import type { LengthUnit } from '../pattern/garment';
import { type PictureDraft, partNow } from '../store/pictureDraft';
import { spotsOf } from '../store/pictureSpots';
import { formatLength } from '../units/length';
import { blankSketch, type Drawing, type Sketch, stroke } from './drawing';
import { drawTape } from './overlayDrawing';

const known = new WeakMap<PictureDraft, { readonly unit: LengthUnit; readonly drawing: Drawing }>();

/** What is marked on a picture, table mm: the sheet's border and corners, a known length, shared places. */
export function pictureDrawing(picture: PictureDraft, unit: LengthUnit): Drawing {
  const before = known.get(picture);
  if (before?.unit === unit) return before.drawing;
  const drawing = drawMarks(picture, unit);
  known.set(picture, { unit, drawing });
  return drawing;
}

function drawMarks(picture: PictureDraft, unit: LengthUnit): Drawing {
  const sketch = blankSketch();
  const { beside, corners } = partNow(picture);
  if (picture.stage === 'corners' && beside.kind !== 'scan') drawSheet(sketch, corners, beside, unit);
  if (picture.stage === 'check' && picture.tape !== null) drawTape(sketch, picture.tape.from, picture.tape.to, '');
  for (const spot of spotsOf(picture)) {
    const state = spot.id === picture.chosen ? 'selected' : 'plain';
    sketch.glyphs.push({ kind: 'knob', at: spot.at, angle: 0, ink: 'accent', state });
    const number = /\d+/.exec(spot.name)?.[0];
    if (number !== undefined) sketch.labels.push(word(spot.at, number));
  }
  if (picture.stage === 'outline' && picture.inside !== null) {
    sketch.glyphs.push({ kind: 'snap', at: picture.inside, angle: 0, ink: 'accent' });
    sketch.labels.push(word(picture.inside, 'here'));
  }
  return sketch;
}

/** The border that is taken for the sheet, its two lengths written where they run. */
function drawSheet(
  sketch: Sketch,
  corners: readonly Point[],
  { width, height }: { readonly width: number; readonly height: number },
  unit: LengthUnit,
): void {
  const border: Path = corners.slice(1).map((corner, index) => line(corners[index]!, corner));
  const [first, second, third, last] = corners;
  const closed = first !== undefined && last !== undefined ? [...border, line(last, first)] : border;
  sketch.shapes.push(stroke([closed], 'sheet', 3.6, { alpha: 0.7 }), stroke([closed], 'accent', 1.6));
  if (first !== undefined && second !== undefined && width > 0)
    sketch.labels.push(lengthAt(first, second, width, unit));
  if (second !== undefined && third !== undefined && height > 0) {
    sketch.labels.push(lengthAt(second, third, height, unit));
  }
}

function lengthAt(from: Point, to: Point, length: number, unit: LengthUnit) {
  const at = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  // On a border too short to be seen the words would only lie over its corners.
  const fromZoom = 60 / Math.max(1, distance(from, to));
  const text = formatLength(length, unit);
  return { at, text, ink: 'ink', size: 12, bold: true, align: 'center', shift: [0, 4], fromZoom } as const;
}

function word(at: Point, text: string) {
  return { at, text, ink: 'accent', size: 13, bold: true, align: 'left', shift: [12, -10] } as const;
}
