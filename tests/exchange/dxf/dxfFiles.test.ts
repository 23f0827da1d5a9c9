import { describe, expect, it } from 'vitest';
import { applyScale } from '../../../src/exchange/drawing/applyScale';
import { readDxf } from '../../../src/exchange/dxf/readDxf';
import { pathBounds } from '../../../src/geometry/bounds';
import { pathLength } from '../../../src/geometry/path';
import { point } from '../../../src/geometry/point';
import { line } from '../../../src/geometry/segment';
import { succeeded } from '../svgFixture';
import { asBinary } from './asBinary';
import { bytesOf, dxf, fixture, read } from './dxfFixture';

const square = '0 LWPOLYLINE\n8 a\n90 4\n70 1\n10 0\n20 0\n10 10\n20 0\n10 10\n20 10\n10 0\n20 10';
const unitLine = '0 LINE\n8 a\n10 0\n20 0\n11 1\n21 0';
const head = (units: number | null, measurement?: number) =>
  (units === null ? '' : `9 $INSUNITS\n70 ${units}\n`) +
  (measurement === undefined ? '' : `9 $MEASUREMENT\n70 ${measurement}`);

describe('scale of a DXF file', () => {
  it.each([
    [1, 25.4],
    [2, 304.8],
    [4, 1],
    [5, 10],
    [6, 1000],
    [10, 914.4],
    [14, 100],
  ])('R23 unit %i is %f mm, certain (inch and yard: 25.4 mm and 36 in by definition)', (units, mm) => {
    const { scale } = read(dxf(unitLine, { header: head(units) }));
    expect(scale).toMatchObject({ kind: 'certain', mmPerUnit: mm });
    expect(scale.kind === 'certain' && scale.source).toMatch(/^The file states its unit as .*check one length\.$/);
  });

  it('R23 a line of more than 5 m at the stated unit: asks, for millimetres are often called inches', () => {
    const long = (length: number) => dxf(`0 LINE\n8 a\n10 0\n20 0\n11 ${length}\n21 0`, { header: head(1) });
    expect(read(long(190)).scale.kind).toBe('certain');
    expect(read(long(400)).scale).toEqual({
      kind: 'ask',
      sentence: 'At the unit the file states, a line in it would be 10.2 m long. Give one length you know.',
      suggestions: [
        { label: '1 unit is 1 mm', mmPerUnit: 1 },
        { label: '1 unit is 1 cm', mmPerUnit: 10 },
      ],
    });
  });

  it.each([
    ['no unit at all', head(null), [1, 10, 25.4]],
    ['unit 0', head(0), [1, 10, 25.4]],
    ['light years', head(19), [1, 10, 25.4]],
    ['a unit that is no number', '9 $INSUNITS\n70 abc', [1, 10, 25.4]],
    ['no unit, but inches elsewhere', head(null, 0), [25.4, 1, 10]],
    ['no unit, but metric elsewhere', head(0, 1), [1, 10, 25.4]],
    ['inches here and metric there', head(1, 1), [25.4, 1, 10]],
    ['millimetres here and inches there', head(4, 0), [1, 10, 25.4]],
  ])('R23 %s: asks for one length and chooses nothing', (_, header, suggested) => {
    const { scale } = read(dxf(square, { header }));
    expect(scale.kind).toBe('ask');
    if (scale.kind !== 'ask') return;
    expect(scale.sentence).toMatch(/^The file .* Give one length you know\.$/);
    expect(scale.suggestions.map(({ mmPerUnit }) => mmPerUnit)).toEqual(suggested);
  });

  it('a note "UNITS: ENGLISH" puts inches first but decides nothing', () => {
    const note = '0 TEXT\n8 1\n10 0\n20 0\n40 1\n1 Units: English';
    const { scale } = read(dxf(`${square}\n${note}`, { header: '' }));
    expect(scale).toMatchObject({ kind: 'ask', sentence: expect.stringContaining('suggests inches') });
    expect(scale.kind === 'ask' && scale.suggestions[0]!.mmPerUnit).toBe(25.4);
    expect(read(dxf(`${square}\n${note}`)).scale.kind).toBe('ask');
  });
});

describe('files of pattern programs, one block to the piece (layers of ASTM D6673, from memory)', () => {
  const reading = read(fixture('exchange-pieces.dxf'));

  it('tells what each layer means, and names the piece with its size', () => {
    const told = reading.shapes.slice(0, 4).map(({ layer, name, nearText }) => [layer, name, nearText]);
    expect(told).toEqual([
      ['1 (boundary)', 'FRONT-M', 'Front, size M'],
      ['7 (grainline)', 'FRONT-M', 'Front, size M'],
      ['8 (internal lines)', 'FRONT-M', 'Front, size M'],
      ['14 (sew line)', 'FRONT-M', 'Front, size M'],
    ]);
  });

  it('places every piece by its own block, and tells of one that was not placed', () => {
    const outlines = reading.shapes.filter(({ layer }) => layer === '1 (boundary)');
    const boxes = outlines.map(({ path }) => pathBounds(path));
    expect(boxes[0]).toMatchObject({ minX: 0, maxX: 250, minY: -608, maxY: 0 });
    // Turned by a quarter about 400,0: 270 wide and 618 high become 618 wide and 270 high.
    expect(boxes[1]!.minX).toBeCloseTo(400 - 618, 9);
    expect(boxes[1]!.minY).toBeCloseTo(-270, 9);
    expect(boxes[2]).toMatchObject({ minX: 0, maxX: 120 });
    expect(reading.warnings).toEqual([
      '1 piece is kept in the file without being placed; it is shown where its own coordinates put it.',
    ]);
  });

  it('hands on notches, drill holes and grainline with the outline they belong to, also at true scale', () => {
    expect(reading.marks!.slice(0, 4)).toEqual([
      { kind: 'notch', at: point(125, 0), shape: 'shape-1' },
      { kind: 'notch', at: point(0, -300), shape: 'shape-1' },
      { kind: 'grain', from: point(125, -120), to: point(125, -480), shape: 'shape-1' },
      { kind: 'drill', at: point(250 / 3, -200), shape: 'shape-1' },
    ]);
    expect(reading.marks!.map(({ shape }) => shape)).toEqual(
      ['shape-1', 'shape-5', 'shape-9'].flatMap((id) => Array(4).fill(id)),
    );
    const scaled = succeeded(applyScale(reading, { kind: 'suggestion', index: 1 }));
    expect(scaled.marks![0]).toEqual({ kind: 'notch', at: point(1250, 0), shape: 'shape-1' });
    expect(scaled.marks![2]).toMatchObject({ from: point(1250, -1200), to: point(1250, -4800) });
  });

  it('an ordinary drawing with a layer called 1 stays an ordinary drawing', () => {
    const blocks = '0 BLOCK\n2 thing\n10 0\n20 0\n0 LINE\n8 1\n10 0\n20 0\n11 5\n21 5\n0 ENDBLK';
    const { shapes, marks } = read(dxf('0 INSERT\n8 1\n2 thing\n10 0\n20 0', { blocks }));
    expect(shapes[0]!.layer).toBe('1');
    expect(marks).toBeUndefined();
  });
});

describe('how a DXF file is written', () => {
  it.each(['bodice-2010.dxf', 'exchange-pieces.dxf', 'skirt-r12.dxf'])('binary %s reads as its text does', (name) => {
    const text = new TextDecoder('windows-1252').decode(fixture(name));
    for (const wide of [true, false]) {
      expect(readDxf(asBinary(text, wide))).toEqual(readDxf(fixture(name)));
    }
  });

  const named = (layer: Uint8Array | string, header: string) => {
    const text = dxf('0 LINE\n8 @\n10 0\n20 0\n11 5\n21 5', { header });
    const [before, after] = text.split('@') as [string, string];
    const middle = typeof layer === 'string' ? bytesOf(layer) : layer;
    return new Uint8Array([...bytesOf(before), ...middle, ...bytesOf(after)]);
  };
  const layerOf = (bytes: Uint8Array) => read(bytes).shapes[0]!.layer;

  it('words are read by the code page the file names, by UTF-8 from release 2007 on, by what is valid otherwise', () => {
    const old = (page: string) => `9 $ACADVER\n1 AC1015\n9 $DWGCODEPAGE\n3 ${page}`;
    // The code charts of Windows 1252 and 1251: E4 is a-umlaut in one and a Cyrillic de in the other.
    expect(layerOf(named(new Uint8Array([0xe4]), old('ANSI_1252')))).toBe('ä');
    expect(layerOf(named(new Uint8Array([0xe4]), old('ANSI_1251')))).toBe('д');
    expect(layerOf(named(new Uint8Array([0x88, 0xea]), old('ANSI_932')))).toBe('一');
    expect(layerOf(named('Ärmel', '9 $ACADVER\n1 AC1027\n9 $DWGCODEPAGE\n3 ANSI_1252'))).toBe('Ärmel');
    expect(layerOf(named('Ärmel', '9 $ACADVER\n1 AC1009'))).toBe('Ärmel');
    expect(layerOf(named(new Uint8Array([0xc4]), ''))).toBe('Ä');
  });

  it('words are shown without their formatting', () => {
    const name = (entity: string) => read(dxf(`${square}\n${entity}`)).shapes[0]!.nearText;
    expect(name('0 TEXT\n8 a\n10 5\n20 5\n40 1\n1 %%uSleeve%%u \\U+00E9t%%d 100%%%')).toBe('Sleeve ét° 100%');
    expect(name('0 MTEXT\n8 a\n10 5\n20 5\n40 1\n1 {\\fSerif|b1;\\H2.5x;Back}\\P\\Lleft\\l \\{a\\}')).toBe(
      'Back left {a}',
    );
    // Centred, a text stands at its second point; its first is anywhere.
    expect(name('0 TEXT\n8 a\n10 900\n20 900\n11 5\n21 5\n72 1\n40 1\n1 Yoke')).toBe('Yoke');
  });

  it('old line ends, blanks, a byte order mark, comments and a missing end mark are no hindrance', () => {
    const text = dxf(square);
    const plain = read(text);
    expect(read(text.replaceAll('\n', '\r\n'))).toEqual(plain);
    expect(read(text.replaceAll('\n', '\r'))).toEqual(plain);
    expect(read(`\ufeff${text}`)).toEqual(plain);
    expect(read(`999\nmade by hand\n${text}\n \n`)).toEqual(plain);
    const endless = read(text.replace(/ {2}0\nEOF\n$/, ''));
    expect(endless.shapes).toEqual(plain.shapes);
    expect(endless.warnings).toEqual([
      'The file has no end mark; it may have been cut short. Check that nothing is missing.',
    ]);
  });

  it('tells of lines that climb out of the plane, and leaves out planes that lean', () => {
    const reading = read(
      dxf(
        `${square}\n0 LINE\n8 a\n10 0\n20 0\n30 0\n11 30\n21 0\n31 40\n0 CIRCLE\n8 a\n10 0\n20 0\n40 5\n210 0\n220 1\n230 1`,
      ),
    );
    expect(reading.shapes).toHaveLength(2);
    expect(reading.shapes[1]!.path).toEqual([line(point(0, 0), point(30, 0))]);
    expect(reading.warnings).toEqual([
      '1 line rises out of the flat drawing and was read as seen from above. Check its length.',
      '1 part drawn on a plane that leans was left out, for it has no true size from above.',
    ]);
  });

  it('a polyline with fewer points than it announces is drawn and told', () => {
    const { shapes, warnings } = read(dxf(square.replace('90 4', '90 9')));
    expect(pathLength(shapes[0]!.path)).toBe(40);
    expect(warnings).toEqual(['1 line has fewer or more points than the file announces. Check the outline.']);
  });
});
