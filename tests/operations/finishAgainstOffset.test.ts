import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readProject } from '../../src/exchange/project/projectFile';
import { nearestOnPath } from '../../src/geometry/nearest';
import { offsetPath } from '../../src/geometry/offset';
import { segmentPointAt } from '../../src/geometry/segment';
import { allowanceAccuracy } from '../../src/geometry/tolerance';
import { offsetRun } from '../../src/operations/finishing/offsetRun';

/** The core's offset is fitted to a stated accuracy; the live path follows the curve without fitting. They must agree. */
describe('the allowance line of one edge against the core offset (docs/decisions/003-libraries.md)', () => {
  const text = readFileSync(new URL('../../public/samples/sleeveless-top.json', import.meta.url), 'utf8');
  const project = readProject(text);
  if (!project.ok) throw new Error(project.sentence);
  const edges = project.value.blocks.flatMap((block) => block.edges.map((edge) => ({ block, edge })));

  it.each(edges)('$block.name, $edge.name', ({ edge }) => {
    const run = offsetRun(edge.path, 10);
    expect(run.foldsOver || run.foldsAtStart || run.foldsAtEnd).toBe(false);
    const core = offsetPath(edge.path, 10, 1e-5);
    for (const segment of run.path) {
      for (let k = 0; k <= 20; k++) {
        const off = nearestOnPath(core, segmentPointAt(segment, k / 20)).distance;
        expect(off).toBeLessThan(allowanceAccuracy + 1e-5);
      }
    }
  });
});
