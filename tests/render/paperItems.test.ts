import paper from 'paper/dist/paper-core';
import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { pathLength } from '../../src/geometry/path';
import { point } from '../../src/geometry/point';
import { cubic, line, type Path } from '../../src/geometry/segment';
import { fill, inks, stroke } from '../../src/render/drawing';
import type { Brush } from '../../src/render/glyphItems';
import { shapeItem } from '../../src/render/paperItems';

const scope = new paper.PaperScope();
scope.setup(new scope.Size(100, 100));
const colour = Object.fromEntries(inks.map((ink, index) => [ink, `#0000${(index + 16).toString(16)}`])) as never;
const brush: Brush = { scope, tokens: { colour, font: 'sans-serif' }, ratio: 2, coarse: false };

const closed: Path = [
  line(point(0, 0), point(0, 100)),
  cubic(point(0, 100), point(40, 130), point(90, 120), point(100, 90)),
  line(point(100, 90), point(0, 0)),
];

describe('lines and areas as paper items', () => {
  it('paper measures the same length and area as the core', () => {
    const outline = shapeItem(stroke([closed], 'ink', 1.5), brush) as paper.Path;
    expect(outline.closed).toBe(true);
    // Paper's own numerical length, 1e-3 mm on these curves.
    expect(outline.length).toBeCloseTo(pathLength(closed), 3);
    const area = shapeItem(fill([closed], 'accent-wash'), brush) as paper.Path;
    expect(Math.abs(area.area)).toBeCloseTo(enclosedArea(closed), 6);
  });

  it('an open path stays open; widths and dashes are device pixels at every zoom', () => {
    const open = shapeItem(stroke([closed.slice(0, 2)], 'accent', 1.5, { dash: [14, 4] }), brush) as paper.Path;
    expect(open.closed).toBe(false);
    expect(open.strokeScaling).toBe(false);
    expect(open.strokeWidth).toBe(3);
    expect(open.dashArray).toEqual([28, 8]);
  });

  it('several paths make one item, areas by the even-odd rule', () => {
    const hole = closed.map((segment) => ({ ...segment }));
    const item = shapeItem(fill([closed, hole], 'rule', 0.5), brush) as paper.CompoundPath;
    expect(item.children).toHaveLength(2);
    expect(item.fillRule).toBe('evenodd');
    expect(item.fillColor!.alpha).toBeCloseTo(0.5, 9);
  });

  it('nothing to draw makes no item', () => {
    expect(shapeItem(stroke([[]], 'ink', 1), brush)).toBeNull();
  });
});
