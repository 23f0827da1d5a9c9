import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { pathLength, subPath } from '../../geometry/path';
import { distance, type Point } from '../../geometry/point';
import { secondLengthError } from '../../geometry/tolerance';
import { type Affine, affine, mapPath, mapPoint } from './affine';
import type { DrawingReading, DrawnMark, DrawnShape } from './drawingReading';
import { controlBox } from './nearText';

/** A length the maker knows, measured on the drawing. Places are in the drawing's units, the true length in mm. */
export type KnownLength =
  /** Straight from point to point. */
  | { readonly kind: 'points'; readonly from: Point; readonly to: Point; readonly length: number }
  /** Along the outline of a shape, in the direction it is drawn, from one distance along it to another. */
  | {
      readonly kind: 'side';
      readonly shape: string;
      readonly from: number;
      readonly to: number;
      readonly length: number;
    };

export type ScaleAnswer =
  /** Take the file at its word; only where it states its scale for certain. */
  | { readonly kind: 'stated' }
  /** One of the suggestions, chosen by the maker. */
  | { readonly kind: 'suggestion'; readonly index: number }
  | KnownLength;

/** A drawing at true size: shapes in mm. */
export interface ScaledReading {
  readonly shapes: readonly DrawnShape[];
  readonly mmPerUnit: number;
  /** How the scale came about. */
  readonly source: string;
  readonly check: LengthCheck | null;
  readonly warnings: readonly string[];
  /** The file's own marks, in mm; absent where it has none. */
  readonly marks?: readonly DrawnMark[];
}

/** A second known length, measured at the scale the first one gave. */
export interface LengthCheck {
  readonly measured: number;
  readonly known: number;
  /** measured / known - 1 */
  readonly error: number;
  readonly sentence: string;
}

/** mm. A known length must lie within these, and a drawing's larger side too. */
const shortest = 1;
const longest = 20_000;

/** mm. A misplaced click of a pixel or two matters more the shorter the length. */
const shortForScale = 50;

/**
 * The drawing at true size, by what the file states or what the maker answers. A second known length (`check`) is
 * measured at that scale, its error reported, and the scale refused when it is off by more than 0.5 %.
 */
export function applyScale(reading: DrawingReading, answer: ScaleAnswer, check?: KnownLength): Outcome<ScaledReading> {
  const chosen = scaleBy(reading, answer);
  if (!chosen.ok) return chosen;
  const { mmPerUnit, source } = chosen.value;
  const size = largestSide(reading.shapes) * mmPerUnit;
  if (!(size >= shortest && size <= longest)) {
    return fail(
      'scale-unbelievable',
      `At this scale the drawing would be ${round(size)} mm large. Check the length you typed and its unit.`,
    );
  }
  const checked = check ? checkLength(reading, mmPerUnit, answer, check) : succeed(null);
  if (!checked.ok) return checked;
  const enlarge = affine(mmPerUnit, 0, 0, mmPerUnit, 0, 0);
  return succeed({
    shapes: reading.shapes.map((shape) => ({ ...shape, path: mapPath(enlarge, shape.path) })),
    mmPerUnit,
    source,
    check: checked.value,
    warnings: [...reading.warnings, ...cautions(reading, answer, mmPerUnit)],
    ...(reading.marks ? { marks: reading.marks.map((mark) => mapMark(enlarge, mark)) } : {}),
  });
}

function mapMark(map: Affine, mark: DrawnMark): DrawnMark {
  return mark.kind === 'grain'
    ? { ...mark, from: mapPoint(map, mark.from), to: mapPoint(map, mark.to) }
    : { ...mark, at: mapPoint(map, mark.at) };
}

function scaleBy(reading: DrawingReading, answer: ScaleAnswer): Outcome<{ mmPerUnit: number; source: string }> {
  const { scale } = reading;
  if (answer.kind === 'stated') {
    return scale.kind === 'certain' ? succeed(scale) : fail('scale-not-stated', scale.sentence);
  }
  if (answer.kind === 'suggestion') {
    const suggestion = scale.kind === 'ask' ? scale.suggestions[answer.index] : undefined;
    if (!suggestion) return fail('scale-suggestion-unknown', 'That scale was not among those offered. Choose again.');
    return succeed({ mmPerUnit: suggestion.mmPerUnit, source: `You chose: ${suggestion.label}.` });
  }
  const units = unitsOf(reading, answer);
  if (!units.ok) return units;
  return succeed({
    mmPerUnit: answer.length / units.value,
    source: `You measured a length of ${round(answer.length)} mm: ${round(answer.length / units.value)} mm to the unit.`,
  });
}

/** A known length in the drawing's units. */
function unitsOf(reading: DrawingReading, known: KnownLength): Outcome<number> {
  if (!(known.length >= shortest && known.length <= longest)) {
    return fail(
      'known-length-unusable',
      `Give a length between ${shortest} mm and ${longest / 1000} m that you have measured on the real piece.`,
    );
  }
  const units = known.kind === 'points' ? succeed(distance(known.from, known.to)) : sideLength(reading, known);
  if (!units.ok) return units;
  // Two clicks on one spot would blow the drawing up without end.
  if (!(units.value > 1e-4 * largestSide(reading.shapes)) || !Number.isFinite(units.value)) {
    return fail('known-length-too-near', 'The two ends are on the same spot. Choose two that are farther apart.');
  }
  return units;
}

function sideLength(reading: DrawingReading, known: Extract<KnownLength, { kind: 'side' }>): Outcome<number> {
  const shape = reading.shapes.find((candidate) => candidate.id === known.shape);
  if (!shape) return fail('shape-unknown', 'That line is not in the drawing any more. Choose the side again.');
  const whole = pathLength(shape.path);
  const { from, to } = known;
  if (!(from >= 0 && to >= 0 && from <= whole + 1e-9 * whole && to <= whole + 1e-9 * whole)) {
    return fail('side-off-shape', 'That side reaches beyond its line. Choose it again.');
  }
  if (from <= to) return succeed(pathLength(subPath(shape.path, from, to)));
  if (!shape.closed) return fail('side-off-shape', 'That side runs past the open end of its line. Choose it again.');
  return succeed(whole - pathLength(subPath(shape.path, to, from)));
}

function checkLength(
  reading: DrawingReading,
  mmPerUnit: number,
  answer: ScaleAnswer,
  check: KnownLength,
): Outcome<LengthCheck> {
  if (sameMeasure(answer, check)) {
    return fail(
      'check-same-length',
      'Check with a different length, best one that runs the other way across the piece.',
    );
  }
  const units = unitsOf(reading, check);
  if (!units.ok) return units;
  const measured = units.value * mmPerUnit;
  const error = measured / check.length - 1;
  const off = `${round(measured)} mm on the drawing for ${round(check.length)} mm on the piece, ${percent(error)} off`;
  if (Math.abs(error) > secondLengthError) {
    return fail(
      'second-length-off',
      `The second length does not agree: ${off}, and ${secondLengthError * 100} % is the most that can pass. One of the two may be measured or typed wrongly, or the drawing was stretched one way before it was saved.`,
    );
  }
  return succeed({ measured, known: check.length, error, sentence: `The second length agrees: ${off}.` });
}

function sameMeasure(answer: ScaleAnswer, check: KnownLength): boolean {
  if (answer.kind === 'side' && check.kind === 'side') {
    return answer.shape === check.shape && answer.from === check.from && answer.to === check.to;
  }
  if (answer.kind !== 'points' || check.kind !== 'points') return false;
  const near = 0.02 * distance(answer.from, answer.to);
  const same = (a: Point, b: Point) => distance(a, b) <= near;
  return (
    (same(answer.from, check.from) && same(answer.to, check.to)) ||
    (same(answer.from, check.to) && same(answer.to, check.from))
  );
}

function cautions(reading: DrawingReading, answer: ScaleAnswer, mmPerUnit: number): string[] {
  const said: string[] = [];
  if ((answer.kind === 'points' || answer.kind === 'side') && answer.length < shortForScale) {
    said.push(
      `A known length under ${shortForScale} mm makes a small slip of the pointer large on the whole piece. Use a longer one if you can.`,
    );
  }
  if (reading.scale.kind === 'certain') {
    const apart = mmPerUnit / reading.scale.mmPerUnit - 1;
    if (Math.abs(apart) > secondLengthError) {
      said.push(
        `Your length makes everything ${percent(apart)} different from what the file states. Measure a second one.`,
      );
    }
  }
  return said;
}

function largestSide(shapes: readonly DrawnShape[]): number {
  let largest = 0;
  for (const shape of shapes) {
    const box = controlBox(shape.path);
    largest = Math.max(largest, box.maxX - box.minX, box.maxY - box.minY);
  }
  return largest;
}

function round(value: number): string {
  return String(Number(value.toPrecision(6)));
}

function percent(share: number): string {
  return `${(share * 100).toFixed(2)} %`;
}
