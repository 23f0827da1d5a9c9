import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readProject, writeProject } from '../../src/exchange/project/projectFile';
import { reportVersion } from '../../src/measure/report';
import type { Recipe } from '../../src/pattern/recipe';
import { validateGarment } from '../../src/pattern/validate';
import { swingGarment } from '../batch/support/swingProject';
import { arbitraryGarment } from '../support/arbitraryGarment';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';

const sound = writeProject(draftSleevelessTop());

type Place = readonly (string | number)[];
type Node = Record<string | number, unknown>;

/** The sample's file with the value at one place replaced; undefined takes it away. */
function altered(place: Place, value?: unknown): string {
  const document = JSON.parse(sound) as Node;
  const holder = place.slice(0, -1).reduce((node, key) => node[key] as Node, document);
  const key = place.at(-1)!;
  if (value === undefined) delete holder[key];
  else holder[key] = value;
  return JSON.stringify(document);
}

/** Where every value of the sample's file stands. */
function placesIn(node: unknown, place: Place = []): Place[] {
  if (typeof node !== 'object' || node === null) return [];
  return Object.entries(node).flatMap(([key, value]) => [[...place, key], ...placesIn(value, [...place, key])]);
}

const everyPlace = placesIn(JSON.parse(sound));

const front = ['garment', 'blocks', 0] as const;
const firstPath = [...front, 'edges', 0, 'path'] as const;

function versionWith(recipes: unknown): unknown {
  return [{ id: 'v', name: 'V', note: '', made: '2026-01-01', recipes }];
}

function refusal(text: string): { code: string; sentence: string } {
  const read = readProject(text);
  if (read.ok) throw new Error('the file was read');
  expect(read.sentence).toMatch(/^[A-Z].+[.]$/su);
  return read;
}

/** The same plain data with the members of every record in the opposite order. */
function turned<T>(value: T): T {
  if (Array.isArray(value)) return value.map(turned) as T;
  if (typeof value !== 'object' || value === null) return value;
  const members = Object.entries(value).map(([key, member]) => [key, turned(member)]);
  return Object.fromEntries(members.reverse()) as T;
}

describe('project files', () => {
  it('R25 give back the same garment, to the last bit, 2,000 times', () => {
    fc.assert(
      fc.property(arbitraryGarment, (garment) => {
        const text = writeProject(garment);
        const read = readProject(text);
        expect(read).toStrictEqual({ ok: true, value: garment });
        expect(read.ok && writeProject(read.value)).toBe(text);
      }),
      { numRuns: 2000 },
    );
  }, 180_000);

  it('R25 are the same text however the members of a step were put together', () => {
    fc.assert(
      fc.property(arbitraryGarment, (garment) => {
        // The order of edges with an allowance of their own is part of the document.
        const steps = (recipe: Recipe): Recipe =>
          recipe.map((step) => (step.kind === 'finish' ? { ...turned(step), byEdge: step.byEdge } : turned(step)));
        const versions = garment.versions.map((version) => ({
          ...version,
          recipes: Object.fromEntries(Object.entries(version.recipes).map(([piece, recipe]) => [piece, steps(recipe)])),
        }));
        expect(writeProject({ ...garment, versions })).toBe(writeProject(garment));
      }),
      { numRuns: 200 },
    );
  });

  it('R2 keep of a version only name, note, date and recipes; read back, its pieces are worked anew, the same', () => {
    const garment = swingGarment();
    const text = writeProject(garment);
    const [version] = JSON.parse(text).garment.versions;
    expect(Object.keys(version)).toEqual(['id', 'name', 'note', 'made', 'recipes']);
    // No outline, curve or point is among the steps.
    expect(JSON.stringify(version.recipes)).not.toMatch(/path|"[MLC]"|"x"/);
    const read = readProject(text);
    if (!read.ok) throw new Error(read.sentence);
    const [before, after] = [garment, read.value].map((one) => reportVersion(one, 'v1'));
    expect(after).toStrictEqual(before);
    expect(before!.ok && before!.value.pieces.every((piece) => piece.trued !== null)).toBe(true);
  });

  it('of format 1 open as they did when that format was made', () => {
    const text = readFileSync(new URL('../fixtures/project/version-1.json', import.meta.url), 'utf8');
    const read = readProject(text);
    if (!read.ok) throw new Error(read.sentence);
    expect(read.value.blocks.map((block) => [block.id, block.edges.length, block.locked])).toEqual([
      ['front', 4, true],
      ['facing', 4, false],
    ]);
    expect(read.value.versions[0]!.recipes.front!.map((step) => step.kind)).toEqual(['fan', 'true', 'finish']);
    // What format 2 added is not known of it.
    expect(read.value.blocks.map((block) => block.size)).toEqual([null, null]);
    const now = JSON.parse(writeProject(read.value));
    for (const block of now.garment.blocks) delete block.size;
    expect({ ...now, version: 1 }).toEqual(JSON.parse(text));
  });

  it('of format 2 open as they did when that format was made', () => {
    const text = readFileSync(new URL('../fixtures/project/version-2.json', import.meta.url), 'utf8');
    const read = readProject(text);
    if (!read.ok) throw new Error(read.sentence);
    expect(read.value.blocks.map((block) => [block.id, block.size])).toEqual([
      ['front', '12'],
      ['facing', null],
    ]);
    expect(writeProject(read.value)).toBe(text);
  });

  it('of format 1 that are damaged are refused by name, wherever the damage lies', () => {
    for (const garment of [null, [], { blocks: null }, { blocks: [null] }, { blocks: [[]] }]) {
      expect(refusal(JSON.stringify({ format: 'hingeline-project', version: 1, garment })).code).toBe(
        'project-damaged',
      );
    }
  });

  it('shown as the example of docs/file-format.md open', () => {
    const page = readFileSync(new URL('../../docs/file-format.md', import.meta.url), 'utf8');
    const example = /```json\n(.*?)```/s.exec(page)![1]!;
    expect(readProject(example)).toMatchObject({ ok: true, value: { name: 'Square', blocks: [{ id: 'square' }] } });
  });

  it('open with a byte order mark and blank lines round them', () => {
    expect(readProject(`\uFEFF\n${sound}\n\n`).ok).toBe(true);
  });

  it('R24 cut short anywhere are refused with a sentence', () => {
    const firstTen = Array.from({ length: 10 }, (_, index) => index);
    const spread = Array.from({ length: 200 }, (_, index) =>
      Math.floor(((index + 1) * (sound.trimEnd().length - 1)) / 201),
    );
    for (const length of [...firstTen, ...spread]) {
      expect(['project-damaged', 'project-empty']).toContain(refusal(sound.slice(0, length)).code);
    }
  });

  it.each([
    ['nothing', '', 'project-empty'],
    ['words', 'Dear diary', 'project-unknown'],
    ['a list', '[]', 'project-unknown'],
    ['null', 'null', 'project-unknown'],
    ['another JSON', '{"a": 1}', 'project-unknown'],
    ['an SVG', '<svg xmlns="http://www.w3.org/2000/svg"/>', 'project-unknown'],
    ['another program’s file', altered(['format'], 'other'), 'project-unknown'],
    ['too long a text', ' '.repeat(20_000_001), 'project-too-large'],
    [
      'very deep nesting',
      `{"format":"hingeline-project","version":1,"garment":${'['.repeat(100_000)}${']'.repeat(100_000)}}`,
      'project-damaged',
    ],
    ['no version', altered(['version']), 'project-damaged'],
    ['version 0', altered(['version'], 0), 'project-damaged'],
    ['version 1.5', altered(['version'], 1.5), 'project-damaged'],
    ['a NaN', sound.replace('"distance": 90', '"distance": NaN'), 'project-damaged'],
    ['an infinite number', sound.replace('"distance": 90', '"distance": 1e999'), 'project-damaged'],
    ['a null for a number', altered([...front, 'notches', 0, 'distance'], null), 'project-damaged'],
    ['a text for a number', altered([...front, 'cutCount'], '1'), 'project-damaged'],
    ['a missing member', altered([...front, 'darts']), 'project-damaged'],
    ['a blank size', altered([...front, 'size'], ' '), 'project-breaks-rule'],
    ['an unknown member', altered([...front, 'colour'], 'red'), 'project-damaged'],
    ['an unknown path letter', altered([...firstPath, 1, 0], 'Q'), 'project-damaged'],
    ['a path without start', altered([...firstPath, 0], ['L', 0, 0]), 'project-damaged'],
    ['a command with too few numbers', altered([...firstPath, 1], ['C', 1, 2, 3, 4, 5]), 'project-damaged'],
    [
      'an id that every record has',
      altered(['garment', 'versions'], versionWith(JSON.parse('{"__proto__": []}'))),
      'project-damaged',
    ],
    ['an outline with a gap', altered([...front, 'edges', 1, 'path', 0, 1], 275.5376), 'project-breaks-rule'],
    [
      'a recipe for a missing piece',
      altered(['garment', 'versions'], versionWith({ sleeve: [] })),
      'project-breaks-rule',
    ],
  ])('with %s are refused', (_, text, code) => {
    expect(refusal(text).code).toBe(code);
  });

  it('of a newer format are refused in words that say so', () => {
    const newer = refusal('{"format": "hingeline-project", "version": 3, "cloth": "unheard of"}');
    expect(newer.code).toBe('project-newer');
    expect(newer.sentence).toContain('newer Hingeline');
  });

  it('name the damaged place', () => {
    const { sentence } = refusal(altered(['garment', 'blocks', 1, 'edges', 2, 'role'], 'cuff'));
    expect(sentence).toContain('garment.blocks[1].edges[2].role');
  });

  it('with any one value replaced by nonsense never throw, and what is read keeps every rule', () => {
    const nonsense = fc.constantFrom<unknown>(null, true, 'x', '', -1, 1e308, [], {}, [[]], 'constructor');
    fc.assert(
      fc.property(fc.nat(), nonsense, (seed, value) => {
        const read = readProject(altered(everyPlace[seed % everyPlace.length]!, value));
        if (read.ok) expect(validateGarment(read.value)).toEqual([]);
        else expect(read.sentence.length).toBeGreaterThan(20);
      }),
      { numRuns: 2000 },
    );
  });
});
