import { rulerSize, viewBounds } from '../gestures/camera';
import { screenAt, tablePoint } from '../gestures/frames';
import type { Look } from './board';
import type { Brush } from './glyphItems';
import { rulerTicks } from './rulerTicks';
import { hairline, onPixel } from './sheetItems';

/** Length of the strokes by level, CSS pixels. */
const strokeLengths = [11, 8, 6, 4.5, 3] as const;
const numberSize = 10;

/** True-scale rulers along the top and left, in device pixels. */
export function drawRulers(layer: paper.Layer, look: Look, brush: Brush): void {
  layer.removeChildren();
  const { scope, tokens, ratio } = brush;
  const { camera, view, unit } = look;
  const size = Math.round(rulerSize * ratio);
  const width = Math.round(view.width * ratio);
  const height = Math.round(view.height * ratio);

  for (const [x, y, w, h] of [
    [0, 0, width, size],
    [0, 0, size, height],
  ] as const) {
    const band = new scope.Path.Rectangle(new scope.Rectangle(x, y, w, h));
    band.fillColor = new scope.Color(tokens.colour.sheet);
    layer.addChild(band);
  }

  const strokes = new scope.CompoundPath({ insert: false });
  const seen = viewBounds(camera, view);
  const ticks = (from: number, to: number) => (unit === null ? [] : rulerTicks(unit, camera.pixelsPerMm, from, to));
  for (const tick of ticks(seen.minX, seen.maxX)) {
    const x = onPixel(screenAt(camera, view, tablePoint(tick.at, 0)).left * ratio, ratio);
    if (x < size) continue;
    strokes.moveTo(new scope.Point(x, size));
    strokes.lineTo(new scope.Point(x, size - strokeLengths[tick.level] * ratio));
    if (tick.label !== null) layer.addChild(number(tick.label, x + 3 * ratio, size - 13 * ratio, 0, brush));
  }
  for (const tick of ticks(seen.minY, seen.maxY)) {
    const y = onPixel(screenAt(camera, view, tablePoint(0, tick.at)).top * ratio, ratio);
    if (y < size) continue;
    strokes.moveTo(new scope.Point(size, y));
    strokes.lineTo(new scope.Point(size - strokeLengths[tick.level] * ratio, y));
    if (tick.label !== null) layer.addChild(number(tick.label, size - 13 * ratio, y - 3 * ratio, -90, brush));
  }
  strokes.strokeColor = new scope.Color(tokens.colour['ink-soft']);
  strokes.strokeColor.alpha = 0.55;
  strokes.strokeWidth = hairline(ratio);
  layer.addChild(strokes);

  const edges = new scope.CompoundPath({ insert: false });
  const rim = onPixel(size, ratio);
  edges.moveTo(new scope.Point(0, rim));
  edges.lineTo(new scope.Point(width, rim));
  edges.moveTo(new scope.Point(rim, 0));
  edges.lineTo(new scope.Point(rim, height));
  edges.strokeColor = new scope.Color(tokens.colour.rule);
  edges.strokeWidth = hairline(ratio);
  layer.addChild(edges);

  const corner = new scope.Path.Rectangle(new scope.Rectangle(0, 0, size, size));
  corner.fillColor = new scope.Color(tokens.colour.sheet);
  layer.addChild(corner);
  const name = number(unit ?? '?', size / 2, size / 2 + 3.5 * ratio, 0, brush);
  name.justification = 'center';
  layer.addChild(name);
}

function number(text: string, x: number, y: number, turn: number, { scope, tokens, ratio }: Brush): paper.PointText {
  const item = new scope.PointText({
    point: new scope.Point(Math.round(x), Math.round(y)),
    content: text,
    fontFamily: tokens.font,
    fontSize: numberSize * ratio,
    fillColor: tokens.colour['ink-soft'],
    insert: false,
  });
  if (turn !== 0) item.rotate(turn, item.point);
  return item;
}

/** A mark on both rulers where the pointer is. */
export function drawPointer(layer: paper.Layer, { pointer }: Look, { scope, tokens, ratio }: Brush): void {
  layer.removeChildren();
  if (pointer === null) return;
  const size = Math.round(rulerSize * ratio);
  const lines = new scope.CompoundPath({ insert: false });
  const x = onPixel(pointer.left * ratio, ratio);
  const y = onPixel(pointer.top * ratio, ratio);
  if (x > size) {
    lines.moveTo(new scope.Point(x, 0));
    lines.lineTo(new scope.Point(x, size));
  }
  if (y > size) {
    lines.moveTo(new scope.Point(0, y));
    lines.lineTo(new scope.Point(size, y));
  }
  lines.strokeColor = new scope.Color(tokens.colour.accent);
  lines.strokeWidth = hairline(ratio);
  layer.addChild(lines);
}
