import { screenAt, tablePoint } from '../gestures/frames';
import type { Look } from './board';
import type { Brush } from './glyphItems';
import { numberedStep } from './rulerTicks';

/** Halves of a grid square are drawn when they are at least this wide, CSS pixels. */
const halfRoom = 90;

/** The table, the sheet that lies on it, and the sheet's faint grid. Everything in device pixels, on whole ones. */
export function drawSheet(layer: paper.Layer, look: Look, { scope, tokens, ratio }: Brush): void {
  layer.removeChildren();
  const { camera, view, layout, unit } = look;
  const bounds = layout.sheet;
  const first = screenAt(camera, view, tablePoint(bounds.minX, bounds.minY));
  const last = screenAt(camera, view, tablePoint(bounds.maxX, bounds.maxY));
  const left = Math.round(first.left * ratio);
  const top = Math.round(first.top * ratio);
  const right = Math.round(last.left * ratio);
  const bottom = Math.round(last.top * ratio);

  const table = new scope.Path.Rectangle(new scope.Rectangle(0, 0, view.width * ratio, view.height * ratio));
  table.fillColor = new scope.Color(tokens.colour.table);
  const sheet = new scope.Path.Rectangle(new scope.Rectangle(left, top, right - left, bottom - top));
  sheet.fillColor = new scope.Color(tokens.colour.sheet);
  layer.addChildren([table, sheet]);

  const step = unit === null ? null : numberedStep(unit, camera.pixelsPerMm);
  const lines = (spacing: number, alpha: number): void => {
    const path = new scope.CompoundPath({ insert: false });
    const within = (from: number, to: number, visibleFrom: number, visibleTo: number): [number, number] => [
      Math.ceil(Math.max(from, visibleFrom) / spacing),
      Math.floor(Math.min(to, visibleTo) / spacing),
    ];
    const seen = {
      left: camera.centre.x - view.width / 2 / camera.pixelsPerMm,
      right: camera.centre.x + view.width / 2 / camera.pixelsPerMm,
      top: camera.centre.y - view.height / 2 / camera.pixelsPerMm,
      bottom: camera.centre.y + view.height / 2 / camera.pixelsPerMm,
    };
    const upright = within(bounds.minX, bounds.maxX, seen.left, seen.right);
    for (let index = upright[0]; index <= upright[1]; index++) {
      const x = onPixel(screenAt(camera, view, tablePoint(index * spacing, 0)).left * ratio, ratio);
      path.moveTo(new scope.Point(x, Math.max(0, top)));
      path.lineTo(new scope.Point(x, Math.min(view.height * ratio, bottom)));
    }
    const level = within(bounds.minY, bounds.maxY, seen.top, seen.bottom);
    for (let index = level[0]; index <= level[1]; index++) {
      const y = onPixel(screenAt(camera, view, tablePoint(0, index * spacing)).top * ratio, ratio);
      path.moveTo(new scope.Point(Math.max(0, left), y));
      path.lineTo(new scope.Point(Math.min(view.width * ratio, right), y));
    }
    const colour = new scope.Color(tokens.colour.rule);
    colour.alpha = alpha;
    path.strokeColor = colour;
    path.strokeWidth = hairline(ratio);
    layer.addChild(path);
  };
  if (step !== null) {
    if (step * camera.pixelsPerMm >= halfRoom) lines(step / 2, 0.28);
    lines(step, 0.5);
  }

  const rim = new scope.Path.Rectangle(
    new scope.Rectangle(onPixel(left, ratio), onPixel(top, ratio), right - left, bottom - top),
  );
  rim.strokeColor = new scope.Color(tokens.colour.rule);
  rim.strokeWidth = hairline(ratio);
  layer.addChild(rim);
}

/** A line of whole device pixels, about one CSS pixel wide. */
export function hairline(ratio: number): number {
  return Math.max(1, Math.round(ratio));
}

/** Moves a coordinate so that a hairline there covers whole device pixels. */
export function onPixel(at: number, ratio: number): number {
  return Math.round(at) + (hairline(ratio) % 2) / 2;
}
