import { cleanup } from '@testing-library/react';
import { afterEach } from 'vitest';

/**
 * happy-dom draws nothing, and paper refuses to load without a 2D context. This context takes every call and forgets it;
 * only what paper reads back at start has an answer. Tests that look at pixels belong in a browser.
 */
function silentContext(canvas: HTMLCanvasElement): unknown {
  const answers: Record<string | symbol, unknown> = {
    canvas,
    getImageData: () => ({ data: new Uint8ClampedArray(4), width: 1, height: 1 }),
    createImageData: () => ({ data: new Uint8ClampedArray(4), width: 1, height: 1 }),
    measureText: () => ({ width: 0 }),
    getLineDash: () => [],
    isPointInPath: () => false,
  };
  return new Proxy(answers, {
    get: (target, name) => (name in target ? target[name] : () => undefined),
    set: (target, name, value) => {
      target[name] = value;
      return true;
    },
  });
}

Object.defineProperty(HTMLCanvasElement.prototype, 'getContext', {
  configurable: true,
  value(this: HTMLCanvasElement, kind: string) {
    return kind === '2d' ? silentContext(this) : null;
  },
});

afterEach(cleanup);
