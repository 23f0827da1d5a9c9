import { pathBounds } from '../geometry/bounds';
import { flattenPath } from '../geometry/flatten';
import { distance, dot, type Point, quarterTurn, subtract, unit } from '../geometry/point';
import type { Path } from '../geometry/segment';
import type { EdgeRole } from '../pattern/piece';

export interface EdgeGuess {
  readonly role: EdgeRole;
  readonly name: string;
  /** Why this was guessed, to be shown beside the offer. */
  readonly reason: string;
}

/** What an edge looks like, in the terms the guesses are made in. */
interface EdgeLook {
  readonly chord: number;
  /** Lean of the chord from upright, 0 to pi/2. */
  readonly lean: number;
  /** Which way it leans: +1 down to the right, -1 down to the left, 0 upright or level. */
  readonly slant: number;
  readonly middle: Point;
  /** Farthest the edge leaves its chord, as a share of it: how bent it is. */
  readonly bend: number;
  /** That distance outward (+) or inward (-), mm. */
  readonly bulge: number;
}

const degree = Math.PI / 180;

/** An edge leaning less than this from upright may be a centre line; less than the second, a side. */
const uprightLean = 10 * degree;
const sideLean = 35 * degree;
/** An edge leaning more than this from upright lies across. */
const acrossLean = 55 * degree;
/** A bend smaller than this share of the chord counts as straight. */
const straightBend = 0.015;
const nearlyStraightBend = 0.05;

/**
 * What each edge of a piece may be, by where it lies when the piece hangs as worn (hem below): offered, never forced.
 * `pieceName` tells front from back. The parts are those of `edgeParts`, counter-clockwise as seen on screen.
 */
export function guessEdges(parts: readonly Path[], pieceName: string): readonly EdgeGuess[] {
  const looks = parts.map(lookOf);
  const guesses: EdgeGuess[] = looks.map((_, i) => ({ role: 'other', name: `Edge ${i + 1}`, reason: 'No guess.' }));
  const middle = middleOf(parts);
  const hem = hemAmong(looks, middle);
  const twins = mirroredPair(looks, hem);
  const centre = twins ? null : centreAmong(looks, hem, middle);
  if (hem !== null) guesses[hem] = { role: 'hem', name: 'Hem', reason: 'The lowest edge lying across.' };
  if (centre !== null) {
    const back = /(?:^|[^a-z])(?:back|rear|cb)(?:[^a-z]|$)/i.test(pieceName);
    guesses[centre] = {
      role: back ? 'centre-back' : 'centre-front',
      name: back ? 'Centre back' : 'Centre front',
      reason: `The longest straight upright edge${back ? ' of a back' : '; say if this is a back'}.`,
    };
  }
  if (hem !== null && centre !== null) guessRound(guesses, looks, hem, centre);
  else if (hem !== null) guessWhole(guesses, looks, hem, middle, twins ?? []);
  return guesses;
}

function lookOf(part: Path): EdgeLook {
  const points = flattenPath(part, 0.1);
  const start = points[0]!;
  const end = points.at(-1)!;
  const chord = distance(start, end);
  const along = unit(subtract(end, start));
  let bulge = 0;
  for (const p of points) {
    const out = dot(quarterTurn(along), subtract(p, start));
    if (Math.abs(out) > Math.abs(bulge)) bulge = out;
  }
  return {
    chord,
    lean: Math.acos(Math.min(1, Math.abs(along.y))),
    slant: Math.sign(along.x * along.y),
    middle: { x: (start.x + end.x) / 2, y: (start.y + end.y) / 2 },
    bend: chord > 0 ? Math.abs(bulge) / chord : Number.POSITIVE_INFINITY,
    bulge,
  };
}

function middleOf(parts: readonly Path[]): Point {
  const box = pathBounds(parts.flat());
  return { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
}

function hemAmong(looks: readonly EdgeLook[], middle: Point): number | null {
  const across = looks.map((_, i) => i).filter((i) => looks[i]!.lean > acrossLean && looks[i]!.middle.y > middle.y);
  return highest(across, (i) => looks[i]!.middle.y);
}

function centreAmong(looks: readonly EdgeLook[], hem: number | null, middle: Point): number | null {
  const upright = looks
    .map((_, i) => i)
    .filter((i) => i !== hem && looks[i]!.lean <= uprightLean && looks[i]!.bend <= straightBend);
  // A lean costs far more than its cosine: a side seam is often the longer line. Of two alike, the one on the left.
  const worth = ({ chord, lean, middle: { x } }: EdgeLook) =>
    chord * Math.cos(lean) ** 8 * (x < middle.x ? 1 + 1e-6 : 1);
  return highest(upright, (i) => worth(looks[i]!));
}

/** Two edges as long as each other that lean opposite ways: a piece drawn whole, such as a sleeve, with no centre line as an edge. */
function mirroredPair(looks: readonly EdgeLook[], hem: number | null): readonly number[] | null {
  const leaning = looks
    .map((_, i) => i)
    .filter((i) => i !== hem && looks[i]!.lean > 2 * degree && looks[i]!.lean <= sideLean);
  for (const i of leaning) {
    for (const j of leaning) {
      const [a, b] = [looks[i]!, looks[j]!];
      const alike = Math.abs(a.chord / b.chord - 1) < 0.02 && Math.abs(a.lean - b.lean) < 2 * degree;
      if (i < j && alike && a.slant === -b.slant) return [i, j];
    }
  }
  return null;
}

function highest(candidates: readonly number[], worth: (i: number) => number): number | null {
  let best: number | null = null;
  for (const i of candidates) if (best === null || worth(i) > worth(best)) best = i;
  return best;
}

/** From the hem round to the centre line, away from where they meet: side, armhole, shoulder, neckline, or side and waist. */
function guessRound(guesses: EdgeGuess[], looks: readonly EdgeLook[], hem: number, centre: number): void {
  const count = looks.length;
  const forward = (hem + 1) % count !== centre;
  const order: number[] = [];
  for (let i = hem; ; ) {
    i = (i + (forward ? 1 : count - 1)) % count;
    if (i === centre) break;
    order.push(i);
  }
  // A hip curve stands out; an armhole is hollow.
  const isSide = ({ lean, bend, bulge }: EdgeLook) => lean <= sideLean && (bend <= nearlyStraightBend || bulge > 0);
  const sides = order.findIndex((i) => !isSide(looks[i]!));
  const rest = order.slice(sides < 0 ? order.length : sides);
  for (const i of order.slice(0, order.length - rest.length)) {
    guesses[i] = { role: 'side', name: 'Side seam', reason: 'It runs up from the hem, away from the centre line.' };
  }
  guessTop(guesses, looks, rest);
}

/** What lies above the side seam, from the side in to the centre line. */
function guessTop(guesses: EdgeGuess[], looks: readonly EdgeLook[], top: readonly number[]): void {
  if (top.length === 1) {
    guesses[top[0]!] = { role: 'waist', name: 'Waist', reason: 'The one edge between side seam and centre line.' };
    return;
  }
  // The shoulder is the highest nearly straight edge that is not the last before the centre line.
  const straight = top.slice(0, -1).filter((i) => looks[i]!.bend <= nearlyStraightBend);
  const shoulder = highest(straight, (i) => -looks[i]!.middle.y);
  const at = shoulder === null ? -1 : top.indexOf(shoulder);
  top.forEach((i, k) => {
    if (k === at) guesses[i] = { role: 'shoulder', name: 'Shoulder', reason: 'A short straight edge at the top.' };
    else if (at >= 0 && k > at && looks[i]!.bulge <= 0) {
      guesses[i] = { role: 'neckline', name: 'Neckline', reason: 'Hollow, between shoulder and centre line.' };
    } else if (k === 0 && looks[i]!.bulge < 0) {
      guesses[i] = { role: 'armhole', name: 'Armhole', reason: 'Hollow, above the side seam.' };
    } else if (at > k && looks[i]!.bulge < 0) {
      guesses[i] = { role: 'armhole', name: 'Armhole', reason: 'Hollow, between side seam and shoulder.' };
    }
  });
}

/**
 * A piece with a hem and no centre line as an edge: a sleeve, when its top stands out as a sleeve head; or a front or back
 * drawn whole, whose mirrored edges are its sides.
 */
function guessWhole(
  guesses: EdgeGuess[],
  looks: readonly EdgeLook[],
  hem: number,
  middle: Point,
  twins: readonly number[],
): void {
  const others = looks.map((_, i) => i).filter((i) => i !== hem);
  const standsOut = ({ middle: { y }, lean, bulge, chord }: EdgeLook) =>
    y < middle.y && lean > acrossLean && bulge > 0.1 * chord;
  const head = highest(
    others.filter((i) => standsOut(looks[i]!)),
    (i) => -looks[i]!.middle.y,
  );
  if (head !== null) guesses[head] = { role: 'sleeve-head', name: 'Sleeve head', reason: 'It stands out at the top.' };
  for (const i of head === null ? twins : others.filter((other) => other !== head && looks[other]!.lean <= sideLean)) {
    guesses[i] =
      head === null
        ? { role: 'side', name: 'Side seam', reason: 'One of two alike, leaning opposite ways.' }
        : { role: 'underarm', name: 'Underarm seam', reason: 'It runs up to the sleeve head.' };
  }
}
