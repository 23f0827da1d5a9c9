import { type Affine, affine } from '../drawing/affine';
import { svgLimits } from './limits';
import { NumberReader } from './numbers';

export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Four numbers with a positive width and height, or null. */
export function readViewBox(text: string | undefined): ViewBox | null {
  if (text === undefined || text.length > svgLimits.short) return null;
  const reader = new NumberReader(text.trim());
  const n: number[] = [];
  while (!reader.done) {
    const value = reader.number();
    if (value === null || n.length === 4) return null;
    n.push(value);
    reader.skipSeparator();
  }
  const [x, y, width, height] = n;
  if (n.length !== 4 || !(width! > 0 && height! > 0)) return null;
  return { x: x!, y: y!, width: width!, height: height! };
}

export interface AspectRule {
  readonly stretch: boolean;
  /** 0, 0.5 or 1: where the spare room goes. */
  readonly alignX: number;
  readonly alignY: number;
  readonly slice: boolean;
}

const alignments: Readonly<Record<string, number>> = { Min: 0, Mid: 0.5, Max: 1 };

/** `preserveAspectRatio`; anything unreadable means the default, xMidYMid meet. */
export function readAspectRule(text: string | undefined): AspectRule {
  const words = /^\s*(?:defer\s+)?(?:(none)|x(Min|Mid|Max)Y(Min|Mid|Max))(?:\s+(meet|slice))?\s*$/.exec(
    (text ?? '').slice(0, svgLimits.short),
  );
  if (!words) return { stretch: false, alignX: 0.5, alignY: 0.5, slice: false };
  return {
    stretch: words[1] !== undefined,
    alignX: alignments[words[2] ?? 'Mid']!,
    alignY: alignments[words[3] ?? 'Mid']!,
    slice: words[4] === 'slice',
  };
}

/** The map from a view box to the area it is shown in (x, y, width, height), by SVG 2, "Computing the equivalent transform of an SVG viewport". */
export function viewBoxMap(box: ViewBox, area: ViewBox, rule: AspectRule): Affine {
  let sx = area.width / box.width;
  let sy = area.height / box.height;
  if (!rule.stretch) {
    sx = rule.slice ? Math.max(sx, sy) : Math.min(sx, sy);
    sy = sx;
  }
  const x = area.x - box.x * sx + (rule.stretch ? 0 : (area.width - box.width * sx) * rule.alignX);
  const y = area.y - box.y * sy + (rule.stretch ? 0 : (area.height - box.height * sy) * rule.alignY);
  return affine(sx, 0, 0, sy, x, y);
}
