import { colors, parseString, toPolylines } from 'dxf';
import { describe, expect, it } from 'vitest';
import { indexColour } from '../../../src/exchange/dxf/colours';
import { enclosedArea } from '../../../src/geometry/area';
import { nearestOnPath } from '../../../src/geometry/nearest';
import { pathLength, pathPointAt } from '../../../src/geometry/path';
import { distance, point } from '../../../src/geometry/point';
import type { Path } from '../../../src/geometry/segment';
import { line, segmentPointAt } from '../../../src/geometry/segment';
import { dxf, fixture, pathsIn, read } from './dxfFixture';

const blocks = `
0 BLOCK
2 inner
10 3
20 -4
0 LWPOLYLINE
8 0
90 3
70 1
10 3
20 -4
42 0.4
10 43
20 -4
10 43
20 26
42 -1.7
0 ARC
8 0
10 10
20 5
40 12
50 300
51 75
0 ENDBLK
0 BLOCK
2 outer
10 0
20 0
0 LINE
8 0
10 0
20 0
11 100
21 5
0 INSERT
8 0
2 inner
10 60
20 10
41 1.5
42 0.8
50 25
0 INSERT
8 0
2 inner
10 -30
20 70
41 -1
42 1
50 -110
0 ENDBLK`;

const entities = `
0 LINE
8 a
10 -5
20 7
11 120
21 33.5
0 LWPOLYLINE
8 a
90 5
70 1
10 0
20 0
42 0.2
10 100
20 0
42 -0.6
10 120
20 80
10 60
20 140
42 1
10 0
20 90
42 3
0 POLYLINE
8 a
66 1
70 0
0 VERTEX
8 a
10 200
20 0
42 -0.3
0 VERTEX
8 a
10 260
20 40
0 VERTEX
8 a
10 230
20 90
0 SEQEND
0 ARC
8 a
10 300
20 300
40 55
50 200
51 20
0 CIRCLE
8 a
10 -300
20 100
40 42
0 CIRCLE
8 a
10 77
20 10
40 21
210 0
220 0
230 -1
0 ARC
8 a
10 77
20 10
40 21
50 10
51 100
210 0
220 0
230 -1
0 ELLIPSE
8 a
10 400
20 100
11 30
21 -50
40 0.35
41 0.5
42 5.2
0 INSERT
8 a
2 outer
10 500
20 -100
41 2
42 2
50 40
0 INSERT
8 a
2 inner
10 500
20 300
41 1.2
42 0.7
50 15
70 3
71 2
44 90
45 70`;

/** Largest distance of their points from our path, and of ours from the chords between theirs, units. */
function apart(vertices: readonly (readonly [number, number])[], path: Path): { theirs: number; ours: number } {
  const points = vertices.map(([x, y]) => point(x, -y));
  const chords = points
    .slice(1)
    .map((p, i) => line(points[i]!, p))
    .filter(({ start, end }) => distance(start, end) > 0);
  const ours = path.flatMap((segment) => [0, 0.25, 0.5, 0.75, 1].map((t) => segmentPointAt(segment, t)));
  return {
    theirs: Math.max(...points.map((p) => nearestOnPath(path, p).distance)),
    ours: Math.max(...ours.map((p) => nearestOnPath(chords, p).distance)),
  };
}

describe('lines, arcs and blocks of a DXF file', () => {
  it('lie where npm dxf 5.3.1 puts them: lines, bulges, arcs, ellipses, mirrored planes, nested and repeated blocks', () => {
    const text = dxf(entities, { blocks });
    const theirs = toPolylines(parseString(text)).polylines;
    const ours = read(text).shapes;
    expect(ours).toHaveLength(8 + 5 + 12);
    expect(theirs).toHaveLength(ours.length);
    // Both keep drawing order; only repeated blocks may be counted along rows or along columns first.
    theirs.forEach(({ vertices }, i) => {
      const candidates = i < 13 ? [ours[i]!] : ours.slice(13);
      const gaps = candidates.map(({ path }) => apart(vertices, path)).sort((a, b) => a.theirs - b.theirs);
      expect(gaps[0]!.theirs, `shape ${i + 1}`).toBeLessThan(1e-5);
      // Their chords span up to 7.5 degrees of an arc of 110 at most: r (1 - cos 3.75 degrees) = 0.24.
      expect(gaps[0]!.ours, `shape ${i + 1}`).toBeLessThan(0.3);
    });
  });

  it('a bulge is the tangent of a quarter of the turn: the arc keeps radius and centre (closed form)', () => {
    for (const bulge of [1e-6, 0.01, 0.2, 0.5, 1, 2.5, -0.3, -1, -40]) {
      const [path] = pathsIn(`0 LWPOLYLINE\n8 a\n90 2\n70 0\n10 10\n20 20\n42 ${bulge}\n10 70\n20 100\n42 9`);
      const chord = 100;
      const radius = (chord * (1 + bulge * bulge)) / (4 * Math.abs(bulge));
      const turn = 4 * Math.atan(Math.abs(bulge));
      // 6.7e-8 of the radius is what the cubics may lie off, checked beside drawing/arc.ts.
      expect(pathLength(path!) / (radius * turn)).toBeCloseTo(1, 7);
      expect(path![0]!.start).toEqual(point(10, -20));
      expect(path!.at(-1)!.end).toEqual(point(70, -100));
      // The arc's middle stands off the chord by bulge times half of it, to the right when y counts upward.
      const middle = pathPointAt(path!, (radius * turn) / 2).point;
      const side = ((middle.x - 10) * 80 - (-middle.y - 20) * 60) / 100;
      expect(Math.abs(side - (bulge * chord) / 2)).toBeLessThan(1e-8 + 1e-7 * Math.abs(side));
    }
  });

  it('a closed polyline with bulges encloses what the closed form says', () => {
    // A square of 100 with a half circle on each side, two outward and two inward.
    const [path] = pathsIn(
      '0 LWPOLYLINE\n8 a\n90 4\n70 1\n10 0\n20 0\n42 1\n10 100\n20 0\n42 1\n10 100\n20 100\n42 -1\n10 0\n20 100\n42 -0.5',
    );
    const half = (Math.PI * 50 * 50) / 2;
    const radius = (100 * 1.25) / 2;
    const turn = 4 * Math.atan(0.5);
    const bow = (radius * radius * (turn - Math.sin(turn))) / 2;
    expect(Math.abs(enclosedArea(path!))).toBeCloseTo(100 * 100 + half - bow, 3);
    expect(path!.at(-1)!.end).toEqual(path![0]!.start);
  });

  it('y counts upward in the file and downward here, so a shape is not mirrored', () => {
    const [path] = pathsIn('0 LWPOLYLINE\n8 a\n90 3\n70 1\n10 0\n20 0\n10 100\n20 0\n10 0\n20 50');
    expect(path!.map(({ start }) => start)).toEqual([point(0, 0), point(100, 0), point(0, -50)]);
  });

  it('a plane seen from below mirrors x (arbitrary axis rule, from memory; npm dxf agrees above)', () => {
    const [path] = pathsIn('0 LWPOLYLINE\n8 a\n90 2\n70 0\n210 0\n220 0\n230 -1\n10 10\n20 20\n10 70\n20 30');
    expect(path![0]).toEqual(line(point(-10, -20), point(-70, -30)));
    // An ellipse stands in the drawing's own frame whatever its plane; only its turn is the other way.
    const [below] = pathsIn('0 ELLIPSE\n8 a\n10 5\n20 6\n11 40\n21 0\n230 -1\n40 0.5\n41 0\n42 1.5707963267948966');
    expect(below!.at(-1)!.end.x).toBeCloseTo(5, 9);
    expect(below!.at(-1)!.end.y).toBeCloseTo(-6 + 20, 9);
  });

  it('names the 255 colours as npm dxf does, but for the one drawn black on paper', () => {
    for (let index = 1; index <= 255; index++) {
      if (index === 7) continue;
      const ours = indexColour(index)!;
      colors[index]!.forEach((value, channel) => {
        const own = Number.parseInt(ours.slice(1 + 2 * channel, 3 + 2 * channel), 16);
        expect(Math.abs(own - value), `colour ${index}`).toBeLessThanOrEqual(1);
      });
    }
    expect(indexColour(7)).toBe('#000000');
    for (const none of [0, 256, -1, 1.5, Number.NaN]) expect(indexColour(none)).toBeNull();
  });

  it('tells sizes apart by layer, colour and dashes, a part without its own taking its layer’s or its block’s', () => {
    const shapes = read(fixture('bodice-2010.dxf')).shapes;
    const look = shapes.map(({ layer, colour, strokeDash }) => [layer, colour, strokeDash]);
    expect(look[0]).toEqual(['Size 12', '#ff0000', '12 6']);
    expect(look[4]).toEqual(['Size 14', '#0000ff', null]);
    // A pocket on layer 0 takes the layer of the place it is put at; the button in it names its own.
    expect(look[7]).toEqual(['Size 12', '#ff0000', '12 6']);
    expect(look[8]).toEqual(['Size 14', '#0000ff', null]);
    expect(shapes[7]!.name).toBe('Pocket');
    expect(shapes[3]!.nearText).toBe('Bodice front');
  });

  it('what is in a block takes layer, colour and dashes of its place where it says so; a frozen place hides it, one switched off does not', () => {
    const tables = [
      '0 LTYPE\n2 dashed\n49 8\n49 -3',
      '0 LAYER\n2 red\n70 0\n62 1\n6 dashed',
      '0 LAYER\n2 off\n70 0\n62 -5',
      '0 LAYER\n2 ice\n70 1\n62 2',
    ].join('\n');
    const inside =
      '0 BLOCK\n2 part\n10 0\n20 0\n0 LINE\n8 0\n62 0\n6 BYBLOCK\n11 5\n10 0\n20 0\n21 1\n0 LINE\n8 blue\n420 255\n10 0\n20 0\n11 5\n21 2\n0 ENDBLK';
    const place = (layer: string, more = '') => `0 INSERT\n8 ${layer}\n2 PART\n10 0\n20 0\n${more}`;
    const look = (...places: string[]) =>
      read(dxf(places.join('\n'), { tables, blocks: inside })).shapes.map(({ layer, colour, strokeDash }) => [
        layer,
        colour,
        strokeDash,
      ]);
    const blue = ['blue', '#0000ff', null];
    expect(look(place('red'))).toEqual([['red', '#ff0000', '8 3'], blue]);
    expect(look(place('red', '62 3\n6 CONTINUOUS'))).toEqual([['red', '#00ff00', null], blue]);
    expect(look(place('red'), place('ice'))).toHaveLength(2);
    expect(look(place('off'))).toEqual([blue]);
  });

  it('leaves out what is no line, what is hidden and what belongs to a page, and counts it', () => {
    expect(read(fixture('bodice-2010.dxf')).warnings).toEqual([
      '2 parts on layers that are switched off or frozen were left out (“Notes”, “Frozen”). Switch them on in the program that made the file if you need them.',
      '1 part of a page layout was left out; the drawing itself is read.',
      '1 filled or hatched area was left out; only lines are read.',
      '1 dimension was left out; only lines are read.',
      '1 surface was left out; only lines are read.',
      '1 part of a kind not read here was left out (WIPEOUT).',
    ]);
  });

  it('reads a file of release 12 with old line ends, comments and a text beside its piece', () => {
    const { shapes, warnings, marks } = read(fixture('skirt-r12.dxf'));
    expect(warnings).toEqual([]);
    expect(marks).toBeUndefined();
    expect(shapes.map(({ closed }) => closed)).toEqual([true, false, false, true]);
    expect(shapes[0]!.nearText).toBe('Skirt front');
    expect(pathLength(shapes[3]!.path)).toBeCloseTo(80 * Math.PI, 4);
    expect(pathLength(shapes[2]!.path)).toBeCloseTo((50 * 170 * Math.PI) / 180, 4);
  });
});
