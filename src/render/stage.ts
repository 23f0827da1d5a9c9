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
import type { Crowd, Drawing } from './drawing';
import { type Brush, glyphItem } from './glyphItems';
import { labelItem, shapeItem } from './paperItems';
import { drawRulers } from './rulerItems';
import { drawSheet } from './sheetItems';
import type { Tokens } from './tokens';

/** A drawing to be shown, where its origin lies on the table, and whether it is live (drawn over everything else). */
export interface Shown {
  readonly key: string;
  readonly drawing: Drawing;
  readonly offset: TablePoint;
  readonly live: boolean;
}

export interface Look {
  readonly camera: Camera;
  readonly view: ViewSize;
  readonly layout: TableLayout;
  readonly unit: LengthUnit;
  readonly pointer: ScreenPoint | null;
}

/** Items made for one drawing. Lines lie in table mm under the camera; signs and words are set in device pixels. */
interface Kept {
  readonly drawing: Drawing;
  offset: TablePoint;
  readonly lines: paper.Group;
  readonly signs: {
    readonly item: paper.Group;
    readonly at: { readonly x: number; readonly y: number };
    readonly angle: number;
    /** Signs are drawn in CSS pixels, words already in device pixels. */
    readonly scale: number;
    readonly crowd: Crowd | null;
  }[];
}

/**
 * The paper scene of one canvas. The view's own matrix stays the identity in device pixels, so that lines can be laid
 * on whole pixels; the camera is the matrix of the groups that hold lines. Drawings that did not change keep their items.
 */
export interface Stage {
  /** Size in CSS pixels, and device pixels per CSS pixel. */
  resize(view: ViewSize, ratio: number): void;
  /** New colours or another pointer: everything is made anew on the next `show`. */
  repaint(tokens: Tokens, coarse: boolean): void;
  show(look: Look, drawings: readonly Shown[]): void;
  destroy(): void;
}

export function createStage(canvas: HTMLCanvasElement, tokens: Tokens): Stage {
  // Paper's own doubling for dense screens fixes the element's size in pixels and cannot follow a change of screen.
  canvas.setAttribute('hidpi', 'off');
  const scope = new paper.PaperScope();
  scope.setup(canvas);
  scope.view.autoUpdate = false;
  const layer = (name: string) => {
    const made = new scope.Layer({ name, applyMatrix: false, insert: false });
    scope.project.addLayer(made);
    return made;
  };
  scope.project.clear();
  const sheet = layer('sheet');
  const baseLines = layer('base');
  const baseSigns = layer('base signs');
  const liveLines = layer('overlay');
  const liveSigns = layer('overlay signs');
  const rulers = layer('rulers');

  let brush: Brush = { scope, tokens, ratio: 1, coarse: false };
  const kept = new Map<string, Kept>();
  let sheetLook: Look | null = null;

  function forget(key: string): void {
    const known = kept.get(key);
    if (known === undefined) return;
    known.lines.remove();
    for (const sign of known.signs) sign.item.remove();
    kept.delete(key);
  }

  function forgetAll(): void {
    for (const key of [...kept.keys()]) forget(key);
    sheetLook = null;
  }

  function make({ key, drawing, offset, live }: Shown): Kept {
    forget(key);
    const lines = new scope.Group({ applyMatrix: false, insert: false });
    for (const shape of drawing.shapes) {
      const item = shapeItem(shape, brush);
      if (item !== null) lines.addChild(item);
    }
    (live ? liveLines : baseLines).addChild(lines);
    const signs: Kept['signs'] = [
      ...drawing.glyphs.map((glyph) => ({
        item: glyphItem(glyph, brush),
        at: glyph.at,
        angle: glyph.angle,
        scale: brush.ratio,
        crowd: glyph.crowd ?? null,
      })),
      ...drawing.labels.map((label) => ({
        item: labelItem(label, brush),
        at: label.at,
        angle: 0,
        scale: 1,
        crowd: label.crowd ?? null,
      })),
    ];
    for (const sign of signs) (live ? liveSigns : baseSigns).addChild(sign.item);
    const made = { drawing, offset, lines, signs };
    kept.set(key, made);
    return made;
  }

  function lay(item: Kept, { camera, view }: Look): void {
    const { ratio } = brush;
    const scale = camera.pixelsPerMm * ratio;
    const origin = screenAt(camera, view, item.offset);
    item.lines.matrix = new scope.Matrix(scale, 0, 0, scale, origin.left * ratio, origin.top * ratio);
    const lastShown = new Map<string, ScreenPoint>();
    for (const { item: sign, at, angle, scale: size, crowd } of item.signs) {
      const there = screenAt(camera, view, tablePoint(at.x + item.offset.across, at.y + item.offset.down));
      if (crowd !== null) {
        const last = lastShown.get(crowd.name);
        sign.visible = last === undefined || screenDistance(last, there) >= crowd.apart;
        if (!sign.visible) continue;
        lastShown.set(crowd.name, there);
      }
      const c = Math.cos(angle) * size;
      const s = Math.sin(angle) * size;
      // Whole device pixels keep words and small signs sharp.
      sign.matrix = new scope.Matrix(c, s, -s, c, Math.round(there.left * ratio), Math.round(there.top * ratio));
    }
  }

  return {
    resize(view, ratio) {
      if (ratio !== brush.ratio) {
        brush = { ...brush, ratio };
        forgetAll();
      }
      scope.view.viewSize = new scope.Size(
        Math.max(1, Math.round(view.width * ratio)),
        Math.max(1, Math.round(view.height * ratio)),
      );
      // Paper centres a view on its middle; ours is the identity.
      scope.view.matrix = new scope.Matrix();
      sheetLook = null;
    },
    repaint(next, coarse) {
      brush = { ...brush, tokens: next, coarse };
      forgetAll();
    },
    show(look, drawings) {
      scope.activate();
      const wanted = new Set(drawings.map(({ key }) => key));
      for (const key of [...kept.keys()]) if (!wanted.has(key)) forget(key);
      // What is made anew comes uppermost, so everything after it is lifted over it again.
      let lift = false;
      const moved = sheetLook === null || sheetLook.camera !== look.camera;
      for (const shown of drawings) {
        const known = kept.get(shown.key);
        const isNew = known === undefined || known.drawing !== shown.drawing;
        const item = isNew ? make(shown) : known;
        if (lift) {
          item.lines.bringToFront();
          for (const sign of item.signs) sign.item.bringToFront();
        }
        lift ||= isNew;
        if (!isNew && !moved && known.offset === shown.offset) continue;
        item.offset = shown.offset;
        lay(item, look);
      }
      if (moved || sheetLook?.layout !== look.layout || sheetLook.unit !== look.unit) {
        drawSheet(sheet, look, brush);
      }
      if (moved || sheetLook?.unit !== look.unit || sheetLook.pointer !== look.pointer) drawRulers(rulers, look, brush);
      sheetLook = look;
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
