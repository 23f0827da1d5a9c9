import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { axesAgree } from '../../geometry/tolerance';
import type { DrawingScale, ScaleSuggestion } from '../drawing/drawingReading';
import { readLength, type SvgLength } from './lengths';
import { type AspectRule, readAspectRule, readViewBox, type ViewBox } from './viewBox';

/** A piece of cloth lies within these when its scale is believed: 1 unit from a thousandth of a mm to a metre. */
const smallestUnit = 1e-3;
const largestUnit = 1e3;

const inchMm = 25.4;

/**
 * What the outermost `svg` element says about size. Certain only when width and height are physical lengths and a view
 * box gives the units they cover; everything else is asked, because programs differ (72, 90 or 96 units to the inch).
 */
export function statedScale(
  attribute: (name: string) => string | undefined,
  sizedByStyle: boolean,
): Outcome<DrawingScale> {
  const width = readLength(attribute('width'));
  const height = readLength(attribute('height'));
  const box = readViewBox(attribute('viewBox'));
  const rule = readAspectRule(attribute('preserveAspectRatio'));
  if (sizedByStyle) {
    return succeed(
      ask('The file gives its size in a style, which is meant for a screen and not for cloth.', width, height, box),
    );
  }
  if (width?.kind === 'physical' && height?.kind === 'physical' && box) return physicalScale(width, height, box, rule);
  return succeed(ask(whyNotCertain(width, height, box), width, height, box));
}

type Physical = Extract<SvgLength, { kind: 'physical' }>;

function physicalScale(width: Physical, height: Physical, box: ViewBox, rule: AspectRule): Outcome<DrawingScale> {
  const across = width.mm / box.width;
  const down = height.mm / box.height;
  const apart = Math.abs(across - down) / Math.max(across, down);
  const sizes = `${written(width)} by ${written(height)} for ${figure(box.width)} by ${figure(box.height)} units`;
  if (!(width.mm > 0 && height.mm > 0)) {
    return succeed(
      ask(`The file states a size of ${written(width)} by ${written(height)}, which cannot be.`, null, null, box),
    );
  }
  if (!(apart <= axesAgree)) {
    if (rule.stretch) {
      return fail(
        'svg-stretched',
        `This file stretches the drawing more one way than the other (${sizes}, and it says not to keep the shape), so no single scale is true. Save it again with the page and the drawing in the same proportion.`,
      );
    }
    return succeed({
      kind: 'ask',
      sentence: `The file states ${sizes}, but across that makes ${figure(across)} mm to the unit and down ${figure(down)} mm (${percent(apart)} apart). Give one length you know.`,
      suggestions: usable([
        { label: `as stated across: ${figure(across)} mm to the unit`, mmPerUnit: across },
        { label: `as stated down: ${figure(down)} mm to the unit`, mmPerUnit: down },
      ]),
    });
  }
  // Where rounding sets the two a hair apart, SVG itself draws by the smaller (or, when slicing, the larger).
  const mmPerUnit = rule.slice ? Math.max(across, down) : Math.min(across, down);
  if (!(mmPerUnit >= smallestUnit && mmPerUnit <= largestUnit)) {
    return succeed(ask(`The file states ${sizes}, which is not a believable size for a pattern.`, null, null, box));
  }
  const points = width.unit === 'pt' ? ' Some tracing programs write picture dots as points, so check one length.' : '';
  const agreement = apart > 1e-6 ? `, the two axes agreeing within ${percent(apart)}` : '';
  return succeed({
    kind: 'certain',
    mmPerUnit,
    source: `The file states ${sizes}: ${figure(mmPerUnit)} mm to the unit${agreement}.${points}`,
  });
}

function whyNotCertain(width: SvgLength | null, height: SvgLength | null, box: ViewBox | null): string {
  if (!width && !height) return 'The file does not say how large the drawing is.';
  if (width?.kind === 'physical' && height?.kind === 'physical') {
    return 'The file states a size for the page but not how many units the page covers, and programs differ in what they mean by that.';
  }
  if (width?.kind === 'physical' || height?.kind === 'physical') {
    return 'The file states a physical size for one direction only, so it cannot be checked against the other.';
  }
  if (width?.kind === 'percent' || height?.kind === 'percent')
    return 'The file states its size as a share of the window, not in a length.';
  return box
    ? 'The file states its size in screen units, and programs write 72, 90 or 96 of those to the inch.'
    : 'The file states its size in screen units and nothing more, and programs write 72, 90 or 96 of those to the inch.';
}

function ask(reason: string, width: SvgLength | null, height: SvgLength | null, box: ViewBox | null): DrawingScale {
  const suggestions: ScaleSuggestion[] = [];
  // One direction given physically, or both: what the file would mean if it could be believed.
  if (box && width?.kind === 'physical') {
    suggestions.push({ label: `by the stated width of ${written(width)}`, mmPerUnit: width.mm / box.width });
  } else if (box && height?.kind === 'physical') {
    suggestions.push({ label: `by the stated height of ${written(height)}`, mmPerUnit: height.mm / box.height });
  }
  // Screen units shown per unit of the drawing; without both width and view box they are the same thing.
  const shown = box && width?.kind === 'user' && width.value > 0 ? width.value / box.width : 1;
  for (const perInch of [96, 90, 72]) {
    suggestions.push({ label: `${perInch} units to the inch`, mmPerUnit: (shown * inchMm) / perInch });
  }
  suggestions.push({ label: '1 unit is 1 mm', mmPerUnit: 1 }, { label: '1 unit is 1 cm', mmPerUnit: 10 });
  suggestions.push({ label: '1 unit is 1 inch', mmPerUnit: inchMm });
  return { kind: 'ask', sentence: `${reason} Give one length you know.`, suggestions: usable(suggestions) };
}

function usable(suggestions: readonly ScaleSuggestion[]): ScaleSuggestion[] {
  return suggestions.filter(({ mmPerUnit }) => mmPerUnit >= smallestUnit && mmPerUnit <= largestUnit);
}

function written(length: SvgLength): string {
  return length.kind === 'physical' ? `${figure(length.value)} ${length.unit}` : figure(length.value);
}

function figure(value: number): string {
  return String(Number(value.toPrecision(7)));
}

function percent(share: number): string {
  return `${Number((share * 100).toPrecision(2))} %`;
}
