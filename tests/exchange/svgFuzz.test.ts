import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { proposeCorners } from '../../src/exchange/cornerProposal';
import { applyScale } from '../../src/exchange/drawing/applyScale';
import { joinLoosePaths } from '../../src/exchange/drawing/joinLoosePaths';
import { guessEdges } from '../../src/exchange/edgeGuesses';
import { buildPiece } from '../../src/exchange/edgeNaming';
import { edgeParts } from '../../src/exchange/edgeParts';
import { smoothOutline } from '../../src/exchange/smoothOutline';
import { readSvg } from '../../src/exchange/svg/readSvg';
import type { Outcome } from '../../src/geometry/outcome';
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
function carry(text: string): {
  reached: 'refused' | 'read' | 'joined' | 'piece' | 'no-piece';
  refusal?: Outcome<unknown>;
} {
  const reading = readSvg(text);
  if (!reading.ok) return { reached: 'refused', refusal: reading };
  const { scale, shapes } = reading.value;
  expect(shapes.length).toBeGreaterThan(0);
  for (const { path } of shapes) {
    for (const { start, end } of path) {
      if (![start.x, start.y, end.x, end.y].every((n) => Math.abs(n) <= 1e9))
        throw new Error('a coordinate beyond all places');
    }
  }
  const scaled = applyScale(
    reading.value,
    scale.kind === 'certain' ? { kind: 'stated' } : { kind: 'suggestion', index: 0 },
  );
  if (!scaled.ok) return { reached: 'read', refusal: scaled };
  const outline = joinLoosePaths(scaled.value.shapes).outlines[0];
  if (!outline?.closed) return { reached: 'joined' };
  const proposed = proposeCorners(outline.path);
  const smooth = smoothOutline(outline.path, proposed);
  const parts = edgeParts(smooth.path, smooth.corners);
  if (!parts.ok) return { reached: 'no-piece', refusal: parts };
  const guesses = guessEdges(parts.value, 'Front');
  const piece = buildPiece({
    id: 'piece-1',
    name: 'Front',
    outline: smooth.path,
    corners: smooth.corners.map((corner, i) => ({ ...corner, ...guesses[i]! })),
    fold: null,
    grainline: 'default',
    notches: [],
    drillHoles: [],
    cutCount: 1,
  });
  return piece.ok ? { reached: 'piece' } : { reached: 'no-piece', refusal: piece };
}

describe(`${runs} damaged drawings`, () => {
  it('are read or refused with a sentence, never throw and never hang', { timeout: 600_000 }, () => {
    const random = seeded(seed);
    const reached = new Map<string, number>();
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
    for (const stage of ['refused', 'piece', 'no-piece']) expect(reached.get(stage)).toBeGreaterThan(runs / 200);
  });
});
