import { beforeAll, describe, expect, it } from 'vitest';
import { affine } from '../../../src/exchange/drawing/affine';
import { withPdf } from '../../../src/exchange/pdf/openPdf';
import type { OperatorList } from '../../../src/exchange/pdf/operators';
import { PageDrawing } from '../../../src/exchange/pdf/pageDrawing';
import { pageOperators } from '../../../src/exchange/pdf/pageOperators';
import { PdfWarnings } from '../../../src/exchange/pdf/pdfWarnings';
import { asPage } from '../../../src/exchange/pdf/readPdf';
import { succeed } from '../../../src/geometry/outcome';
import { seeded } from '../svgMutate';
import { carry, lookAtNumbers } from './carry';
import { damagedList } from './mutate';
import { pdfFile } from './pdfText';
import { gradedSheet } from './sheets';
import { tiledPdf } from './tiles';

/** `FUZZ_RUNS` makes it longer, `FUZZ_SEED` different. Whole files are damaged in pdfFilesFuzz*.test.ts. */
const runs = Number(process.env.FUZZ_RUNS ?? 20_000);
const seed = Number(process.env.FUZZ_SEED ?? 20_260_101);

const rich = pdfFile(
  [
    {
      content:
        'q 1 0 0 1 20 30 cm 0.5 w [4 2] 0 d 1 0 0 RG 10 10 m 100 10 l 100 200 l 10 200 l h S /G gs 0 0 1 rg 30 30 m 60 90 90 90 120 30 c f Q q 50 50 400 600 re W n /OC /L BDC /A Do EMC Q BT /F1 12 Tf 14 TL 60 700 Td (Bodice) Tj T* [(fr) 20 (ont)] TJ 1 0 0 1 60 500 Tm (Size 12) Tj ET 100 300 m 200 300 l 200 400 l 100 400 l s q 200 0 0 200 300 100 cm /I Do Q',
      resources:
        '/XObject << /A 100 0 R /I 103 0 R >> /ExtGState << /G << /LW 2 /D [[3 3] 0] /CA 0.5 /ca 0.5 >> >> /Properties << /L 101 0 R >>',
    },
  ],
  [
    {
      number: 100,
      dictionary:
        '/Type /XObject /Subtype /Form /BBox [0 0 500 500] /Matrix [1 0.2 -0.2 1 5 5] /Group << /S /Transparency >>',
      stream: '10 20 m 300 20 l 320 400 l S 100 100 m 150 180 200 180 v S',
    },
    { number: 101, dictionary: '<< /Type /OCG /Name (Size 12) >>' },
    {
      number: 103,
      dictionary: '/Type /XObject /Subtype /Image /Width 2 /Height 2 /ColorSpace /DeviceGray /BitsPerComponent 8',
      stream: 'abcd',
    },
  ],
  '/OCProperties << /OCGs [101 0 R] /D << >> >>',
);
const tiles = tiledPdf(gradedSheet().slice(1, 3), {
  columns: 2,
  rows: 1,
  width: 190,
  height: 300,
  margin: 5,
  how: 'cut',
});

const size = { width: 200, height: 310, map: affine(25.4 / 72, 0, 0, -25.4 / 72, 0, 310) };

describe(`${runs} damaged lists of operators`, () => {
  let lists: OperatorList[] = [];
  beforeAll(async () => {
    for (const bytes of [rich, tiles.bytes]) {
      const answer = await withPdf(bytes, async (document) => {
        const found: OperatorList[] = [];
        for (let n = 1; n <= document.numPages; n++) {
          const list = await pageOperators(await document.getPage(n), 10_000);
          if (list !== 'too-many') found.push(list);
        }
        return succeed(found);
      });
      if (answer.ok) lists = [...lists, ...answer.value];
    }
    expect(lists.length).toBe(3);
  });

  it('are followed to pages of sound lines, never throw and never hang', { timeout: 600_000 }, () => {
    const random = seeded(seed);
    const layers = new Map([['101R', { name: 'Size 12', shown: true }]]);
    const reached = new Map<string, number>();
    let slowest = 0;
    for (let i = 0; i < runs; i++) {
      const before = process.cpuUsage();
      const hurt = (list: OperatorList) => (random() < 0.7 ? damagedList(list, random) : list);
      const some = i % 4 === 0 ? [lists[0]!] : [lists[1]!, lists[2]!];
      try {
        const pages = some.map((list, n) => {
          const drawing = new PageDrawing(size, layers, new PdfWarnings());
          drawing.follow(hurt(list));
          return asPage(n + 1, size, drawing);
        });
        lookAtNumbers(pages);
        // What comes after is the same whatever the list; a third of the runs goes all the way.
        const end = i % 3 === 0 ? carry(pages) : 'read';
        reached.set(end, (reached.get(end) ?? 0) + 1);
      } catch (error) {
        throw new Error(`run ${i} of seed ${seed}`, { cause: error });
      }
      const { user, system } = process.cpuUsage(before);
      slowest = Math.max(slowest, (user + system) / 1e6);
    }
    expect(slowest).toBeLessThan(2);
    for (const stage of ['laid', 'joined']) expect(reached.get(stage)).toBeGreaterThan(runs / 200);
  });
});
