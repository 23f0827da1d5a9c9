import { describe, expect, it, vi } from 'vitest';
import { rasterPage } from '../../../src/exchange/pdf/rasterPage';
import { pdfFile, pt } from './pdfText';

vi.mock(import('../../../src/exchange/pdf/limits'), async (original) => {
  const { pdfLimits } = await original();
  return { pdfLimits: { ...pdfLimits, dots: 200 as 60_000_000 } };
});

/** A page of 5 by 5 mm of pictures of 10 by 12 dots, each beside the one before, so many mm wide. */
function page(...widths: readonly number[]): Uint8Array {
  let left = 0;
  const drawn = widths.map((width) => {
    left += width;
    return `q ${width * pt} 0 0 ${5 * pt} ${(left - width) * pt} 0 cm /I Do Q`;
  });
  const image = {
    number: 100,
    dictionary: '/Type /XObject /Subtype /Image /Width 10 /Height 12 /ColorSpace /DeviceGray /BitsPerComponent 8',
    stream: 'x'.repeat(120),
  };
  const mediaBox = [0, 0, 5 * pt, 5 * pt] as const;
  return pdfFile([{ content: drawn.join(' '), mediaBox, resources: '/XObject << /I 100 0 R >>' }], [image]);
}

describe('where 200 dots are the most', () => {
  it('two pictures of 120 are too many together, one is not', async () => {
    expect(await rasterPage(page(2.5, 2.5), 1, 50)).toMatchObject({ ok: false, code: 'picture-too-large' });
    expect(await rasterPage(page(5), 1, 50)).toMatchObject({ ok: true });
  });

  it('a picture that makes up less than 95 of 100 parts is not the page: the other is not left out', async () => {
    expect(await rasterPage(page(4.7, 0.3), 1, 50)).toMatchObject({ ok: false, code: 'picture-too-large' });
    const nearly = await rasterPage(page(4.8, 0.2), 1, 50);
    expect(nearly.ok && nearly.value.mmPerDotX).toBeCloseTo(0.48, 5);
  });
});
