import { describe, expect, it } from 'vitest';
import { colourWord } from '../../src/exchange/drawing/colourWords';
import type { DrawnShape } from '../../src/exchange/drawing/drawingReading';
import { dashWords, lineGroups, shapesOfGroups } from '../../src/exchange/drawing/lineGroups';
import { line } from '../../src/geometry/segment';

let count = 0;
function shape(length: number, look: Partial<DrawnShape> = {}): DrawnShape {
  count++;
  return {
    id: `shape-${count}`,
    path: [line({ x: 0, y: 0 }, { x: length, y: 0 })],
    closed: false,
    strokeDash: null,
    colour: '#000000',
    layer: null,
    name: null,
    nearText: null,
    ...look,
  };
}

describe('lines by how they look', () => {
  it('widths that differ by rounding only are one pen', () => {
    const lines = [shape(10, { lineWidth: 0.3528 }), shape(10, { lineWidth: 0.353 }), shape(10, { lineWidth: 0.37 })];
    expect(lineGroups(lines).map((g) => g.count)).toEqual([2, 1]);
  });

  const shapes = [
    shape(10),
    shape(100, { strokeDash: '8 3', colour: '#ff0000' }),
    shape(50, { strokeDash: '8 3', colour: '#FF0000' }),
    shape(30, { layer: 'Size 12' }),
    shape(20, { layer: 'Size 14', strokeDash: '0.5 1', colour: null }),
  ];

  it('are counted and measured, the longest first, in words', () => {
    expect(lineGroups(shapes).map((g) => [g.words, g.count, g.length])).toEqual([
      ['long dashes, red', 2, 150],
      ['layer Size 12, solid, black', 1, 30],
      ['layer Size 14, dots', 1, 20],
      ['solid, black', 1, 10],
    ]);
  });

  it('can be picked by group', () => {
    const groups = lineGroups(shapes);
    const picked = shapesOfGroups(shapes, new Set([groups[0]!.key, groups[3]!.key]));
    expect(picked.map(({ id }) => id)).toEqual([shapes[0]!.id, shapes[1]!.id, shapes[2]!.id]);
    const all = groups.flatMap(({ key }) => shapesOfGroups(shapes, new Set([key])));
    expect(all.length).toBe(shapes.length);
  });

  it('are told from areas of colour', () => {
    const groups = lineGroups([shape(20, { lineWidth: 0 }), shape(10, { lineWidth: 0, filled: true })]);
    expect(groups.map(({ words }) => words)).toEqual(['solid, black', 'filled, black']);
  });

  it('that sound alike are told apart by width, then dashes, then colour', () => {
    const words = lineGroups([
      shape(50, { lineWidth: 0.2 }),
      shape(40, { lineWidth: 0.5 }),
      shape(30, { strokeDash: '8 3', colour: '#ff0000' }),
      shape(20, { strokeDash: '6 6', colour: '#ff0000' }),
      shape(10, { colour: '#0000ff' }),
      shape(9, { colour: '#0000fe' }),
    ]).map((g) => g.words);
    expect(words).toEqual([
      'solid, black, 0.2 wide',
      'solid, black, 0.5 wide',
      'long dashes, red, dashes of 8 3',
      'long dashes, red, dashes of 6 6',
      'solid, blue, #0000ff',
      'solid, blue, #0000fe',
    ]);
    expect(new Set(words).size).toBe(words.length);
  });
});

describe('colours and dashes in words', () => {
  it.each([
    ['#000000', 'black'],
    ['#ffffff', 'white'],
    ['#808080', 'grey'],
    ['#f00', 'red'],
    ['rgb(0, 128, 0)', 'dark green'],
    ['#00ff00', 'green'],
    ['#0000ff', 'blue'],
    ['#ffa500', 'orange'],
    ['#ffff00', 'yellow'],
    ['#8b4513', 'brown'],
    ['#ff00ff', 'pink'],
    ['#00ffff', 'turquoise'],
    ['DarkRed', 'darkred'],
    ['url(#a)', 'another colour'],
  ])('%s is %s', (written, word) => {
    expect(colourWord(written)).toBe(word);
  });

  it.each([
    [null, 'solid'],
    ['none', 'solid'],
    ['0.5 1', 'dots'],
    ['2,1', 'short dashes'],
    ['10 2.5', 'long dashes'],
    ['12 2 1.5 2', 'dashes and dots'],
  ])('%s is %s', (dash, words) => {
    expect(dashWords(dash)).toBe(words);
  });
});
