import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { seeded } from '../svgMutate';
import { carry } from './carry';
import { damagedPdf } from './pdfDamage';
import { pdfSeeds } from './pdfSeeds';
import { bytesOf } from './pdfText';

/**
 * One of two equal parts of the damaged whole files, in test files of their own so that both run at once. `FUZZ_RUNS` (files
 * in both parts together) makes it longer, `FUZZ_SEED` different.
 */
export function fuzzFiles(part: 1 | 2): void {
  const files = Math.ceil(Number(process.env.FUZZ_RUNS ?? 20_000) / 2);
  const seed = Number(process.env.FUZZ_SEED ?? 20_260_101) + 1000 * part;

  describe(`${files} damaged files, part ${part} of 2`, () => {
    // The library leaves some of its own failures unheard when a file is damaged in certain ways; a browser only notes
    // them. They are gathered here, and must be the library's: an exception of the language would be a fault.
    const unheard: unknown[] = [];
    const gather = (reason: unknown) => unheard.push(reason);
    let listeners: NodeJS.UnhandledRejectionListener[] = [];
    beforeAll(async () => {
      // Loads the library, which is not part of reading the first file.
      await readPdf(bytesOf(pdfSeeds[0]!.make(pdfSeeds[0]!.parts)));
      listeners = process.listeners('unhandledRejection');
      process.removeAllListeners('unhandledRejection');
      process.on('unhandledRejection', gather);
    });
    afterAll(async () => {
      await new Promise((done) => setTimeout(done, 10));
      process.off('unhandledRejection', gather);
      for (const listener of listeners) process.on('unhandledRejection', listener);
      const names = new Set(unheard.map((reason) => (reason as Error).name));
      for (const name of names) expect(name).toMatch(/Exception$|^FormatError$/);
    });

    it('R24 are read or refused with a sentence, never throw and never hang', { timeout: 1_200_000 }, async () => {
      const random = seeded(seed);
      const ends = new Map<string, number>();
      const laidOf = new Map<string, number>();
      let spent = secondsSpent();
      for (let i = 0; i < files; i++) {
        const { text, seed: name, soundFrame } = damagedPdf(pdfSeeds, random);
        try {
          const answer = await readPdf(bytesOf(text));
          const end = answer.ok ? carry(answer.value.pages) : 'refused';
          if (!answer.ok && !/^[A-Z].*\.$/s.test(answer.sentence)) throw new Error(`no sentence: ${answer.sentence}`);
          const told = answer.ok && answer.value.warnings.length > 0 ? 'warned' : 'silent';
          for (const what of [end, told, `${end} ${soundFrame ? 'inside' : 'about'}`])
            ends.set(what, (ends.get(what) ?? 0) + 1);
          if (end === 'laid' || end === 'joined') laidOf.set(name, (laidOf.get(name) ?? 0) + 1);
        } catch (error) {
          throw new Error(`file ${i} of seed ${seed}: ${JSON.stringify(text)}`, { cause: error });
        }
        const now = secondsSpent();
        if (now - spent > 2)
          throw new Error(`file ${i} of seed ${seed} took ${now - spent} s: ${JSON.stringify(text)}`);
        spent = now;
      }
      const share = (what: string) => (ends.get(what) ?? 0) / files;
      // The damage must neither kill every file nor leave them all whole.
      expect(share('refused')).toBeGreaterThan(0.1);
      expect(share('refused about')).toBeGreaterThan(0.05);
      expect(share('refused inside')).toBeGreaterThan(0.05);
      expect(share('warned')).toBeGreaterThan(0.02);
      expect(share('joined')).toBeGreaterThan(0.1);
      expect(share('laid') + share('joined')).toBeGreaterThan(0.4);
      expect(share('laid about') + share('joined about')).toBeGreaterThan(0.1);
      // Of every kind of file some are read in spite of the damage.
      expect([...laidOf.keys()].sort()).toEqual(pdfSeeds.map(({ name }) => name).sort());
    });
  });
}

/** Seconds of the processor that this process has had. */
function secondsSpent(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}
