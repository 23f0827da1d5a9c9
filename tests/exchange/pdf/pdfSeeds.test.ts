import { describe, expect, it } from 'vitest';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { pdfSeeds } from './pdfSeeds';
import { bytesOf } from './pdfText';

describe('the small files that are damaged', () => {
  it.each(pdfSeeds.map((seed) => [seed.name, seed] as const))('unharmed, are read whole: %s', async (_, seed) => {
    const read = await readPdf(bytesOf(seed.make(seed.parts)));
    if (!read.ok) throw new Error(read.sentence);
    expect(read.value.warnings.filter((text) => !text.includes('switched off'))).toEqual([]);
    const lines = read.value.pages.reduce((sum, { shapes }) => sum + shapes.length, 0);
    expect(lines).toBe(seed.lines);
  });
});
