import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { pathBounds } from '../../src/geometry/bounds';
import { pathLength } from '../../src/geometry/path';
import { fixture, pathsIn, read, readScaled, sheet } from './svgFixture';

/**
 * The skirt of skirt-mm.svg by plane trigonometry: straight sides and one arc of radius 200 over the chord from
 * (250, 200) to (220, 20).
 */
const hipTurn = 2 * Math.asin(Math.hypot(30, 180) / 2 / 200);
const skirtLength = 600 + 260 + Math.hypot(30, 420) + 200 * hipTurn + 200;
const skirtPolygon = [
  [20, 20],
  [20, 620],
  [280, 620],
  [250, 200],
  [220, 20],
].reduce((sum, [x, y], i, all) => {
  const [u, v] = all[(i + 1) % all.length]!;
  return sum + (u! * y! - x! * v!) / 2;
}, 0);
const skirtArea = skirtPolygon + (200 * 200 * (hipTurn - Math.sin(hipTurn))) / 2;

describe('a traced piece at true size', () => {
  it('reads a skirt drawn in millimetres to its trigonometric length and area', () => {
    const { shapes, mmPerUnit } = readScaled(fixture('skirt-mm.svg'));
    expect(mmPerUnit).toBe(1);
    expect(shapes).toHaveLength(1);
    expect(pathLength(shapes[0]!.path)).toBeCloseTo(skirtLength, 4);
    // The arc's cubics stand within 7e-8 r of it: over 190 mm at most 0.003 mm2.
    expect(Math.abs(enclosedArea(shapes[0]!.path) - skirtArea)).toBeLessThan(0.003);
  });

  it('offers the larger text inside the piece as its name', () => {
    expect(read(fixture('skirt-mm.svg')).shapes[0]).toMatchObject({
      name: 'skirt-front',
      nearText: 'Skirt front',
      closed: true,
    });
  });

  it('reads a bodice in centimetres through mirrored, turned and doubled groups', () => {
    const { shapes, mmPerUnit } = readScaled(fixture('bodice-cm.svg'));
    expect(mmPerUnit).toBe(10);
    const { path } = shapes[0]!;
    // By hand: turned by 90 degrees and mirrored, (x, y) of the small drawing lands at 50 + 20 y, 650 + 20 x mm.
    expect(path.map((segment) => segment.end)).toEqual(
      [
        [13, -0.4],
        [12.5, -20.4],
        [8.8, -25.25],
        [9.5, -30.2],
        [3.75, -32.2],
        [0, -27.7],
        [0, 0],
      ].map(([y, x]) => ({ x: expect.closeTo(50 + 20 * y!, 9), y: expect.closeTo(650 + 20 * x!, 9) })),
    );
    expect(shapes[0]!.layer).toBe('front');
  });

  it('reads a rectangle and a circle drawn 72 to the inch', () => {
    const { shapes, mmPerUnit } = readScaled(fixture('yoke-inch.svg'));
    expect(mmPerUnit).toBeCloseTo(25.4 / 72, 12);
    expect(shapes).toHaveLength(2);
    expect(pathLength(shapes[0]!.path)).toBeCloseTo(2 * (10 + 4) * 25.4, 9);
    expect(pathLength(shapes[1]!.path)).toBeCloseTo(2 * Math.PI * 12.7, 5);
    expect(shapes[0]).toMatchObject({ colour: '#a3261f', strokeDash: '9 3', layer: 'yoke' });
  });

  it('reads an older file: document type stepped over, switch, symbol and inner drawing fitted into their areas', () => {
    const { shapes } = readScaled(fixture('older-program.svg'));
    const boxes = shapes.map(({ path }) => pathBounds(path));
    // Symbol of 20 x 20 shown in 144 x 72 at (72, 72): 72 x 72 in the middle. Inner svg: 306 x 144 at (300, 300), stretched.
    const inch = (points: number) => expect.closeTo((points / 72) * 25.4, 9);
    expect(boxes[0]).toEqual({ minX: inch(108), maxX: inch(180), minY: inch(72), maxY: inch(144) });
    expect(boxes[1]).toEqual({ minX: inch(300), maxX: inch(606), minY: inch(300), maxY: inch(444) });
    expect(shapes.map((shape) => shape.layer)).toEqual(['Size_12', 'Size_12']);
    expect(shapes.map((shape) => shape.strokeDash)).toEqual(['4,2', '4,2']);
  });

  it('leaves out hidden parts and says so', () => {
    const { shapes, warnings } = read(
      sheet(
        '<g display="none"><path d="M0 0h9v9z"/></g><path visibility="hidden" d="M0 0h9v9z"/><path fill="none" d="M0 0h9v9z"/><path d="M1 1h9v9z"/>',
      ),
    );
    expect(shapes).toHaveLength(1);
    expect(warnings).toEqual([
      '2 hidden parts of the drawing were left out.',
      '1 shape drawn in no colour at all was left out.',
    ]);
  });

  it('gives each stroke of one path its own shape', () => {
    const { shapes } = read(sheet('<path d="M0 0h9v9z M20 20h5 M30 30v1"/>'));
    expect(shapes.map(({ id, closed }) => [id, closed])).toEqual([
      ['shape-1', true],
      ['shape-2', false],
      ['shape-3', false],
    ]);
  });
});

describe('basic shapes', () => {
  it('draws line, polyline, polygon, rectangle, circle and ellipse by their own rules', () => {
    const [straight, open, closed, box, round, oval] = pathsIn(
      '<line x1="1" y1="2" x2="4" y2="6" stroke="red"/><polyline points="0,0 3,4 3-4"/><polygon points="0 0,3 0 3 4"/><rect x="1" y="2" width="30" height="40" rx="5"/><circle cx="5" cy="5" r="100"/><ellipse cx="0" cy="0" rx="3" ry="0"/><ellipse cx="0" cy="0" rx="30" ry="20"/>',
    );
    expect(pathLength(straight!)).toBe(5);
    expect(pathLength(open!)).toBe(13);
    expect(pathLength(closed!)).toBe(12);
    expect(pathLength(box!)).toBeCloseTo(2 * (20 + 30) + 2 * Math.PI * 5, 5);
    expect(pathLength(round!)).toBeCloseTo(200 * Math.PI, 4);
    // Ramanujan's second formula, good to 1e-9 here.
    const h = (10 / 50) ** 2;
    const around = Math.PI * 50 * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
    expect(pathLength(oval!)).toBeCloseTo(around, 4);
  });

  it('takes percentages of the view box, and physical lengths at 96 units to the inch with a warning', () => {
    const { shapes, warnings } = read(sheet('<rect x="10%" y="1in" width="50%" height="25%"/>'));
    expect(pathBounds(shapes[0]!.path)).toEqual({ minX: 100, maxX: 600, minY: 96, maxY: 346 });
    expect(warnings.join()).toContain('96 units to the inch');
  });

  it('leaves out sizes it cannot read rather than guess them', () => {
    const { shapes, warnings } = read(
      sheet('<rect width="5em" height="4"/><circle r="-1"/><rect width="0" height="9"/><path d="M0 0h1"/>'),
    );
    expect(shapes).toHaveLength(1);
    expect(warnings).toEqual(['2 shapes with sizes that cannot be read were left out.']);
  });
});

describe('looks', () => {
  it('own style wins over sheet, sheet over attribute, id over class over tag, later over earlier', () => {
    const { shapes } = read(
      sheet(
        `<style><![CDATA[ path { stroke: red } .b { stroke: Blue } .a { stroke: green } #c { stroke: black } g path { stroke: pink } ]]></style>
        <g fill="none" stroke="orange"><path d="M0 0h1"/><path class="a b" d="M0 0h1"/><path class="a" id="c" d="M0 0h1"/>
        <path style="stroke:#123" class="a" d="M0 0h1"/><line x2="5" stroke="inherit"/></g>`,
      ),
    );
    expect(shapes.map((shape) => shape.colour)).toEqual(['red', 'green', 'black', '#123', 'orange']);
  });

  it('leaves out a shape that a style would move, because styles are not followed that far', () => {
    const { shapes, warnings } = read(
      sheet(
        '<path style="transform: rotate(4deg)" d="M0 0h1"/><g transform="spin(4)"><path d="M0 0h1"/></g><path d="M0 0h1"/>',
      ),
    );
    expect(shapes).toHaveLength(1);
    expect(warnings).toEqual(['2 shapes or groups with a placement that cannot be read were left out.']);
  });
});
