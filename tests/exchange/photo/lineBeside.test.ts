import { expect, test } from 'vitest';
import { proposeOutline } from '../../../src/exchange/photo/proposeOutline';
import { straightRuns } from '../../../src/exchange/photo/straightRuns';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { accuracyLimits } from '../../support/photo/accuracyLimits';
import { framed } from '../../support/photo/pinhole';
import { renderPhoto } from '../../support/photo/renderPhoto';
import { cleanOptics, plainLight } from '../../support/photo/scene';
import { polygon, sheetCorners } from '../../support/photo/shapes';

// A rectangle on a mat whose heavy lines, 0.9 mm wide, lie along its upper and left edges, half of each under the paper.
function onHeavyLines(kind: 'tissue' | 'kraft' | 'white') {
  const path = polygon([
    { x: 100, y: 100 },
    { x: 100, y: 233 },
    { x: 287, y: 233 },
    { x: 287, y: 100 },
  ]);
  const sheet = { width: 105, height: 148, at: { x: 330, y: 90 }, angle: 0.1 };
  const camera = framed({ width: 1200, height: 900, focal: 1000, tilt: 0.2, tiltTowards: 1, roll: 0.05, lens: 0.01 }, [
    { x: 70, y: 70 },
    { x: 287, y: 260 },
    ...sheetCorners(sheet),
  ]);
  const { picture, truth } = renderPhoto(
    { table: 'mat', sheet, piece: { path, look: { kind } }, clutter: [] },
    camera,
    { light: plainLight, optics: { ...cleanOptics, blur: 1, noise: 0.008, jpeg: 80 }, seed: 5 },
  );
  const found = proposeOutline(picture, truth.view, { at: null, kind: 'edge-of-paper', leaveOut: [truth.sheet!] });
  if (!found.ok) throw new Error(found.sentence);
  return found.value.path.map(({ start }) => nearestOnPath(truth.outline!, start).distance).sort((a, b) => a - b);
}

for (const kind of ['tissue', 'kraft', 'white'] as const) {
  test(`The edge of ${kind} paper laid on the ruled lines of a mat is told from the lines`, () => {
    const off = onHeavyLines(kind);
    expect(off[Math.floor(0.95 * off.length)]!).toBeLessThan(accuracyLimits.p95);
    expect(off.at(-1)!).toBeLessThan(accuracyLimits.silent);
  });
}

test('The straight stretches of a border are found, a curve has none, and their lines are not drawn aside by strays', () => {
  const points = [];
  for (let x = 0; x <= 100; x += 0.5) points.push({ x, y: x > 20 && x < 40 ? -0.9 : 0 });
  for (let a = -Math.PI / 2; a < Math.PI / 2; a += 0.02) {
    points.push({ x: 100 + 25 * Math.cos(a), y: 25 + 25 * Math.sin(a) });
  }
  for (let x = 100; x >= 0; x -= 0.5) points.push({ x, y: 50 });
  for (let a = Math.PI / 2; a < (3 * Math.PI) / 2; a += 0.02) {
    points.push({ x: 25 * Math.cos(a), y: 25 + 25 * Math.sin(a) });
  }
  const runs = straightRuns({ xs: Float64Array.from(points, (p) => p.x), ys: Float64Array.from(points, (p) => p.y) });
  expect(runs.map(({ length }) => length > 90)).toEqual([true, true]);
  for (const { y, ty } of runs) {
    expect(Math.min(Math.abs(y), Math.abs(y - 50))).toBeLessThan(0.15);
    expect(Math.abs(ty)).toBeLessThan(0.003);
  }
});
