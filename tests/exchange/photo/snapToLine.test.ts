import { describe, expect, it } from 'vitest';
import { snapToLine } from '../../../src/exchange/photo/snapToLine';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { distance, type Point } from '../../../src/geometry/point';
import { framed, seenAt, viewOf } from '../../support/photo/pinhole';
import { renderPhoto } from '../../support/photo/renderPhoto';
import { cleanOptics, plainLight } from '../../support/photo/scene';
import { bodiceFront, polygon } from '../svgTrace';
import { band, blob, flatPicture, flatView } from './flatScene';

const ink = [0.04, 0.04, 0.06] as const;
const paper = [0.85, 0.85, 0.83] as const;
const kraft = [0.45, 0.3, 0.16] as const;
const shape = blob({ x: 300, y: 220 }, 140);
const truth = polygon(shape);
const optics = { blur: 0.8, noise: 0.012 };

/** Places around the shape, off its line by up to `by` dots. */
function pointers(by: number): Point[] {
  return Array.from({ length: 60 }, (_, k) => {
    const p = shape[k * 12]!;
    return { x: p.x + by * Math.cos(7 * k), y: p.y + by * Math.sin(7 * k) };
  });
}

describe('snapping to the drawn line', () => {
  it('finds the middle of a dark line to a fifth of a dot, whatever its width', () => {
    for (const width of [1.5, 2.5, 4]) {
      const picture = flatPicture(600, 440, paper, [{ loops: band(shape, width), colour: ink }], optics);
      const view = flatView(picture, 0.3);
      for (const { x, y } of pointers(6)) {
        const snapped = snapToLine(picture, view, { x: 0.3 * x, y: 0.3 * y }, 3);
        expect(snapped?.kind).toBe('line');
        const at = { x: snapped!.at.x / 0.3, y: snapped!.at.y / 0.3 };
        expect(nearestOnPath(truth, at).distance).toBeLessThan(0.2);
        // The nearest place of the line, not any: the foot of the pointer, give or take what its bend allows.
        expect(distance(at, nearestOnPath(truth, { x, y }).point)).toBeLessThan(2);
      }
    }
  });

  it('finds the edge of paper where no line is drawn', () => {
    const picture = flatPicture(600, 440, kraft, [{ loops: [shape], colour: paper }], optics);
    const view = flatView(picture, 0.3);
    for (const { x, y } of pointers(6)) {
      const snapped = snapToLine(picture, view, { x: 0.3 * x, y: 0.3 * y }, 3);
      expect(snapped?.kind).toBe('edge');
      expect(nearestOnPath(truth, { x: snapped!.at.x / 0.3, y: snapped!.at.y / 0.3 }).distance).toBeLessThan(0.25);
    }
  });

  it('takes the line before the edge beside it', () => {
    const inner = band(blob({ x: 300, y: 220 }, 126), 2.5);
    const shapes = [
      { loops: [shape], colour: paper },
      { loops: inner, colour: ink },
    ];
    const picture = flatPicture(600, 440, kraft, shapes, optics);
    const line = polygon(blob({ x: 300, y: 220 }, 126));
    const view = flatView(picture, 0.3);
    const between = blob({ x: 300, y: 220 }, 131);
    for (let k = 0; k < 720; k += 30) {
      const { x, y } = between[k]!;
      const snapped = snapToLine(picture, view, { x: 0.3 * x, y: 0.3 * y }, 4);
      expect(snapped?.kind).toBe('line');
      expect(nearestOnPath(line, { x: snapped!.at.x / 0.3, y: snapped!.at.y / 0.3 }).distance).toBeLessThan(0.25);
    }
  });

  it('finds nothing on empty paper, out of reach, outside the picture or where there is no picture', () => {
    const picture = flatPicture(600, 440, paper, [{ loops: band(shape, 2.5), colour: ink }], optics);
    const view = flatView(picture, 0.3);
    expect(snapToLine(picture, view, { x: 90, y: 66 }, 3)).toBeNull();
    const off = { x: 0.3 * (shape[0]!.x + 15), y: 0.3 * shape[0]!.y };
    expect(snapToLine(picture, view, off, 3)).toBeNull();
    expect(snapToLine(picture, view, off, 6)).not.toBeNull();
    expect(snapToLine(picture, view, { x: -50, y: 900 }, 5)).toBeNull();
    expect(snapToLine(picture, view, { x: Number.NaN, y: 0 }, 5)).toBeNull();
    const empty = { ...picture, data: new Uint8ClampedArray(picture.data.length) };
    expect(snapToLine(empty, view, off, 6)).toBeNull();
  });

  it('works through the perspective of a photograph, within 0.15 mm', () => {
    const sheet = { width: 420, height: 740, at: { x: -20, y: -20 }, angle: 0 };
    const scene = {
      table: 'wood' as const,
      sheet: null,
      piece: { path: bodiceFront, look: { kind: 'pen' as const, lineWidth: 0.8, paper: sheet } },
      clutter: [],
    };
    const lens = { width: 1600, height: 1200, focal: 1150, roll: 0, lens: 0.02 };
    const camera = framed(
      { ...lens, tilt: 0.4, tiltTowards: 1 },
      bodiceFront.map(({ start }) => start),
    );
    const look = { light: plainLight, optics: { ...cleanOptics, ...optics, jpeg: 85 }, seed: 2 };
    const { picture } = renderPhoto(scene, camera, look);
    const view = viewOf(camera);
    for (const at of [
      { x: 303, y: 420 },
      { x: 52, y: 300 },
      { x: 150, y: 651 },
      { x: 228, y: 120 },
    ]) {
      expect(seenAt(view, at).x).toBeGreaterThan(0);
      const snapped = snapToLine(picture, view, at, 6);
      expect(snapped?.kind).toBe('line');
      expect(nearestOnPath(bodiceFront, snapped!.at).distance).toBeLessThan(0.15);
    }
  });
});
