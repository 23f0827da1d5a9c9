import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readDxf } from '../../../src/exchange/dxf/readDxf';
import { type Carried, carryToPiece } from '../carryToPiece';
import { seeded } from '../svgMutate';
import { asBinary } from './asBinary';
import { fixture } from './dxfFixture';
import { damagedBytes } from './dxfMutate';

/** `FUZZ_RUNS` makes it longer, `FUZZ_SEED` different. */
const runs = Number(process.env.FUZZ_RUNS ?? 20_000);
const seed = Number(process.env.FUZZ_SEED ?? 20_260_102);

const texts = readdirSync(new URL('../../fixtures/dxf/', import.meta.url)).map((name) =>
  new TextDecoder('windows-1252').decode(fixture(name)),
);
const binaries = texts.map((text) => asBinary(text));

/** Reads a file and, when asked, carries what comes out as far towards a piece as it will go. Answers how far that was. */
function carry(bytes: Uint8Array, further: boolean): Carried {
  const reading = readDxf(bytes);
  if (!reading.ok) return { reached: 'refused', refusal: reading };
  const { shapes, marks = [] } = reading.value;
  expect(shapes.length).toBeGreaterThan(0);
  const places = [
    ...shapes.flatMap(({ path }) => path.flatMap(({ start, end }) => [start, end])),
    ...marks.flatMap((mark) => (mark.kind === 'grain' ? [mark.from, mark.to] : [mark.at])),
  ];
  for (const { x, y } of places) {
    if (!(Math.abs(x) <= 1e9 && Math.abs(y) <= 1e9)) throw new Error('a coordinate beyond all places');
  }
  const ids = new Set(shapes.map(({ id }) => id));
  for (const { shape } of marks) if (!ids.has(shape)) throw new Error('a mark without a shape');
  if (!further) return { reached: 'read' };
  return carryToPiece(reading.value);
}

describe(`${runs} damaged DXF files`, () => {
  it('are read or refused with a sentence, never throw and never hang', { timeout: 600_000 }, () => {
    const random = seeded(seed);
    const reached = new Map<Carried['reached'], number>();
    let slowest = 0;
    for (let i = 0; i < runs; i++) {
      const bytes = damagedBytes(texts, binaries, random);
      const before = process.cpuUsage();
      try {
        // The way on is the same as for every kind of drawing, so half of the files go it.
        const answer = carry(bytes, i % 2 === 0);
        reached.set(answer.reached, (reached.get(answer.reached) ?? 0) + 1);
        if (answer.refusal && !answer.refusal.ok && !/^[A-Z“].*[.!?]$/s.test(answer.refusal.sentence)) {
          throw new Error(`no sentence: ${answer.refusal.sentence}`);
        }
      } catch (error) {
        const shown = JSON.stringify(new TextDecoder('windows-1252').decode(bytes));
        throw new Error(`run ${i} of seed ${seed}: ${shown}`, { cause: error });
      }
      const { user, system } = process.cpuUsage(before);
      slowest = Math.max(slowest, (user + system) / 1e6);
    }
    expect(slowest).toBeLessThan(2);
    // The mutations must reach every stage, or they would prove little.
    for (const stage of ['refused', 'read', 'piece', 'no-piece'] as const) {
      expect(reached.get(stage) ?? 0, stage).toBeGreaterThan(runs / 200);
    }
  });
});
