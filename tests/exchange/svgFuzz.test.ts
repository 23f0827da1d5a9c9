import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readSvg } from '../../src/exchange/svg/readSvg';
import { type Carried, carryToPiece } from './carryToPiece';
import { fixture } from './svgFixture';
import { damaged, seeded } from './svgMutate';

/** `FUZZ_RUNS` makes it longer, `FUZZ_SEED` different. */
const runs = Number(process.env.FUZZ_RUNS ?? 20_000);
const seed = Number(process.env.FUZZ_SEED ?? 20_260_101);

const names = readdirSync(new URL('../fixtures/svg/', import.meta.url), { recursive: true })
  .map(String)
  .filter((name) => name.endsWith('.svg') && !name.startsWith('traced'));
const texts = names.map(fixture);

/** Reads a file and carries what comes out as far towards a piece as it will go. Answers how far that was. */
function carry(text: string): Carried {
  const reading = readSvg(text);
  if (!reading.ok) return { reached: 'refused', refusal: reading };
  const { shapes } = reading.value;
  expect(shapes.length).toBeGreaterThan(0);
  for (const { path } of shapes) {
    for (const { start, end } of path) {
      if (![start.x, start.y, end.x, end.y].every((n) => Math.abs(n) <= 1e9))
        throw new Error('a coordinate beyond all places');
    }
  }
  return carryToPiece(reading.value);
}

describe(`${runs} damaged drawings`, () => {
  it('are read or refused with a sentence, never throw and never hang', { timeout: 600_000 }, () => {
    const random = seeded(seed);
    const reached = new Map<Carried['reached'], number>();
    let slowest = 0;
    for (let i = 0; i < runs; i++) {
      const text = damaged(texts, random);
      const before = process.cpuUsage();
      try {
        const answer = carry(text);
        reached.set(answer.reached, (reached.get(answer.reached) ?? 0) + 1);
        if (answer.refusal && !answer.refusal.ok && !/^[A-Z“].*[.!?]$/s.test(answer.refusal.sentence)) {
          throw new Error(`no sentence: ${answer.refusal.sentence}`);
        }
      } catch (error) {
        throw new Error(`run ${i} of seed ${seed}: ${JSON.stringify(text)}`, { cause: error });
      }
      const { user, system } = process.cpuUsage(before);
      slowest = Math.max(slowest, (user + system) / 1e6);
    }
    expect(slowest).toBeLessThan(2);
    // The mutations must reach every stage, or they would prove little.
    for (const stage of ['refused', 'piece', 'no-piece'] as const)
      expect(reached.get(stage)).toBeGreaterThan(runs / 200);
  });
});
