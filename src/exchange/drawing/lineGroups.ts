import { pathLength } from '../../geometry/path';
import { colourWord } from './colourWords';
import type { DrawnShape } from './drawingReading';

/** Lines that look alike and lie on one layer: in a pattern drawn in several sizes, usually one size. */
export interface LineGroup {
  /** Stable within one drawing. */
  readonly key: string;
  /** For the maker, different for every group: `layer Size 12, long dashes, red`. */
  readonly words: string;
  readonly layer: string | null;
  readonly colour: string | null;
  readonly strokeDash: string | null;
  readonly lineWidth: number | null;
  /** Areas of colour without a drawn line. */
  readonly filled: boolean;
  readonly count: number;
  /** mm, or units of the drawing when it has no scale yet. */
  readonly length: number;
}

/** Accuracy of a group's length; it is only read by people. */
const lengthShown = 0.1;

/** The lines of a drawing by how they look, the longest group first. */
export function lineGroups(shapes: readonly DrawnShape[]): readonly LineGroup[] {
  const byKey = new Map<string, { first: DrawnShape; count: number; length: number }>();
  for (const shape of shapes) {
    const key = keyOf(shape);
    const group = byKey.get(key) ?? { first: shape, count: 0, length: 0 };
    group.count++;
    group.length += pathLength(shape.path, lengthShown);
    byKey.set(key, group);
  }
  const groups = [...byKey].map(([key, { first, count, length }]) => ({
    key,
    words: '',
    layer: first.layer,
    colour: first.colour,
    strokeDash: first.strokeDash,
    lineWidth: widthOf(first),
    filled: first.filled === true,
    count,
    length,
  }));
  groups.sort((a, b) => b.length - a.length);
  return named(groups);
}

/** The shapes of the groups chosen, in drawing order. */
export function shapesOfGroups<T extends DrawnShape>(shapes: readonly T[], keys: ReadonlySet<string>): readonly T[] {
  return shapes.filter((shape) => keys.has(keyOf(shape)));
}

function keyOf(shape: DrawnShape): string {
  return JSON.stringify([
    shape.layer,
    shape.colour?.toLowerCase() ?? null,
    shape.strokeDash,
    widthOf(shape),
    shape.filled === true,
  ]);
}

/** Programs round the width anew for every line; a hundredth tells no two pens apart. */
function widthOf({ lineWidth, filled }: DrawnShape): number | null {
  return lineWidth === undefined || filled === true ? null : Math.round(lineWidth * 100) / 100;
}

/** Words for each group, with as much said as tells it from the others. */
function named(groups: readonly LineGroup[]): readonly LineGroup[] {
  let words = groups.map(plainWords);
  const tellApart: ((group: LineGroup) => string | null)[] = [
    ({ lineWidth }) => (lineWidth === null ? null : `${lineWidth} wide`),
    ({ strokeDash }) => (strokeDash === null ? null : `dashes of ${strokeDash}`),
    ({ colour }) => colour,
  ];
  for (const say of tellApart) {
    const alike = repeated(words);
    words = words.map((text, i) => {
      const more = alike.has(text) ? say(groups[i]!) : null;
      return more === null ? text : `${text}, ${more}`;
    });
  }
  const alike = repeated(words);
  return groups.map((group, i) => ({ ...group, words: alike.has(words[i]!) ? `${words[i]} (${i + 1})` : words[i]! }));
}

function repeated(words: readonly string[]): ReadonlySet<string> {
  return new Set(words.filter((text, i) => words.indexOf(text) !== i));
}

function plainWords({ layer, strokeDash, colour, filled }: LineGroup): string {
  const parts = [
    ...(layer === null ? [] : [`layer ${layer}`]),
    filled ? 'filled' : dashWords(strokeDash),
    ...(colour === null ? [] : [colourWord(colour)]),
  ];
  return parts.join(', ');
}

/** How a dash pattern looks, lengths in mm. Ours. */
export function dashWords(strokeDash: string | null): string {
  const lengths = (strokeDash ?? '').split(/[\s,]+/).map(Number.parseFloat);
  const drawn = lengths.filter((length, i) => i % 2 === 0 && length >= 0);
  if (strokeDash === null || drawn.length === 0) return 'solid';
  const longest = Math.max(...drawn);
  const shortest = Math.min(...drawn);
  if (drawn.length > 1 && longest > 2 * shortest) return 'dashes and dots';
  return longest < 1 ? 'dots' : longest < 4 ? 'short dashes' : 'long dashes';
}
