import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname);

function testFiles(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return testFiles(path);
    return /\.(?:test|spec)\.tsx?$/.test(entry.name) ? [path] : [];
  });
}

/** The titles that begin with rule numbers: `'R7 ...'` or `'R1 R3 ...'`. */
function quotedRules(text: string): string[] {
  return [...text.matchAll(/\(\s*['"`]((?:R\d+ )+)/g)].flatMap(([, rules]) => rules!.trim().split(' '));
}

describe('the numbered rules', () => {
  const spec = readFileSync(resolve(root, '../docs/spec.md'), 'utf8');
  const rules = [...spec.matchAll(/^- \*\*(R\d+)\*\*/gm)].map(([, rule]) => rule!);
  const quoted = new Set(testFiles(root).flatMap((file) => quotedRules(readFileSync(file, 'utf8'))));

  it('stand in order, each once', () => {
    expect(rules.length).toBeGreaterThan(20);
    expect(rules).toEqual(rules.map((_, index) => `R${index + 1}`));
  });

  it('are each quoted by the title of a test, and no title quotes one that is not there', () => {
    expect(rules.filter((rule) => !quoted.has(rule))).toEqual([]);
    expect([...quoted].filter((rule) => !rules.includes(rule))).toEqual([]);
  });
});
