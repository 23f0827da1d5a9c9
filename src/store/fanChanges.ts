import { fail, type Outcome, succeed } from '../geometry/outcome';
import type { FannedPiece } from '../operations/worked';
import type { FanStep, FullnessLine, Opening, SlashLine } from '../pattern/recipe';

/** Most slash lines a piece takes; far more than anyone cuts, few enough to stay quick. */
const mostSlashes = 96;

const closedSlash: Opening = { measure: 'chord', hem: 0, far: 0 };

/** An opening of `hem` mm at the hem, measured the way it was before; one given as an angle becomes a straight opening. */
export function openedBy(opening: Opening, hem: number): Opening {
  if (opening.measure === 'arc') return { measure: 'arc', hem };
  return { measure: 'chord', hem, far: opening.measure === 'chord' ? opening.far : 0 };
}

/**
 * The fan with another fullness line, or with null none. Slash lines hinged on a line cannot open there, and the side
 * cannot turn by itself, so both are set to 0.
 */
export function withFullness(step: FanStep, fullness: FullnessLine | null): FanStep {
  if (fullness === null) return { ...step, fullness };
  const slashes = step.slashes.map(
    (line): SlashLine =>
      line.opening.measure === 'chord' && line.opening.far !== 0
        ? { ...line, opening: { ...line.opening, far: 0 } }
        : line,
  );
  return { ...step, fullness, sideTurn: 0, slashes };
}

/**
 * Every opening as it is, given in another measure: straight across, along the arc its hem end travels, or as the turn
 * itself. `fanned` is what the step makes. A line that opens at both ends has no hinge, and stays measured straight.
 */
export function measuredBy(step: FanStep, fanned: FannedPiece, measure: Opening['measure']): Outcome<FanStep> {
  if (measure !== 'chord' && step.slashes.some(({ opening }) => opening.measure === 'chord' && opening.far !== 0)) {
    return fail(
      'opens-at-both-ends',
      'A slash line that opens at the far edge too can only be measured straight across. Set the far edge to 0 first.',
    );
  }
  const slashes = step.slashes.map((line): SlashLine => {
    const cut = fanned.cuts.find(({ id }) => id === line.id);
    if (line.opening.measure === measure || cut === undefined) return line;
    if (measure === 'angle') return { ...line, opening: { measure, angle: cut.angle } };
    if (measure === 'arc') return { ...line, opening: { measure, hem: cut.angle * (cut.radius ?? cut.length) } };
    return { ...line, opening: { measure, hem: cut.chord, far: 0 } };
  });
  return succeed({ ...step, slashes });
}

/** `count` slash lines evenly spaced across; openings are kept in order and further lines take the last one's. */
export function withSlashCount(step: FanStep, count: number): Outcome<FanStep> {
  if (!(Number.isInteger(count) && count >= 1 && count <= mostSlashes)) {
    return fail('slash-count-wrong', `Choose from 1 to ${mostSlashes} slash lines.`);
  }
  const ids = idsFor(step.slashes, count);
  const slashes = ids.map((id, index) => ({
    id,
    across: (index + 1) / (count + 1),
    tilt: 0,
    opening: step.slashes[Math.min(index, step.slashes.length - 1)]?.opening ?? closedSlash,
  }));
  return succeed({ ...step, slashes });
}

/** The ids the lines have, then new ones that differ from them. */
function idsFor(present: readonly SlashLine[], count: number): string[] {
  const ids = present.slice(0, count).map((slash) => slash.id);
  for (let number = 1; ids.length < count; number += 1) {
    if (!ids.includes(`s${number}`)) ids.push(`s${number}`);
  }
  return ids;
}

export function withSlash(step: FanStep, slash: string, change: (line: SlashLine) => SlashLine): Outcome<FanStep> {
  if (!step.slashes.some((line) => line.id === slash))
    return fail('slash-unknown', 'This slash line is not there any more.');
  return succeed({ ...step, slashes: step.slashes.map((line) => (line.id === slash ? change(line) : line)) });
}
