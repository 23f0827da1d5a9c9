import { readdirSync } from 'node:fs';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { readSvg } from '../../src/exchange/svg/readSvg';
import { pathLength } from '../../src/geometry/path';
import { fixture, read } from './svgFixture';

const open = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">';
const wrap = (inside: string) => `${open}${inside}</svg>`;

/** Time of the processor spent, so that a busy machine does not decide. */
function secondsFor(text: string): { seconds: number; outcome: ReturnType<typeof readSvg> } {
  const before = process.cpuUsage();
  const outcome = readSvg(text);
  const { user, system } = process.cpuUsage(before);
  return { seconds: (user + system) / 1e6, outcome };
}

describe('hostile files', () => {
  afterEach(() => vi.unstubAllGlobals());

  it('R26 run nothing, fetch nothing and need no browser: script, links, frames, animation', () => {
    const called = vi.fn();
    for (const name of ['fetch', 'XMLHttpRequest', 'Image', 'DOMParser', 'eval', 'Function', 'WebSocket']) {
      vi.stubGlobal(name, called);
    }
    for (const name of readdirSync(new URL('../fixtures/svg/hostile/', import.meta.url)))
      readSvg(fixture(`hostile/${name}`));
    expect(called).not.toHaveBeenCalled();
    expect(globalThis).not.toHaveProperty('hinged');
  });

  it('keeps the lines of a file that carries a program, and says what was left out', () => {
    const { shapes, warnings } = read(fixture('hostile/script.svg'));
    expect(shapes.map(({ path }) => pathLength(path))).toEqual([320]);
    expect(warnings.join(' ')).toMatch(/program \(script\).*not run.*embedded page.*animation/);
  });

  it('follows no link out of the file', () => {
    const { shapes, warnings } = read(fixture('hostile/external.svg'));
    expect(shapes.map(({ path }) => pathLength(path))).toEqual([320]);
    expect(warnings.join(' ')).toMatch(/style sheet outside the file.*1 picture.*2 links to something outside/);
  });

  it.each([
    ['entity-bomb.svg', 'svg-entity'],
    ['entity-file.svg', 'svg-entity'],
    ['cut-short.svg', 'svg-cut-short'],
  ])('refuses %s with %s', (name, code) => {
    expect(readSvg(fixture(`hostile/${name}`))).toMatchObject({ ok: false, code });
  });

  it('ends copies that contain themselves', () => {
    const { shapes, warnings } = read(fixture('hostile/use-loop.svg'));
    expect(shapes).toHaveLength(4);
    expect(warnings).toEqual(['4 copies that contain themselves were left out.']);
  });

  it('passes over numbers that are none or beyond all places', () => {
    const { shapes, warnings } = read(fixture('hostile/numbers.svg'));
    for (const { path } of shapes) expect(pathLength(path)).toBeLessThan(400);
    expect(shapes).toHaveLength(2);
    expect(warnings).toEqual([
      '4 lines have a mistake in their data and were drawn only up to it. Check the outline.',
      '3 shapes with sizes that cannot be read were left out.',
      '1 shape or group with a placement that cannot be read was left out.',
      '2 shapes with impossibly large coordinates or no extent were left out.',
    ]);
  });

  it('asks for the scale of a page without extent', () => {
    expect(read(fixture('hostile/zero-box.svg')).scale.kind).toBe('ask');
  });

  it.each([
    ['', 'svg-empty'],
    [' \n ', 'svg-empty'],
    ['hello', 'not-svg'],
    ['%PDF-1.7', 'not-svg'],
    ['\u001f\ufffd\u0008', 'svg-compressed'],
    ['\ufffdPNG\r\n', 'not-svg'],
    ['\ufffd\ufffd<\u0000s\u0000v\u0000g\u0000>\u0000', 'svg-encoding'],
    ['<!DOCTYPE html><html><body/></html>', 'not-svg'],
    ['<html xmlns="http://www.w3.org/1999/xhtml"/>', 'not-svg'],
    ['<drawing><path d="M0 0h5"/></drawing>', 'not-svg'],
    ['<svg xmlns="http://example.invalid/other"><path d="M0 0h5"/></svg>', 'not-svg'],
    [wrap(''), 'svg-no-lines'],
    [wrap('<text>words only</text>'), 'svg-no-lines'],
    [wrap('<path d="M0 0h5"/>').replace('</svg>', '</svgg>'), 'svg-damaged'],
    [wrap('<g><path d="M0 0h5"/></svg></g>'), 'svg-damaged'],
    [wrap('<path d="M0 0h5" d="M0 0h6"/>'), 'svg-damaged'],
    [wrap('<path d=M0/>'), 'svg-damaged'],
    [wrap('<path d="M0 0<h5"/>'), 'svg-damaged'],
    [wrap('<path d="M0 0h5"/>\u0000'), 'svg-damaged'],
    [wrap('<path d="M0 0h5"/><!DOCTYPE svg>'), 'svg-damaged'],
    [`${wrap('<path d="M0 0h5"/>')}<svg/>`, 'svg-damaged'],
    [`${wrap('<path d="M0 0h5"/>')} words`, 'svg-damaged'],
    [wrap('<path d="M0 0h5"/><!-- '), 'svg-cut-short'],
    [wrap('<path d="&copy;"/>'), 'svg-entity'],
    [wrap('<text>&#0;</text><path d="M0 0h5"/>'), 'svg-entity'],
    [wrap('<text>&#xD800;</text><path d="M0 0h5"/>'), 'svg-entity'],
  ])('R24 refuses %j with %s and a sentence', (text, code) => {
    const outcome = readSvg(text);
    expect(outcome).toMatchObject({ ok: false, code });
    expect(!outcome.ok && outcome.sentence).toMatch(/^[A-Z].*\.$/);
  });

  it('cut anywhere, no file is read as if whole', () => {
    for (const name of ['bodice-cm.svg', 'hostile/external.svg', 'hostile/script.svg']) {
      const whole = fixture(name).trimEnd();
      for (let end = 0; end < whole.length; end += 3) {
        const outcome = readSvg(whole.slice(0, end));
        expect(outcome.ok, `${name} cut at ${end}`).toBe(false);
        expect(!outcome.ok && outcome.sentence).toMatch(/^[A-Z].*\.$/);
      }
    }
  });

  it('names the line where a file is damaged', () => {
    const outcome = readSvg(`${open}\n\n<g>\n</h></svg>`);
    expect(!outcome.ok && outcome.sentence).toContain('line 4');
  });

  it('reads character references once, never again what they stood for', () => {
    const { shapes } = read(wrap('<text x="5" y="5">A &amp;lt; &#x42;&#67; &lt;</text><path d="M0 0h9v9z"/>'));
    expect(shapes[0]!.nearText).toBe('A &lt; BC <');
  });

  const copies = (inside: string, count: number) => wrap(`<defs>${inside}</defs>${'<use href="#a"/>'.repeat(count)}`);

  it.each<[string, () => string, string | null]>([
    [
      '100,000 groups inside each other',
      () => `${open}${'<g>'.repeat(100_000)}${'</g>'.repeat(100_000)}</svg>`,
      'svg-too-deep',
    ],
    ['100,001 elements beside each other', () => wrap('<a/>'.repeat(100_001)), 'svg-too-many-elements'],
    [
      'copies of copies, 10 to the power of 40',
      () =>
        wrap(
          Array.from({ length: 40 }, (_, i) => `<g id="g${i}">${`<use href="#g${i + 1}"/>`.repeat(10)}</g>`).join(''),
        ),
      'svg-too-many-copies',
    ],
    [
      'a chain of copies 300 deep',
      () =>
        wrap(
          `${Array.from({ length: 300 }, (_, i) => `<g id="g${i}"><use href="#g${i + 1}"/></g>`).join('')}<path id="g300" d="M0 0h5"/>`,
        ),
      'svg-too-deep',
    ],
    ['a path of 5 million points', () => wrap(`<path d="M${'0 1 '.repeat(4_900_000)}"/>`), 'svg-too-many-points'],
    [
      'a polygon of 5 million equal points',
      () => wrap(`<polygon points="${'1 1 '.repeat(4_900_000)}"/>`),
      'svg-too-many-points',
    ],
    ['3 million strokes', () => wrap(`<path d="${'M0 0h5'.repeat(3_000_000)}"/>`), 'svg-too-many-points'],
    ['30,000 strokes', () => wrap(`<path d="${'M0 0h5v5z'.repeat(30_000)}"/>`), 'svg-too-many-shapes'],
    [
      'many texts beside many shapes',
      () => wrap(`${'<text>a</text>'.repeat(500)}<path d="${'M0 0h5v5z'.repeat(19_000)}"/>`),
      null,
    ],
    ['more than 20 MB', () => wrap(`<path d="M0 0h5"/><!--${'x'.repeat(20_000_000)}-->`), 'svg-too-large'],
    ['17 MB of unread style rules', () => wrap(`<style>${'@x{}'.repeat(3_000_000)}</style><path d="M0 0h5"/>`), null],
    [
      '12 MB of comment openings in a style',
      () => wrap(`<style>${'/*'.repeat(6_000_000)}</style><path d="M0 0h5"/>`),
      null,
    ],
    ['a style sheet without end', () => wrap(`<style>${'@x'.repeat(6_000_000)}</style><path d="M0 0h5"/>`), null],
    [
      'a transform of 2 million steps',
      () => wrap(`<path d="M0 0h5" transform="${'scale(1) '.repeat(2_000_000)}"/>`),
      'svg-no-lines',
    ],
    [
      'a number of 10 million digits',
      () =>
        wrap(
          `<rect x="${'1'.repeat(10_000_000)}" width="3" height="4"/><path d="M${'1'.repeat(9_000_000)} 0h5M1 1h1"/>`,
        ),
      'svg-no-lines',
    ],
    ['15 MB of character references', () => wrap(`<text>${'&amp;'.repeat(3_000_000)}</text><path d="M0 0h5"/>`), null],
    [
      '10,000 prefixes on one element',
      () =>
        `<svg xmlns="http://www.w3.org/2000/svg" ${Array.from({ length: 10_000 }, (_, i) => `xmlns:a${i}="x"`).join(' ')}/>`,
      'svg-too-many-elements',
    ],
    [
      'copies of a long empty path',
      () => copies(`<path id="a" d="M0 0h5${' '.repeat(10_000_000)}"/>`, 40_000),
      'svg-too-many-copies',
    ],
    [
      'copies of a path that goes nowhere',
      () => copies(`<path id="a" d="M0 0${'h0'.repeat(100_000)}"/>`, 40_000),
      'svg-too-many-points',
    ],
    [
      'copies of a group of 50,000 nothings',
      () => copies(`<g id="a">${'<desc/>'.repeat(50_000)}</g>`, 40_000),
      'svg-too-many-copies',
    ],
    [
      'copies with long styles, classes and transforms',
      () =>
        copies(
          `<path id="a" d="M0 0h5" style="${'a:b;'.repeat(1_000_000)}" class="${'a '.repeat(1_000_000)}" transform="${'scale(1) '.repeat(2000)}"/>`,
          15_000,
        ),
      null,
    ],
  ])('answers within two seconds: %s', (_, make, code) => {
    const text = make();
    const { seconds, outcome } = secondsFor(text);
    expect(outcome.ok ? null : outcome.code).toBe(code);
    expect(seconds).toBeLessThan(2);
  });
});
