import { afterEach, describe, expect, it, vi } from 'vitest';
import { readDxf } from '../../../src/exchange/dxf/readDxf';
import { pathLength } from '../../../src/geometry/path';
import { asBinary } from './asBinary';
import { bytesOf, dxf, fixture, pairs, read, readText } from './dxfFixture';

const line = '0 LINE\n8 a\n10 0\n20 0\n11 5\n21 0';
const block = (name: string, inside: string) => `0 BLOCK\n8 0\n2 ${name}\n70 0\n10 0\n20 0\n${inside}\n0 ENDBLK`;
const insert = (name: string, rest = '') => `0 INSERT\n8 0\n2 ${name}\n10 0\n20 0\n${rest}`;

describe('hostile DXF files', () => {
  afterEach(() => vi.unstubAllGlobals());

  it('R26 run nothing and fetch nothing: pictures and drawings outside the file', () => {
    const called = vi.fn();
    for (const name of ['fetch', 'XMLHttpRequest', 'Image', 'eval', 'Function', 'WebSocket'])
      vi.stubGlobal(name, called);
    const blocks = `0 BLOCK\n2 xref\n70 4\n10 0\n20 0\n1 https://example.invalid/other.dxf\n0 ENDBLK`;
    const { shapes, warnings } = read(
      dxf(`${line}\n0 IMAGE\n8 a\n340 1F\n0 PDFUNDERLAY\n8 a\n${insert('xref')}`, { blocks }),
    );
    expect(called).not.toHaveBeenCalled();
    expect(shapes).toHaveLength(1);
    expect(warnings).toEqual(['3 drawings outside this file were not fetched.']);
  });

  it('blocks that contain themselves come to an end', () => {
    const blocks = [block('a', `${line}\n${insert('b')}`), block('b', `${line}\n${insert('a')}\n${insert('b')}`)].join(
      '\n',
    );
    const { shapes, warnings } = read(dxf(insert('A'), { blocks }));
    expect(shapes).toHaveLength(2);
    expect(warnings).toEqual(['2 blocks that contain themselves were left out.']);
  });

  it('numbers that are none, or beyond all places, leave out their part only', () => {
    const bad = ['NaN', 'Infinity', '1e999', '0x10', '', '1,5', '--1', '1e9e9'].map((x) =>
      line.replace('11 5', `11 ${x}`),
    );
    const far = line.replace('11 5', '11 1e12');
    const { shapes, warnings } = read(dxf([line, ...bad, far, line.replace('11 5', '11 0')].join('\n')));
    expect(shapes.map(({ path }) => pathLength(path))).toEqual([5]);
    expect(warnings).toEqual([
      '7 parts with numbers that cannot be read were left out.',
      '3 parts with impossibly large coordinates or no extent were left out.',
    ]);
  });

  it.each<[string, string | Uint8Array, string]>([
    ['nothing', '', 'dxf-empty'],
    ['blanks', ' \r\n \r\n', 'dxf-empty'],
    ['words', 'hello there', 'not-dxf'],
    ['a PDF', '%PDF-1.7\n', 'not-dxf'],
    ['an SVG', '<svg xmlns="http://www.w3.org/2000/svg"/>', 'not-dxf'],
    ['a zip', 'PK\u0003\u0004', 'not-dxf'],
    ['a DWG', 'AC1027\u0000\u0000', 'dxf-is-dwg'],
    ['UTF-16', new Uint8Array([0xff, 0xfe, 0x30, 0, 10, 0]), 'dxf-encoding'],
    ['a comment and nothing more', '999\nhello\n', 'dxf-no-lines'],
    ['an end only', pairs('0 SECTION\n2 ENTITIES\n0 ENDSEC\n0 EOF'), 'dxf-no-lines'],
    ['texts only', dxf('0 TEXT\n8 a\n10 0\n20 0\n1 words only'), 'dxf-no-lines'],
    ['hidden lines only', dxf(`${line}\n60 1`), 'dxf-no-lines'],
    ['a code that is no number', dxf(line).replace(' 11\n', ' 1x\n'), 'dxf-damaged'],
    ['a line lost', dxf(line).replace(' 11\n', ''), 'dxf-damaged'],
    ['cut in the middle of a number', dxf(line).slice(0, -40), 'dxf-cut-short'],
    ['cut after a code', dxf(line).slice(0, dxf(line).indexOf(' 11\n') + 4), 'dxf-cut-short'],
    ['binary cut short', asBinary(dxf(line)).slice(0, 150), 'dxf-cut-short'],
    ['binary of unknown codes', new Uint8Array([...asBinary('0\nSECTION\n'), 0xee, 0x7e, 1, 2]), 'dxf-damaged'],
    ['binary head only', asBinary('').slice(0, 22), 'dxf-no-lines'],
  ])('R24 refuses %s with a sentence', (_, source, code) => {
    const outcome = typeof source === 'string' ? readText(source) : readDxf(source);
    expect(outcome).toMatchObject({ ok: false, code });
    expect(!outcome.ok && outcome.sentence).toMatch(/^[A-Z].*\.$/);
  });

  it('names the line where a file is damaged', () => {
    const outcome = readText('0\nSECTION\n2\nENTITIES\nzero\nLINE\n');
    expect(!outcome.ok && outcome.sentence).toContain('line 5');
  });

  it('cut anywhere, every file is refused or read with a warning, never read as if whole', () => {
    for (const name of ['bodice-2010.dxf', 'exchange-pieces.dxf', 'skirt-r12.dxf']) {
      const whole = fixture(name);
      for (let end = 0; end < whole.length - 8; end += 7) {
        const outcome = readDxf(whole.subarray(0, end));
        if (outcome.ok) expect(outcome.value.warnings[0]).toMatch(/^The file has no end mark/);
        else expect(outcome.sentence).toMatch(/^[A-Z].*\.$/);
      }
    }
  });

  const nested = (levels: number, copies: number) =>
    Array.from({ length: levels }, (_, i) =>
      block(
        `b${i}`,
        i + 1 < levels
          ? Array(copies)
              .fill(insert(`b${i + 1}`))
              .join('\n')
          : line,
      ),
    ).join('\n');
  const points = (count: number) => '10 0\n20 1\n'.repeat(count);

  it.each<[string, () => string, string | null]>([
    [
      'blocks of blocks, 10 to the power of 20',
      () => dxf(insert('b0'), { blocks: nested(20, 10) }),
      'dxf-too-many-shapes',
    ],
    ['a chain of blocks 60 deep', () => dxf(insert('b0'), { blocks: nested(60, 1) }), 'dxf-too-deep'],
    [
      'a block repeated 30,000 by 30,000 times',
      () => dxf(insert('a', '70 30000\n71 30000'), { blocks: block('a', line) }),
      'dxf-too-many-copies',
    ],
    [
      'an empty block repeated in blocks',
      () => dxf(Array(400).fill(insert('a', '70 300\n71 300')).join('\n'), { blocks: block('a', '') }),
      'dxf-too-many-copies',
    ],
    ['30,000 lines', () => dxf(Array(30_000).fill(line).join('\n')), 'dxf-too-many-shapes'],
    [
      '150,000 texts',
      () => dxf(`${line}\n${Array(150_000).fill('0 TEXT\n8 a\n1 x').join('\n')}`),
      'dxf-too-many-copies',
    ],
    ['400,000 entities of nothing', () => dxf('0 X\n'.repeat(400_000)), 'dxf-too-many-entries'],
    ['a polyline of 500,000 equal points', () => dxf(`0 LWPOLYLINE\n8 a\n70 1\n${points(500_000)}`), 'dxf-no-lines'],
    [
      'a polyline of 260,000 sides',
      () => dxf(`0 LWPOLYLINE\n8 a\n70 1\n${'10 0\n20 1\n10 5\n20 7\n'.repeat(130_000)}`),
      'dxf-too-many-points',
    ],
    [
      '3 million pairs',
      () => `${pairs('0 SECTION\n2 ENTITIES\n')}${'8\na\n'.repeat(3_000_000)}`,
      'dxf-too-many-entries',
    ],
    ['more than 20 MB', () => `${dxf(line)}999\n${'x'.repeat(20_000_000)}`, 'dxf-too-large'],
    [
      'a number of 10 million digits',
      () => dxf(`${line}\n${line.replace('11 5', `11 ${'1'.repeat(10_000_000)}`)}`),
      null,
    ],
    ['a layer name of 15 million letters', () => dxf(line.replace('8 a', `8 ${'a'.repeat(15_000_000)}`)), null],
    [
      '15 million letters of formatted text',
      () => dxf(`${line}\n0 MTEXT\n8 a\n10 0\n20 0\n1 ${'{\\f'.repeat(5_000_000)}`),
      null,
    ],
    [
      'a spline of 150,000 numbers',
      () => dxf(`0 SPLINE\n8 a\n71 3\n${'40 0\n'.repeat(50_000)}${points(50_000)}`),
      'dxf-too-many-points',
    ],
    [
      'splines of degree 11 with wild weights',
      () => {
        const knots = `${'40 0\n'.repeat(12)}${Array.from({ length: 20_000 }, (_, i) => `40 ${i + 1}`).join('\n')}\n${'40 20001\n'.repeat(12)}`;
        const wild = Array.from(
          { length: 20_012 },
          (_, i) => `10 ${(i * 7919) % 1000}\n20 ${(i * 104729) % 1000}\n41 ${1 + (i % 7)}`,
        );
        return dxf(`0 SPLINE\n8 a\n71 11\n${knots}${wild.join('\n')}`);
      },
      'dxf-too-many-points',
    ],
    [
      'a large spline copied again and again',
      () => {
        const through = Array.from({ length: 10_000 }, (_, i) => `11 ${i % 100}\n21 ${(i * 31) % 97}`).join('\n');
        return dxf(insert('a', '70 300'), { blocks: block('a', `0 SPLINE\n8 a\n71 3\n${through}`) });
      },
      'dxf-too-many-points',
    ],
    [
      'a text of 300,000 pairs copied again and again',
      () => dxf(insert('a', '70 9000'), { blocks: block('a', `0 TEXT\n8 a\n${'39 0\n'.repeat(300_000)}`) }),
      'dxf-too-many-copies',
    ],
    [
      '100,000 layers',
      () => dxf(line, { tables: Array.from({ length: 100_000 }, (_, i) => `0 LAYER\n2 l${i}\n62 1`).join('\n') }),
      null,
    ],
    ['blanks without end', () => `${' '.repeat(15_000_000)}${dxf(line)}`, 'not-dxf'],
    [
      'many texts beside many lines',
      () =>
        dxf(
          `${Array(500).fill('0 TEXT\n8 a\n10 0\n20 0\n40 1\n1 x').join('\n')}\n${Array(19_000).fill(line).join('\n')}`,
        ),
      null,
    ],
  ])('answers within two seconds: %s', (_, make, code) => {
    const bytes = bytesOf(make());
    const before = process.cpuUsage();
    const outcome = readDxf(bytes);
    const { user, system } = process.cpuUsage(before);
    expect(outcome.ok ? null : outcome.code).toBe(code);
    expect((user + system) / 1e6).toBeLessThan(2);
  });
});
