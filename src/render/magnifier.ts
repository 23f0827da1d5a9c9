import type { Point } from '../geometry/point';
import { rulerSize } from '../gestures/camera';
import type { ScreenPoint, ViewSize } from '../gestures/frames';
import type { Tokens } from './tokens';

/** What the magnifier shows. */
export interface Lens {
  readonly image: ImageBitmap;
  /** The place under the cross, dots of the image. */
  readonly at: Point;
  /** Where that place is seen on the table; the glass is laid beside it, so that neither finger nor pointer hides it. */
  readonly beside: ScreenPoint;
  /** How large one dot is on the table, CSS pixels. */
  readonly pixelsPerDot: number;
  /** Lines of the sheet or of a length, dots. */
  readonly lines: readonly (readonly [Point, Point])[];
}

export interface Magnifier {
  show(lens: Lens | null, view: ViewSize): void;
  repaint(tokens: Tokens): void;
  destroy(): void;
}

/** CSS pixels. */
const diameter = 152;
/** Free way between a fingertip's middle and the glass. */
const clearOf = 44;
/** Times as large as on the table. */
const enlarged = 7;
/** CSS pixels to the dot: less is too small to aim by, more shows only squares. */
const smallestDot = 2;
const largestDot = 14;

/** A round glass over the table, with a cross where the place being moved lies. It takes no pointer and is not read out. */
export function createMagnifier(canvas: HTMLCanvasElement, first: Tokens): Magnifier {
  const glass = document.createElement('canvas');
  glass.setAttribute('aria-hidden', 'true');
  glass.className = 'table-glass';
  Object.assign(glass.style, {
    position: 'absolute',
    width: `${diameter}px`,
    height: `${diameter}px`,
    left: '0',
    top: '0',
    borderRadius: '50%',
    pointerEvents: 'none',
    display: 'none',
  });
  const context = glass.getContext('2d');
  let tokens = first;
  let shown: Lens | null = null;

  function draw(lens: Lens): void {
    const ratio = window.devicePixelRatio || 1;
    const size = Math.round(diameter * ratio);
    if (glass.width !== size) {
      glass.width = size;
      glass.height = size;
    }
    if (context === null) return;
    const scale = Math.min(largestDot, Math.max(smallestDot, lens.pixelsPerDot * enlarged)) * ratio;
    const middle = size / 2;
    const x = (dots: Point) => middle + (dots.x - lens.at.x) * scale;
    const y = (dots: Point) => middle + (dots.y - lens.at.y) * scale;
    context.fillStyle = tokens.colour.table;
    context.fillRect(0, 0, size, size);
    context.imageSmoothingEnabled = scale < 5 * ratio;
    // Only the dots under the glass are drawn, so that a large picture costs no more than a small one.
    const reach = middle / scale + 1;
    const left = Math.max(0, Math.floor(lens.at.x - reach));
    const top = Math.max(0, Math.floor(lens.at.y - reach));
    const width = Math.min(lens.image.width, Math.ceil(lens.at.x + reach)) - left;
    const height = Math.min(lens.image.height, Math.ceil(lens.at.y + reach)) - top;
    if (width > 0 && height > 0) {
      const corner = { x: left, y: top };
      context.drawImage(lens.image, left, top, width, height, x(corner), y(corner), width * scale, height * scale);
    }
    const strokes = (colour: string, thick: number, path: () => void) => {
      context.strokeStyle = colour;
      context.lineWidth = thick * ratio;
      context.beginPath();
      path();
      context.stroke();
    };
    const border = () => {
      for (const [from, to] of lens.lines) {
        context.moveTo(x(from), y(from));
        context.lineTo(x(to), y(to));
      }
    };
    strokes(tokens.colour.sheet, 3, border);
    strokes(tokens.colour.accent, 1.4, border);
    const cross = () => {
      const gap = 5 * ratio;
      const arm = 22 * ratio;
      for (const [dx, dy] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        context.moveTo(middle + dx * gap, middle + dy * gap);
        context.lineTo(middle + dx * arm, middle + dy * arm);
      }
    };
    strokes(tokens.colour.sheet, 3, cross);
    strokes(tokens.colour.ink, 1.2, cross);
    // Nothing is told by the rim; it only parts the glass from the table.
    strokes(tokens.colour.sheet, 8, () => context.arc(middle, middle, middle - ratio, 0, 2 * Math.PI));
    strokes(tokens.colour.accent, 2, () => context.arc(middle, middle, middle - 3 * ratio, 0, 2 * Math.PI));
  }

  function same(a: Lens, b: Lens): boolean {
    return (
      a.image === b.image &&
      a.at.x === b.at.x &&
      a.at.y === b.at.y &&
      a.pixelsPerDot === b.pixelsPerDot &&
      a.beside.left === b.beside.left &&
      a.beside.top === b.beside.top
    );
  }

  return {
    show(lens, view) {
      if (lens === null) {
        if (shown !== null) glass.style.display = 'none';
        shown = null;
        return;
      }
      if (shown !== null && same(shown, lens)) return;
      shown = lens;
      // It is there only once it was needed.
      if (!glass.isConnected) canvas.parentElement?.append(glass);
      const { left, top } = glassPlace(lens.beside, view);
      glass.style.display = 'block';
      glass.style.transform = `translate(${Math.round(left)}px, ${Math.round(top)}px)`;
      draw(lens);
    },
    repaint(next) {
      tokens = next;
      if (shown !== null) draw(shown);
    },
    destroy() {
      glass.remove();
    },
  };
}

/** Upper left corner of the glass: above the place, or to the side that has room for it, never over it and never cut off. */
export function glassPlace(beside: ScreenPoint, view: ViewSize): ScreenPoint {
  const inside = (value: number, most: number) => Math.min(Math.max(value, rulerSize + 6), most - diameter - 6);
  const above = beside.top - clearOf - diameter;
  if (above >= rulerSize + 6) return { left: inside(beside.left - diameter / 2, view.width), top: above };
  const right = beside.left + clearOf;
  const fitsRight = right + diameter + 6 <= view.width;
  return {
    left: fitsRight ? right : Math.max(rulerSize + 6, beside.left - clearOf - diameter),
    top: inside(beside.top - diameter / 2, view.height),
  };
}
