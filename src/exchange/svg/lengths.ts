import { svgLimits } from './limits';
import { NumberReader } from './numbers';

/** CSS Values and Units, absolute lengths: 1 in = 2.54 cm = 96 px = 72 pt = 6 pc; 1 Q = 1/40 cm. In mm. */
const physicalMm: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  in: 25.4,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
  q: 0.25,
};

/** CSS pixels per mm: what one user unit is where nothing else is said. */
export const pixelsPerMm = 96 / 25.4;

export type SvgLength =
  | { readonly kind: 'user'; readonly value: number; readonly pixels: boolean }
  | { readonly kind: 'physical'; readonly value: number; readonly unit: string; readonly mm: number }
  | { readonly kind: 'percent'; readonly value: number };

/** A length attribute, or null when it is not a finite number with a unit we can resolve (em, ex and the like cannot be). */
export function readLength(text: string | undefined): SvgLength | null {
  if (text === undefined || text.length > svgLimits.short) return null;
  const reader = new NumberReader(text.trim());
  const value = reader.number();
  if (value === null) return null;
  const unit = reader.text.slice(reader.at).toLowerCase();
  if (unit === '' || unit === 'px') return { kind: 'user', value, pixels: unit === 'px' };
  if (unit === '%') return { kind: 'percent', value };
  const mm = Object.hasOwn(physicalMm, unit) ? physicalMm[unit] : undefined;
  return mm === undefined ? null : { kind: 'physical', value, unit, mm: value * mm };
}

/** The area that percentages refer to, user units. */
export interface Viewport {
  readonly width: number;
  readonly height: number;
}

export type Axis = 'across' | 'down' | 'either';

/** A length in user units; null when it cannot be read. Physical units inside a drawing are CSS ones: 96 units to the inch. */
export function userLength(text: string | undefined, viewport: Viewport, axis: Axis): number | null {
  const length = readLength(text);
  if (!length) return null;
  if (length.kind === 'user') return length.value;
  if (length.kind === 'physical') return length.mm * pixelsPerMm;
  const whole =
    axis === 'across'
      ? viewport.width
      : axis === 'down'
        ? viewport.height
        : Math.hypot(viewport.width, viewport.height) / Math.SQRT2;
  return (length.value / 100) * whole;
}
