import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../src');

/** For each floor, the floors it may import from (itself always). docs/decisions/001-floors.md says why. */
const below: Readonly<Record<string, readonly string[]>> = {
  geometry: [],
  units: ['geometry'],
  pattern: ['geometry', 'units'],
  operations: ['geometry', 'units', 'pattern'],
  measure: ['geometry', 'units', 'pattern', 'operations'],
  history: ['geometry', 'units', 'pattern', 'operations', 'measure'],
  exchange: ['geometry', 'units', 'pattern', 'operations', 'measure'],
  print: ['geometry', 'units', 'pattern', 'operations', 'measure'],
  storage: ['geometry', 'units', 'pattern', 'exchange'],
  workers: ['geometry', 'units', 'pattern', 'operations', 'measure', 'exchange'],
  store: ['geometry', 'units', 'pattern', 'operations', 'measure', 'history', 'exchange', 'print', 'storage'],
  gestures: ['geometry', 'units', 'pattern', 'operations', 'measure', 'history', 'store'],
  render: ['geometry', 'units', 'pattern', 'operations', 'measure', 'history', 'store', 'gestures'],
  batch: ['geometry', 'units', 'pattern', 'operations', 'measure', 'exchange', 'print'],
  ui: [
    'geometry',
    'units',
    'pattern',
    'operations',
    'measure',
    'history',
    'exchange',
    'print',
    'storage',
    'workers',
    'store',
    'gestures',
    'render',
  ],
};

/** Packages that only one place may import, so that each is wrapped once. */
const wrappedIn: Readonly<Record<string, RegExp>> = {
  jspdf: /^print\//,
  paper: /^render\//,
  idb: /^storage\//,
  'pdfjs-dist': /^exchange\/pdf\//,
  react: /^(ui\/|main\.tsx$)/,
  'react-dom': /^(ui\/|main\.tsx$)/,
};

interface Import {
  readonly file: string;
  readonly target: string;
}

function sourceFiles(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return sourceFiles(path);
    return /\.tsx?$/.test(entry.name) ? [path] : [];
  });
}

function importsOf(path: string): Import[] {
  const text = readFileSync(path, 'utf8');
  const pattern = /(?:\bfrom\s*|\bimport\s*\(?\s*)['"]([^'"]+)['"]/g;
  return [...text.matchAll(pattern)].map((match) => ({ file: relative(root, path), target: match[1] ?? '' }));
}

const all = sourceFiles(root).flatMap(importsOf);

function floorOf(file: string): string {
  return file.split('/')[0] ?? '';
}

describe('architecture', () => {
  it('reads the sources at all', () => {
    expect(all.length).toBeGreaterThan(50);
  });

  it('imports run one way, type imports included', () => {
    const wrong = all.flatMap(({ file, target }) => {
      const from = floorOf(file);
      if (!target.startsWith('.') || from === 'main.tsx') return [];
      const to = floorOf(relative(root, resolve(root, dirname(file), target)));
      const allowed = below[from];
      if (allowed === undefined) return [`${file}: ${from} is not a known floor`];
      return to === from || allowed.includes(to) ? [] : [`${file} imports ${target}`];
    });
    expect(wrong).toEqual([]);
  });

  it('wraps each outside library once', () => {
    const wrong = all.flatMap(({ file, target }) => {
      const name = target.startsWith('@') ? target.split('/').slice(0, 2).join('/') : (target.split('/')[0] ?? '');
      const home = wrappedIn[name];
      return home === undefined || home.test(file) ? [] : [`${file} imports ${target}`];
    });
    expect(wrong).toEqual([]);
  });

  it('has no circle of files', () => {
    const byFile = new Map<string, string[]>();
    const known = new Set(sourceFiles(root).map((path) => relative(root, path)));
    for (const { file, target } of all) {
      if (!target.startsWith('.')) continue;
      const base = relative(root, resolve(root, dirname(file), target));
      const found = [base, `${base}.ts`, `${base}.tsx`].find((name) => known.has(name));
      if (found !== undefined) byFile.set(file, [...(byFile.get(file) ?? []), found]);
    }
    const done = new Set<string>();
    const circles: string[] = [];
    const visit = (file: string, trail: readonly string[]): void => {
      if (trail.includes(file)) {
        circles.push([...trail.slice(trail.indexOf(file)), file].join(' -> '));
        return;
      }
      if (done.has(file)) return;
      for (const next of byFile.get(file) ?? []) visit(next, [...trail, file]);
      done.add(file);
    };
    for (const file of known) visit(file, []);
    expect(circles).toEqual([]);
  });
});
