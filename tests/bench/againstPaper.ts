import { pathBounds } from '../../src/geometry/bounds';
import { fan, fullnessCutId } from '../../src/operations/fan';
import type { FanStep } from '../../src/pattern/recipe';
import { fanWithPaper, type PaperCut, prepare } from './paperFan';
import { evenFan, frontAndBack, must, nudged } from './pieces';
import { show, time } from './timing';

/** Our fan beside the same fan composed with paper.js, in one run. Both must give the same area, or the race means nothing. */
export function againstPaper(): void {
  const [front] = frontAndBack();
  const step: FanStep = evenFan(front, 24);
  const fanned = must(fan(front, step));
  const cuts: PaperCut[] = fanned.cuts.flatMap(({ id, pivot, path, angle }) => {
    const open = path[0]?.start;
    return id === fullnessCutId || pivot === null || open === undefined
      ? []
      : [{ hinge: pivot, open, degrees: (angle * 180) / Math.PI }];
  });
  const hinge = fanned.cuts.find(({ id }) => id === fullnessCutId)?.pivot;
  if (hinge == null) throw new Error('the fan has lost its fullness line');
  const outline = prepare(front);
  const { maxY } = pathBounds(front.edges.flatMap(({ path }) => path));
  const turns = { hinge, bottom: maxY, cuts };
  const composed = fanWithPaper(outline, turns);
  const cloth = fanned.panels.reduce((sum, panel) => sum + panel.area, 0);
  const drift = Math.abs(composed - cloth) / cloth;
  if (drift > 1e-3) throw new Error(`the two fans differ: paper.js keeps ${composed} mm2 of cloth, ours ${cloth} mm2`);

  const ours = time((run) => must(fan(front, nudged(step, run))), 200);
  const theirs = time(() => fanWithPaper(outline, turns), 30);
  console.log(
    `fan with 24 slash lines: ours ${show(ours.median)}, composed with paper.js ${show(theirs.median)}, ratio ${(theirs.median / ours.median).toFixed(0)} (goal 20)`,
  );
}
