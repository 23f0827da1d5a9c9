import { type DragEvent, type PointerEvent, useEffect, useRef, useState } from 'react';

export interface CountDrag {
  readonly value: number;
  readonly least: number;
  readonly most: number;
  /** Shows a count while it is dragged, where that can be shown. */
  readonly onPreview?: ((count: number) => void) | undefined;
  readonly onCommit: (count: number) => void;
  /** Takes back what was shown. */
  readonly onDrop?: (() => void) | undefined;
}

/** Screen pixels of sideways travel to one more or one fewer. */
const pixelsEach = 24;
/** Pixels before a press on the digits counts as a drag, so that a press still puts the cursor there. */
const dragStarts = 6;

/**
 * Changes a count by dragging sideways: shown live, one commit on release, Escape or a cancelled pointer drops it.
 * `dragged` is the count under the pointer, null while nothing is dragged.
 */
export function useCountDrag({ value, least, most, onPreview, onCommit, onDrop }: CountDrag) {
  const press = useRef<{ readonly x: number; readonly from: number } | null>(null);
  const [dragged, setDragged] = useState<number | null>(null);

  // The digits need not have the focus while they are dragged, so Escape is listened for on the page.
  const dragging = dragged !== null;
  useEffect(() => {
    if (!dragging) return;
    const drop = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return;
      event.stopPropagation();
      press.current = null;
      setDragged(null);
      onDrop?.();
    };
    window.addEventListener('keydown', drop, true);
    return () => window.removeEventListener('keydown', drop, true);
  }, [dragging, onDrop]);

  const handlers = {
    onPointerDown(event: PointerEvent<HTMLElement>) {
      if (event.button === 0) press.current = { x: event.clientX, from: value };
    },
    onPointerMove(event: PointerEvent<HTMLElement>) {
      if (press.current === null) return;
      const moved = event.clientX - press.current.x;
      if (!dragging) {
        if (Math.abs(moved) < dragStarts) return;
        event.currentTarget.setPointerCapture(event.pointerId);
      }
      const count = Math.min(most, Math.max(least, press.current.from + Math.round(moved / pixelsEach)));
      if (count === dragged) return;
      setDragged(count);
      onPreview?.(count);
    },
    onPointerUp() {
      if (press.current !== null && dragged !== null) {
        if (dragged === press.current.from) onDrop?.();
        else onCommit(dragged);
      }
      press.current = null;
      setDragged(null);
    },
    // The browser would carry the selected digits away as text, and cancel the pointer for it.
    onDragStart(event: DragEvent<HTMLElement>) {
      event.preventDefault();
    },
    onPointerCancel() {
      press.current = null;
      if (dragged !== null) onDrop?.();
      setDragged(null);
    },
  };
  return { dragged, handlers };
}
