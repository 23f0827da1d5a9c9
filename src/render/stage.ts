import { rulerSize } from '../gestures/camera';
import type { ViewSize } from '../gestures/frames';
import { type Board, createBoard, type Look, type Shown } from './board';
import { drawPointer, drawRulers } from './rulerItems';
import { drawSheet } from './sheetItems';
import type { Tokens } from './tokens';
import { createUnderlay, type LaidPicture } from './underlay';

/**
 * The two canvases of the table. The base carries sheet, grid, pieces and rulers; the overlay on top of it carries what
 * is live: handles, what is hovered and snapped, tapes. Moving the pointer repaints only the overlay.
 */
export interface Stage {
  /** Size in CSS pixels, and device pixels per CSS pixel. */
  resize(view: ViewSize, ratio: number): void;
  /** New colours, or another kind of pointer. */
  repaint(tokens: Tokens, coarse: boolean): void;
  show(look: Look, pictures: readonly LaidPicture[], base: readonly Shown[], live: readonly Shown[]): void;
  destroy(): void;
}

export function createStage(canvas: HTMLCanvasElement, tokens: Tokens): Stage {
  const cover = coverOf(canvas);
  const base = createBoard(canvas, tokens, 0);
  const overlay = createBoard(cover, tokens, rulerSize);
  const underlay = createUnderlay(base.pictures, base.brush);
  let last: Look | null = null;

  function both(act: (board: Board) => void): void {
    act(base);
    act(overlay);
    last = null;
  }

  return {
    resize: (view, ratio) => both((board) => board.resize(view, ratio)),
    repaint: (next, coarse) => both((board) => board.repaint(next, coarse)),
    show(look, pictures, shown, live) {
      const moved = last?.camera !== look.camera;
      const recounted = moved || last?.unit !== look.unit;
      base.put(shown, look, moved);
      underlay.put(pictures, look);
      if (recounted || last?.layout !== look.layout) drawSheet(base.under, look, base.brush());
      if (recounted) drawRulers(base.over, look, base.brush());
      overlay.put(live, look, moved);
      if (last?.pointer !== look.pointer) drawPointer(overlay.over, look, overlay.brush());
      last = look;
      base.paint();
      overlay.paint();
    },
    destroy() {
      base.destroy();
      overlay.destroy();
      cover.remove();
    },
  };
}

/** The overlay's canvas, laid exactly over the other one. It takes no pointer and says nothing to a screen reader. */
function coverOf(canvas: HTMLCanvasElement): HTMLCanvasElement {
  const cover = document.createElement('canvas');
  cover.setAttribute('aria-hidden', 'true');
  Object.assign(cover.style, {
    position: 'absolute',
    inset: '0',
    width: '100%',
    height: '100%',
    display: 'block',
    pointerEvents: 'none',
  });
  canvas.after(cover);
  return cover;
}
