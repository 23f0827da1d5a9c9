import { pathLength } from '../../geometry/path';
import type { Path } from '../../geometry/segment';
import { sidesApartWarn } from '../../geometry/tolerance';
import type { EdgeStart } from '../edgeNaming';
import { sidesApartLimit } from './foldInHalf';
import { findMirrorAxes, type MirrorAxis } from './mirrorAxes';

/** How a piece may lie on the paper, to be offered and never taken for granted. */
export interface LieGuess {
  readonly is: 'half' | 'both-sides' | 'as-it-lies' | null;
  /** Why, for the maker; empty where nothing is guessed. */
  readonly reason: string;
  /** Lines about which both sides may be called the same, the likeliest first. */
  readonly axes: readonly MirrorAxis[];
}

/** mm. Axes that fit this nearly alike are told apart by how upright they run, since pieces hang upright. */
const fitAlike = 0.5;

/**
 * Whether a closed outline looks like a piece drawn whole, or like half of one, by its edges and its `fittingAxes`. A
 * plain rectangle may be either and is left open.
 */
export function guessLie(corners: readonly EdgeStart[], parts: readonly Path[], axes: readonly MirrorAxis[]): LieGuess {
  const [best] = axes;
  const centre = corners.findIndex(({ role }) => role === 'centre-front' || role === 'centre-back');
  const straight = centre >= 0 && parts[centre] !== undefined && isStraight(parts[centre]);
  if (best !== undefined && best.apart <= sidesApartWarn && !straight) {
    return { is: 'both-sides', reason: 'Both sides look the same.', axes };
  }
  if (best === undefined && straight) {
    return { is: 'half', reason: `“${corners[centre]!.name}” is straight; it may lie on the fold.`, axes };
  }
  if (best === undefined) return { is: 'as-it-lies', reason: 'No line divides it into two like halves.', axes };
  return { is: null, reason: '', axes };
}

const known = new WeakMap<Path, readonly MirrorAxis[]>();

/** Lines about which both sides of a closed outline may be called the same, the likeliest first. Remembered by outline. */
export function fittingAxes(outline: Path): readonly MirrorAxis[] {
  const before = known.get(outline);
  if (before !== undefined) return before;
  const limit = sidesApartLimit(outline);
  const axes = findMirrorAxes(outline)
    .filter(({ apart }) => apart <= limit)
    .sort((a, b) => (Math.abs(a.apart - b.apart) < fitAlike ? lean(a) - lean(b) : a.apart - b.apart));
  known.set(outline, axes);
  return axes;
}

function lean({ mirror }: MirrorAxis): number {
  return Math.abs(mirror.along.x);
}

function isStraight(part: Path): boolean {
  const [first, last] = [part[0]!.start, part.at(-1)!.end];
  return pathLength(part, 0.01) - Math.hypot(last.x - first.x, last.y - first.y) < 0.05;
}
