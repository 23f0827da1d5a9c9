import type { PointerSample, TableEvent } from '../gestures/gesture';
import type { PointerKind } from '../gestures/reach';

type PointerMove = Extract<TableEvent, { readonly pointer: PointerSample }>;

/** Where the events of a canvas go: moves may wait for the next frame, everything else is dealt with at once. */
export interface InputTarget {
  /** A pointer moved; only the last move before a frame counts. */
  move(event: PointerMove): void;
  now(event: TableEvent): void;
  /** A key the gestures do not use; true when it was used and must not scroll or leave the canvas. */
  key(event: KeyboardEvent): boolean;
  /** The canvas got the focus. */
  focused(): void;
}

/** Turns the DOM's events into the gestures' own. Returns the way to stop listening. */
export function listen(canvas: HTMLCanvasElement, target: InputTarget): () => void {
  const stop = new AbortController();
  const { signal } = stop;
  const sample = (event: PointerEvent): PointerSample => {
    const box = canvas.getBoundingClientRect();
    return {
      id: event.pointerId,
      kind: kindOf(event),
      at: { left: event.clientX - box.left, top: event.clientY - box.top },
      button: event.button,
      alt: event.altKey,
      shift: event.shiftKey,
      contact: event.pointerType === 'touch' ? Math.max(event.width, event.height) : 0,
      time: event.timeStamp,
    };
  };

  canvas.addEventListener(
    'pointerdown',
    (event) => {
      // Focus leaves a field being typed in, so that what was typed is kept before the drag begins.
      if (document.activeElement instanceof HTMLElement && document.activeElement !== canvas) {
        document.activeElement.blur();
      }
      if (canvas.tabIndex >= 0) canvas.focus({ preventScroll: true });
      // A pointer made up by a test tool may not be capturable.
      if (event.isTrusted) canvas.setPointerCapture(event.pointerId);
      if (event.button === 1) event.preventDefault();
      target.now({ type: 'press', pointer: sample(event) });
    },
    { signal },
  );
  canvas.addEventListener('pointermove', (event) => target.move({ type: 'move', pointer: sample(event) }), { signal });
  canvas.addEventListener('pointerup', (event) => target.now({ type: 'release', pointer: sample(event) }), { signal });
  canvas.addEventListener('pointercancel', (event) => target.now({ type: 'cancel', pointer: sample(event) }), {
    signal,
  });
  canvas.addEventListener('pointerleave', (event) => target.now({ type: 'leave', pointer: sample(event) }), { signal });
  canvas.addEventListener('focus', () => target.focused(), { signal });
  canvas.addEventListener('contextmenu', (event) => event.preventDefault(), { signal });
  canvas.addEventListener(
    'wheel',
    (event) => {
      // Also keeps the browser from zooming the whole page.
      event.preventDefault();
      const box = canvas.getBoundingClientRect();
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
      const pages = event.deltaMode === WheelEvent.DOM_DELTA_PAGE ? box.height : 1;
      target.now({
        type: 'wheel',
        at: { left: event.clientX - box.left, top: event.clientY - box.top },
        across: event.deltaX * lines * pages,
        down: event.deltaY * lines * pages,
        zoom: event.ctrlKey || event.metaKey,
      });
    },
    { signal, passive: false },
  );

  /** Keys belong to whatever has the focus; only the canvas, or nobody's, are the table's, and none while it is put away. */
  const isOurs = () => {
    const focused = document.activeElement;
    return canvas.closest('[inert]') === null && (focused === null || focused === document.body || focused === canvas);
  };
  window.addEventListener(
    'keydown',
    (event) => {
      if (!isOurs() || event.ctrlKey || event.metaKey) return;
      if (event.key === ' ') {
        event.preventDefault();
        if (!event.repeat) target.now({ type: 'space', held: true });
      } else if (gestureKeys.has(event.key)) {
        if (event.key === 'Backspace') event.preventDefault();
        target.now({ type: 'key', key: event.key, shift: event.shiftKey });
      } else if (target.key(event)) event.preventDefault();
    },
    { signal },
  );
  window.addEventListener(
    'keyup',
    (event) => {
      if (event.key === ' ') target.now({ type: 'space', held: false });
    },
    { signal },
  );
  window.addEventListener('blur', () => target.now({ type: 'space', held: false }), { signal });
  return () => stop.abort();
}

const gestureKeys = new Set(['Escape', 'Enter', 'Backspace']);

function kindOf(event: PointerEvent): PointerKind {
  return event.pointerType === 'touch' || event.pointerType === 'pen' ? event.pointerType : 'mouse';
}
