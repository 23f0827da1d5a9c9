import { expect, test } from 'vitest';
import { straighten } from '../../../src/exchange/photo/straighten';
import { distance } from '../../../src/geometry/point';
import { framed } from '../../support/photo/pinhole';
import { renderPhoto } from '../../support/photo/renderPhoto';
import { cleanOptics, plainLight } from '../../support/photo/scene';
import { sheetCorners } from '../../support/photo/shapes';

// The true corners are those of the camera that rendered the picture (tests/support/photo/pinhole.ts).
test('The shadow that paper throws beside two of its edges does not move the corners', () => {
  const sheet = { width: 148, height: 210, at: { x: 0, y: 0 }, angle: 0.13 };
  const camera = framed(
    { width: 900, height: 1100, focal: 1000, tilt: 0.2, tiltTowards: 1, roll: 0.05, lens: 0.01 },
    sheetCorners(sheet),
    0.12,
  );
  const worst = [0, 1, 2, 3].map((side) => {
    const light = { ...plainLight, exposure: 0.9, from: 0.7 + (side * Math.PI) / 2, shadow: 0.55, paperShadow: 0.5 };
    const { picture, truth } = renderPhoto({ table: 'wood', sheet, piece: null, clutter: [] }, camera, {
      light,
      optics: { ...cleanOptics, blur: 0.9, noise: 0.006, jpeg: 90 },
      seed: 3,
    });
    const read = straighten(picture, { kind: 'sheet', width: 148, height: 210, corners: truth.sheet! });
    if (!read.ok) throw new Error(read.sentence);
    return Math.max(...read.value.corners.map((corner, i) => distance(corner, truth.sheet![i]!)));
  });
  // Dots; up to 0.21 where a row is read as one step.
  expect(Math.max(...worst)).toBeLessThan(0.09);
});
