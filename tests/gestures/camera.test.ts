import { describe, expect, it } from 'vitest';
import { fitCamera, largestZoom, panBy, rulerSize, smallestZoom, zoomAbout } from '../../src/gestures/camera';
import { screenAt, tableAt, tablePoint } from '../../src/gestures/frames';
import { reachMm } from '../../src/gestures/reach';
import { snapNumber, wholeStep } from '../../src/gestures/wholeUnits';
import { screenPoint } from './tableDriver';

const view = { width: 1280, height: 800 };
const cameras = [0.05, 0.5, 1, 3.7, 60].map((pixelsPerMm) => ({ centre: { x: 123.4, y: -56.7 }, pixelsPerMm }));

describe('camera', () => {
  it.each(cameras)('takes screen points to the table and back at $pixelsPerMm px/mm', (camera) => {
    for (const at of [screenPoint(0, 0), screenPoint(1280, 800), screenPoint(311.5, 77.25)]) {
      const back = screenAt(camera, view, tableAt(camera, view, at));
      expect(back.left).toBeCloseTo(at.left, 9);
      expect(back.top).toBeCloseTo(at.top, 9);
    }
  });

  it.each(cameras)('zooms about the pointer at $pixelsPerMm px/mm', (camera) => {
    const about = screenPoint(900, 120);
    const held = tableAt(camera, view, about);
    const closer = zoomAbout(camera, view, about, 1.3);
    const after = tableAt(closer, view, about);
    expect(after.across).toBeCloseTo(held.across, 9);
    expect(after.down).toBeCloseTo(held.down, 9);
  });

  it('never zooms beyond its limits', () => {
    const camera = cameras[2]!;
    expect(zoomAbout(camera, view, screenPoint(1, 1), 1e9).pixelsPerMm).toBe(largestZoom);
    expect(zoomAbout(camera, view, screenPoint(1, 1), 1e-9).pixelsPerMm).toBe(smallestZoom);
  });

  it('pushes the sheet with the hand', () => {
    const camera = { centre: { x: 0, y: 0 }, pixelsPerMm: 2 };
    const before = screenAt(camera, view, tablePoint(10, 20));
    const after = screenAt(panBy(camera, 30, -14), view, tablePoint(10, 20));
    expect(after.left - before.left).toBeCloseTo(30, 9);
    expect(after.top - before.top).toBeCloseTo(-14, 9);
  });

  it('fits everything clear of the rulers', () => {
    const bounds = { minX: -20, minY: 10, maxX: 900, maxY: 700 };
    const camera = fitCamera(bounds, view);
    const first = screenAt(camera, view, tablePoint(bounds.minX, bounds.minY));
    const last = screenAt(camera, view, tablePoint(bounds.maxX, bounds.maxY));
    expect(first.left).toBeGreaterThan(rulerSize);
    expect(first.top).toBeGreaterThan(rulerSize);
    expect(last.left).toBeLessThan(view.width);
    expect(last.top).toBeLessThan(view.height);
    // As large as it goes: one of the two directions is filled but for its margins.
    const roomAcross = view.width - rulerSize - (last.left - first.left);
    const roomDown = view.height - rulerSize - (last.top - first.top);
    expect(Math.min(roomAcross, roomDown)).toBeCloseTo(88, 6);
  });

  it('turns pixels into mm in one place: the same reach on the screen at every zoom', () => {
    for (const camera of cameras) {
      expect(reachMm('handle', 'mouse', camera) * camera.pixelsPerMm).toBeCloseTo(10, 9);
      expect(reachMm('handle', 'touch', camera)).toBeGreaterThan(reachMm('handle', 'mouse', camera));
    }
  });
});

describe('whole units', () => {
  it('get finer as the table comes nearer', () => {
    expect(wholeStep('cm', 0.5)).toBe(5);
    expect(wholeStep('cm', 1)).toBe(2);
    expect(wholeStep('cm', 4)).toBe(0.5);
    expect(wholeStep('in', 0.5)).toBeCloseTo(25.4 / 4, 12);
    expect(wholeStep('in', 4)).toBeCloseTo(25.4 / 32, 12);
  });

  it('a stop within reach wins over the whole step, and Alt leaves the number alone', () => {
    const stops = [{ value: 41.3, word: 'notch' }];
    expect(snapNumber(40.6, { stops, step: 5, reach: 1, free: false })).toEqual({ value: 41.3, word: 'notch' });
    expect(snapNumber(44, { stops, step: 5, reach: 1, free: false })).toEqual({ value: 45, word: null });
    expect(snapNumber(40.6, { stops, step: 5, reach: 1, free: true })).toEqual({ value: 40.6, word: null });
  });
});
