import paper from 'paper/dist/paper-core';
import {
  type ScreenPoint,
  screenAt,
  screenDistance,
  type TablePoint,
  tablePoint,
  type ViewSize,
} from '../gestures/frames';
import type { TableLayout } from '../gestures/layout';
import type { LengthUnit } from '../pattern/garment';
import type { Camera } from '../store/appState';
import type { Crowd, Drawing, Fill, Stroke } from './drawing';
import { type Brush, glyphItem } from './glyphItems';
import { labelItem, shapeItem } from './paperItems';
import type { Tokens } from './tokens';

/** A drawing to be shown, and where its origin lies on the table. */
export interface Shown {
  readonly key: string;
  readonly drawing: Drawing;
  readonly offset: TablePoint;
}

export interface Look {
  readonly camera: Camera;
  readonly view: ViewSize;
  readonly layout: TableLayout;
  /** null while the scale is not known: the rulers then claim nothing. */
  readonly unit: LengthUnit | null;
  readonly pointer: ScreenPoint | null;
}

interface Sign {
  /** Made when it is first to be seen: an outline may have thousands of points. */
  item: paper.Group | null;
  readonly make: () => paper.Group;
  /** How far it reaches from its place at most, CSS pixels. */
  readonly reach: number;
  readonly at: { readonly x: number; readonly y: number };
  readonly angle: number;
  /** Signs are drawn in CSS pixels, words already in device pixels. */
  readonly scale: number;
  /** Pixels per mm from which on it is shown. */
  readonly fromZoom: number;
  /** Pixels per mm from which on it is not shown any more. */
  readonly belowZoom: number;
  readonly crowd: Crowd | null;
}

/** Items made for one drawing. Lines lie in table mm under the camera; signs and words are set in device pixels. */
interface Kept {
  readonly drawing: Drawing;
  offset: TablePoint;
  readonly lines: paper.Group;
  /** The items of its shapes; a shape that comes again in its next drawing keeps its item. */
  readonly shapes: ReadonlyMap<Stroke | Fill, paper.Item>;
  readonly glyphs: paper.Group;
  readonly words: paper.Group;
  readonly signs: readonly Sign[];
}

/** CSS pixels. No sign but words reaches further. */
const glyphReach = 30;

/** A letter's width as a share of the letters' size, at most. */
const widestLetter = 0.9;

/**
 * One canvas with its paper scene. The view's own matrix stays the identity in device pixels, so that lines can be laid
 * on whole pixels; the camera is the matrix of the groups that hold lines. Drawings that did not change keep their
 * items, and nothing is painted when nothing changed.
 */
export interface Board {
  readonly brush: () => Brush;
  /** Layers for items of the caller's own in device pixels: sheet and pictures below the drawings, rulers above. */
  readonly under: paper.Layer;
  readonly pictures: paper.Layer;
  readonly over: paper.Layer;
  /** Puts the drawings up, the first undermost. `moved` when the camera or the size changed since the last time. */
  put(drawings: readonly Shown[], look: Look, moved: boolean): void;
  /** Size in CSS pixels, and device pixels per CSS pixel. */
  resize(view: ViewSize, ratio: number): void;
  /** New colours or another pointer: every item is made anew at the next `put`. */
  repaint(tokens: Tokens, coarse: boolean): void;
  paint(): void;
  destroy(): void;
}

/** `spare` CSS pixels along the top and left are kept clear of the drawings. */
export function createBoard(canvas: HTMLCanvasElement, tokens: Tokens, spare: number): Board {
  // Paper's own doubling for dense screens fixes the element's size in pixels and cannot follow a change of screen.
  canvas.setAttribute('hidpi', 'off');
  const scope = new paper.PaperScope();
  scope.setup(canvas);
  scope.view.autoUpdate = false;
  scope.project.clear();

  function layer(): paper.Layer {
    const made = new scope.Layer({ applyMatrix: false, insert: false });
    scope.project.addLayer(made);
    return made;
  }

  const under = layer();
  const pictures = layer();
  const lineLayer = layer();
  const signLayer = layer();
  const over = layer();
  let brush: Brush = { scope, tokens, ratio: 1, coarse: false };
  const kept = new Map<string, Kept>();

  function forget(key: string): void {
    const known = kept.get(key);
    if (known === undefined) return;
    for (const group of [known.lines, known.glyphs, known.words]) group.remove();
    kept.delete(key);
  }

  function forgetAll(): void {
    for (const key of [...kept.keys()]) forget(key);
  }

  const masks: paper.Path[] = [];

  function keepClear(view: ViewSize, ratio: number): void {
    for (const mask of masks.splice(0)) mask.remove();
    const edge = Math.round(spare * ratio) + 1;
    for (const clipped of [lineLayer, signLayer]) {
      const mask = new scope.Path.Rectangle({
        point: [edge, edge],
        size: [view.width * ratio, view.height * ratio],
        insert: false,
      });
      mask.clipMask = true;
      clipped.insertChild(0, mask);
      masks.push(mask);
    }
  }

  function groupOn(layer: paper.Layer): paper.Group {
    const group = new scope.Group({ applyMatrix: false, insert: false });
    layer.addChild(group);
    return group;
  }

  function make({ key, drawing, offset }: Shown): Kept {
    const before = kept.get(key)?.shapes;
    const shapes = new Map<Stroke | Fill, paper.Item>();
    for (const shape of drawing.shapes) {
      const item = before?.get(shape) ?? shapeItem(shape, brush);
      if (item !== null) shapes.set(shape, item);
    }
    const lines = groupOn(lineLayer);
    lines.addChildren([...shapes.values()]);
    forget(key);
    const glyphs = groupOn(signLayer);
    const words = groupOn(signLayer);
    const signs: Sign[] = [
      ...drawing.glyphs.map((glyph) => ({
        item: null,
        make: () => glyphs.addChild(glyphItem(glyph, brush)) as paper.Group,
        reach: glyphReach,
        at: glyph.at,
        angle: glyph.angle,
        scale: brush.ratio,
        fromZoom: 0,
        belowZoom: Number.POSITIVE_INFINITY,
        crowd: glyph.crowd ?? null,
      })),
      ...drawing.labels.map((label) => ({
        item: null,
        make: () => words.addChild(labelItem(label, brush)) as paper.Group,
        reach: label.size * (2 + widestLetter * label.text.length) + Math.hypot(...(label.shift ?? [0, 0])),
        at: label.at,
        angle: 0,
        scale: 1,
        fromZoom: label.fromZoom ?? 0,
        belowZoom: label.belowZoom ?? Number.POSITIVE_INFINITY,
        crowd: label.crowd ?? null,
      })),
    ];
    const made = { drawing, offset, lines, shapes, glyphs, words, signs };
    kept.set(key, made);
    return made;
  }

  function lay(kept: Kept, { camera, view }: Look): void {
    const { ratio } = brush;
    const scale = camera.pixelsPerMm * ratio;
    const origin = screenAt(camera, view, kept.offset);
    kept.lines.matrix = new scope.Matrix(scale, 0, 0, scale, origin.left * ratio, origin.top * ratio);
    const lastShown = new Map<string, ScreenPoint>();
    for (const sign of kept.signs) {
      const { at, angle, scale: size, fromZoom, belowZoom, crowd, reach } = sign;
      const there = screenAt(camera, view, tablePoint(at.x + kept.offset.across, at.y + kept.offset.down));
      const last = crowd === null ? undefined : lastShown.get(crowd.name);
      const isSeen =
        camera.pixelsPerMm >= fromZoom &&
        camera.pixelsPerMm < belowZoom &&
        isNear(there, view, reach) &&
        (crowd === null || last === undefined || screenDistance(last, there) >= crowd.apart);
      if (!isSeen) {
        if (sign.item !== null) sign.item.visible = false;
        continue;
      }
      if (crowd !== null) lastShown.set(crowd.name, there);
      sign.item ??= sign.make();
      sign.item.visible = true;
      const c = Math.cos(angle) * size;
      const s = Math.sin(angle) * size;
      // Whole device pixels keep words and small signs sharp.
      sign.item.matrix = new scope.Matrix(c, s, -s, c, Math.round(there.left * ratio), Math.round(there.top * ratio));
    }
  }

  return {
    brush: () => brush,
    under,
    pictures,
    over,
    put(drawings, look, moved) {
      scope.activate();
      const wanted = new Set(drawings.map(({ key }) => key));
      for (const key of [...kept.keys()]) if (!wanted.has(key)) forget(key);
      // What is made anew comes uppermost, so everything after it is lifted over it again.
      let lift = false;
      for (const shown of drawings) {
        const known = kept.get(shown.key);
        const isNew = known === undefined || known.drawing !== shown.drawing;
        const item = isNew ? make(shown) : known;
        if (lift) {
          for (const group of [item.lines, item.glyphs, item.words]) group.bringToFront();
        }
        lift ||= isNew;
        if (!isNew && !moved && known.offset === shown.offset) continue;
        item.offset = shown.offset;
        lay(item, look);
      }
    },
    resize(view, ratio) {
      if (ratio !== brush.ratio) {
        brush = { ...brush, ratio };
        forgetAll();
      }
      scope.view.viewSize = new scope.Size(
        Math.max(1, Math.round(view.width * ratio)),
        Math.max(1, Math.round(view.height * ratio)),
      );
      scope.view.matrix = new scope.Matrix();
      if (spare > 0) keepClear(view, ratio);
    },
    repaint(next, coarse) {
      brush = { ...brush, tokens: next, coarse };
      forgetAll();
    },
    paint() {
      scope.view.update();
    },
    destroy() {
      forgetAll();
      // Takes the project, its view and the view's own listeners with it; the type file leaves it out.
      (scope as unknown as { remove(): void }).remove();
      canvas.removeAttribute('hidpi');
    },
  };
}

function isNear({ left, top }: ScreenPoint, { width, height }: ViewSize, reach: number): boolean {
  return left > -reach && top > -reach && left < width + reach && top < height + reach;
}
