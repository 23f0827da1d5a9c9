import { describe, expect, it } from 'vitest';
import type { DrawnMark } from '../../src/exchange/drawing/drawingReading';
import { point } from '../../src/geometry/point';
import { line, type Path } from '../../src/geometry/segment';
import type { BringInDraft } from '../../src/store/bringIn';
import { marksOfFile } from '../../src/ui/bringin/marksOfFile';

function rectangle(left: number, top: number, right: number, bottom: number): Path {
  const corners = [point(left, top), point(left, bottom), point(right, bottom), point(right, top)];
  return corners.map((corner, index) => line(corner, corners[(index + 1) % 4]!));
}

const cutLine = rectangle(0, 0, 200, 300);
const stitching = rectangle(15, 15, 185, 285);

function draft(marks: readonly DrawnMark[], from: readonly string[] = ['edge']): BringInDraft {
  return {
    source: 'front.dxf',
    name: 'Front',
    shapes: [{ id: 'edge', name: 'Front', path: cutLine, closed: true, from }],
    outline: 'edge',
    path: cutLine,
    corners: [],
    scale: { kind: 'certain', sentence: '' },
    marks,
  };
}

describe('the marks a file gives with an outline', () => {
  it('come along: a notch is carried to the stitching line, holes and the grainline stay where they are', () => {
    const marks: DrawnMark[] = [
      { kind: 'notch', at: point(0, 100), shape: 'edge' },
      { kind: 'drill', at: point(60, 80), shape: 'edge' },
      { kind: 'grain', from: point(100, 250), to: point(100, 50), shape: 'edge' },
    ];
    expect(marksOfFile(draft(marks), cutLine, stitching)).toEqual({
      notches: [{ at: point(15, 100), style: 'single' }],
      drillHoles: [point(60, 80)],
      grainline: { start: point(100, 250), end: point(100, 50) },
      leftOut: null,
    });
  });

  it('belong to the lines the outline was joined from, and not to another piece', () => {
    const marks: DrawnMark[] = [
      { kind: 'drill', at: point(60, 80), shape: 'other-half' },
      { kind: 'drill', at: point(70, 80), shape: 'back' },
    ];
    expect(marksOfFile(draft(marks, ['edge', 'other-half']), cutLine, cutLine).drillHoles).toEqual([point(60, 80)]);
  });

  it('on another line of the same piece are taken by where they lie', () => {
    const marks: DrawnMark[] = [
      { kind: 'notch', at: point(200, 150), shape: 'boundary' },
      { kind: 'drill', at: point(60, 80), shape: 'boundary' },
      { kind: 'drill', at: point(900, 80), shape: 'boundary' },
      { kind: 'grain', from: point(100, 250), to: point(100, 900), shape: 'boundary' },
    ];
    const found = marksOfFile(draft(marks), cutLine, cutLine);
    expect(found.notches).toEqual([{ at: point(200, 150), style: 'single' }]);
    expect(found.drillHoles).toEqual([point(60, 80)]);
    expect(found.grainline).toBe('default');
  });

  it('a notch far from the outline is left out and counted', () => {
    const marks: DrawnMark[] = [
      { kind: 'notch', at: point(-4, 100), shape: 'edge' },
      { kind: 'notch', at: point(-40, 100), shape: 'edge' },
    ];
    const found = marksOfFile(draft(marks), cutLine, cutLine);
    expect(found.notches).toHaveLength(1);
    expect(found.leftOut).toBe('1 notch of the file lies off the outline and was left out.');
  });
});
