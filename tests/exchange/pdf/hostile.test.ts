import { jsPDF } from 'jspdf';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { countingTurns } from '../../../src/exchange/pdf/libraryTurns';
import { readPdf } from '../../../src/exchange/pdf/readPdf';
import { withoutCompiling } from '../../../src/exchange/pdf/withoutCompiling';
import { bytesOf, pdfFile, type TestObject, textOfBytes } from './pdfText';

const line = '10 10 m 100 10 l S';
const good = () => pdfFile([{ content: line }]);

async function refusal(bytes: Uint8Array): Promise<string> {
  const answer = await readPdf(bytes);
  if (answer.ok) throw new Error('was read');
  expect(answer.sentence).toMatch(/^[A-Z].*\.$/s);
  return answer.code;
}

/** Nothing is asked of any network while these run. */
const fetched = vi.fn(() => Promise.reject(new Error('no network')));
beforeAll(() => {
  vi.stubGlobal('fetch', fetched);
});
afterAll(() => {
  vi.unstubAllGlobals();
  expect(fetched).not.toHaveBeenCalled();
});

describe('what is no readable PDF', () => {
  it('is refused with a sentence: empty, another kind, cut short, too large', async () => {
    expect(await refusal(new Uint8Array())).toBe('pdf-empty');
    expect(await refusal(bytesOf('<svg xmlns="http://www.w3.org/2000/svg"/>'))).toBe('not-pdf');
    expect(await refusal(bytesOf('%PDF-1.7\n'))).toBe('pdf-damaged');
    expect(await refusal(good().slice(0, 60))).toBe('pdf-damaged');
    expect(await refusal(new Uint8Array(60_000_001))).toBe('pdf-too-large');
  });

  it('cut short but still readable is read with a warning', async () => {
    const text = textOfBytes(pdfFile([{ content: line }, { content: line }]));
    const answer = await readPdf(bytesOf(text.slice(0, text.indexOf('startxref'))));
    if (!answer.ok) throw new Error(answer.sentence);
    expect(answer.value.warnings[0]).toContain('it may be cut short');
    const whole = await readPdf(good());
    expect(whole.ok && whole.value.warnings).toEqual([]);
  });

  it('is refused when it needs a password, and says so; one that only its owner may change is read', async () => {
    const locked = (userPassword: string) => {
      const doc = new jsPDF({ encryption: { userPassword, ownerPassword: 'owner', userPermissions: [] } });
      doc.line(10, 10, 90, 10);
      return new Uint8Array(doc.output('arraybuffer'));
    };
    expect(await refusal(locked('secret'))).toBe('pdf-locked');
    const open = await readPdf(locked(''));
    expect(open.ok && open.value.pages[0]!.shapes.length).toBe(1);
  });

  it('is refused when nothing is drawn on its pages', async () => {
    expect(await refusal(pdfFile([{ content: 'BT /F1 9 Tf 10 10 Td (Only words) Tj ET' }]))).toBe('pdf-no-lines');
  });

  it('is refused when it has more pages than any pattern', async () => {
    expect(await refusal(pdfFile(Array.from({ length: 201 }, () => ({ content: line }))))).toBe('pdf-too-many-pages');
  });
});

describe('files made to go round in circles', () => {
  const form = (number: number, resources: string, stream: string, more = ''): TestObject => ({
    number,
    dictionary: `/Type /XObject /Subtype /Form /BBox [0 0 600 900] ${more} /Resources << ${resources} >>`,
    stream,
  });

  it('a form inside itself is drawn once', async () => {
    const answer = await readPdf(
      pdfFile(
        [{ content: '/A Do', resources: '/XObject << /A 100 0 R >>' }],
        [
          form(100, '/XObject << /A 100 0 R /B 101 0 R >>', `${line} /A Do /B Do`),
          form(101, '/XObject << /A 100 0 R >>', `10 20 m 100 20 l S /A Do`),
        ],
      ),
    );
    expect(answer.ok && answer.value.pages[0]!.shapes.length).toBe(2);
  });

  it('forms that multiply without end are refused', async () => {
    const deep = (more: string) =>
      pdfFile(
        [{ content: '/N Do', resources: '/XObject << /N 100 0 R >>' }],
        Array.from({ length: 12 }, (_, i) =>
          form(
            100 + i,
            i === 11 ? '' : `/XObject << /N ${101 + i} 0 R >>`,
            i === 11 ? line : '/N Do '.repeat(10),
            more,
          ),
        ),
      );
    for (const more of ['', '/Group << /S /Transparency >>']) {
      const before = process.cpuUsage().user;
      expect(await refusal(deep(more))).toBe('pdf-too-much');
      expect((process.cpuUsage().user - before) / 1e6).toBeLessThan(4);
    }
  });

  it('masks, patterns and letters made of drawings that multiply without end: refused, or the rest is read', async () => {
    // Each of twelve drawings uses the next one ten times.
    const deep = (head: string, resource: (next: number) => string, use: string) =>
      Array.from(
        { length: 12 },
        (_, i): TestObject => ({
          number: 100 + i,
          dictionary: `${head} /Resources << ${i === 11 ? '' : resource(101 + i)} >>`,
          stream: i === 11 ? line : `${use} `.repeat(10),
        }),
      );
    const maskOf = (number: number) => `/ExtGState << /G << /SMask << /S /Luminosity /G ${number} 0 R >> >> >>`;
    const tilingOf = (number: number) => `/Pattern << /P ${number} 0 R >>`;
    const group = '/Type /XObject /Subtype /Form /BBox [0 0 600 900] /Group << /S /Transparency >>';
    const tile = '/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9';
    const letters = 'abcdefghij'.split('');
    const font = (letter: number, next: string) =>
      `<< /Type /Font /Subtype /Type3 /FontBBox [0 0 9 9] /FontMatrix [0.1 0 0 0.1 0 0] /FirstChar 97 /LastChar 106 /Widths [${letters.map(() => 9).join(' ')}] /Encoding << /Differences [97 ${letters.map((l) => `/${l}`).join(' ')}] >> /CharProcs << ${letters.map((l) => `/${l} ${letter} 0 R`).join(' ')} >> /Resources << ${next} >> >>`;
    const fonts = Array.from({ length: 12 }, (_, i): TestObject[] => [
      {
        number: 100 + 2 * i,
        dictionary: font(101 + 2 * i, i === 11 ? '' : `/Font << /T ${102 + 2 * i} 0 R >>`),
      },
      {
        number: 101 + 2 * i,
        dictionary: '',
        stream: i === 11 ? `9 0 d0 ${line}` : '9 0 d0 BT /T 9 Tf (abcdefghij) Tj ET',
      },
    ]).flat();
    const files = [
      pdfFile([{ content: `/G gs ${line}`, resources: maskOf(100) }], deep(group, maskOf, `/G gs ${line}`)),
      pdfFile(
        [{ content: `/Pattern cs /P scn 0 0 9 9 re f ${line}`, resources: tilingOf(100) }],
        deep(tile, tilingOf, '/Pattern cs /P scn 0 0 9 9 re f'),
      ),
      pdfFile([{ content: `BT /T 9 Tf (a) Tj ET ${line}`, resources: '/Font << /T 100 0 R >>' }], fonts),
    ];
    for (const bytes of files) {
      const before = process.cpuUsage().user;
      const answer = await readPdf(bytes);
      if (answer.ok) expect(answer.value.pages[0]!.shapes.length).toBe(1);
      else expect(answer.code).toBe('pdf-too-much');
      expect((process.cpuUsage().user - before) / 1e6).toBeLessThan(4);
    }
  });

  it('a page tree that holds itself, a page of itself, a file whose parts point in circles', async () => {
    const text = textOfBytes(good());
    for (const wounded of [
      text.replace('/Kids [10 0 R]', '/Kids [2 0 R]'),
      text.replace('/Kids [10 0 R]', '/Kids [10 0 R 2 0 R 10 0 R]'),
      text.replace('/Contents 11 0 R', '/Contents [11 0 R 10 0 R [11 0 R]]'),
      text.replace('/Parent 2 0 R', '/Parent 10 0 R'),
      text.replace('/Length 18', '/Length 11 0 R'),
      text.replace('trailer\n<<', `trailer\n<< /Prev ${text.indexOf('startxref')} `),
      text.replace('/Root 1 0 R', '/Root 2 0 R'),
    ]) {
      const answer = await readPdf(bytesOf(wounded));
      if (!answer.ok) expect(answer.sentence).toMatch(/^[A-Z].*\.$/s);
      else expect(answer.value.pages.length).toBeGreaterThan(0);
    }
  });
});

describe('the clock by which the work of the library is counted', () => {
  it('is the old one again after a good file, a hostile one, a failure, and two at once', async () => {
    const clock = Date.now;
    const endless = pdfFile(
      [{ content: '/N Do', resources: '/XObject << /N 100 0 R >>' }],
      [100, 101, 102, 103, 104, 105].map((number) => ({
        number,
        dictionary: `/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Group << /S /Transparency >> /Resources << /XObject << /N ${number + 1} 0 R >> >>`,
        stream: '/N Do '.repeat(10),
      })),
    );
    await Promise.all([readPdf(endless), readPdf(good()), readPdf(good())]);
    expect(Date.now).toBe(clock);
    const never = countingTurns(() => new Promise<never>((_, refuse) => setTimeout(refuse, 5, new Error('broken'))));
    expect(Date.now).not.toBe(clock);
    await expect(never).rejects.toThrow('broken');
    expect(Date.now).toBe(clock);
    for (const during of [countingTurns, withoutCompiling]) {
      const compile = WebAssembly.Module;
      const now = () => (during === countingTurns ? Date.now !== clock : WebAssembly.Module !== compile);
      let endSecond = () => {};
      const both = [during(async () => {}), during(() => new Promise<void>((end) => (endSecond = end)))];
      await both[0];
      expect(now()).toBe(true);
      endSecond();
      await both[1];
      expect(now()).toBe(false);
    }
    const many = countingTurns(async () => {
      for (let i = 0; i < 60_001; i++) Date.now();
    });
    expect(await many).toBe('too-many');
    expect(Date.now).toBe(clock);
    const enough = countingTurns(async () => {
      for (let i = 0; i < 60_000; i++) Date.now();
      return 'done';
    });
    expect(await enough).toBe('done');
  });
});

describe('numbers that are none', () => {
  it('are left out, the rest is read', async () => {
    const answer = await readPdf(
      pdfFile([
        {
          content: `q 0 0 0 0 0 0 cm ${line} Q q 1e30 0 0 1e30 0 0 cm ${line} Q nan 5 m 7 l S 1 0 0 cm [-3 2] 0 d 10 20 m 99999999999 20 l S ${line}`,
        },
      ]),
    );
    if (!answer.ok) throw new Error(answer.sentence);
    for (const { path } of answer.value.pages[0]!.shapes) {
      for (const { start, end } of path)
        for (const n of [start.x, start.y, end.x, end.y]) expect(Math.abs(n)).toBeLessThan(1e6);
    }
    expect(answer.value.warnings.join(' ')).toContain('impossible coordinates');
  });

  it('a restore too many and states never restored do no harm', async () => {
    const saved = (times: number) =>
      pdfFile([{ content: `${'Q '.repeat(50)}${'q '.repeat(times)}${line} EMC EMC EI ET` }]);
    const answer = await readPdf(saved(1500));
    expect(answer.ok && answer.value.pages[0]!.shapes.length).toBe(1);
    expect(await refusal(saved(200_000))).toBe('pdf-too-much');
  });
});

describe('programs inside a file', () => {
  it('are not run, and what lies outside is not fetched', async () => {
    const ran = vi.fn();
    vi.stubGlobal('ranFromPdf', ran);
    const answer = await readPdf(
      pdfFile(
        [
          {
            content: `${line} /CS1 cs 0.5 sc 10 10 30 30 re f BT /F2 9 Tf 10 60 Td (x) Tj ET`,
            resources:
              '/ColorSpace << /CS1 [/Separation /Spot /DeviceGray << /FunctionType 4 /Domain [0 1] /Range [0 1] /Length 20 >>] >> /Font << /F2 << /Type /Font /Subtype /Type0 /BaseFont /X /Encoding /UniGB-UCS2-H /DescendantFonts [<< /Type /Font /Subtype /CIDFontType0 /BaseFont /X /CIDSystemInfo << /Registry (Adobe) /Ordering (GB1) /Supplement 0 >> >>] >> >>',
            extra: '/AA << /O << /S /JavaScript /JS (ranFromPdf\\(\\)) >> >>',
          },
        ],
        [],
        '/OpenAction << /S /JavaScript /JS (ranFromPdf\\(\\)) >> /AcroForm << /XFA (x) /Fields [] >> /Names << /JavaScript << /Names [(a) << /S /JavaScript /JS (ranFromPdf\\(\\)) >>] >> >>',
      ),
    );
    expect(answer.ok).toBe(true);
    expect(ran).not.toHaveBeenCalled();
  });

  it('and the arithmetic of a colour is worked out without compiling it (ISO 32000-1, 7.10.5)', async () => {
    const compiled = vi.fn();
    const real = WebAssembly.Module;
    WebAssembly.Module = compiled as never;
    try {
      const spot = (stream: string, number: number): TestObject => ({
        number,
        dictionary: '/FunctionType 4 /Domain [0 1] /Range [0 1 0 1 0 1]',
        stream,
      });
      const files = ['{ dup 2 div exch 1 exch sub 0.2 }', '{ 0.3 gt { 0 1 0 } { 1 0 0 } ifelse }'].map((text) =>
        pdfFile(
          [{ content: `/S CS 0.5 SCN ${line}`, resources: '/ColorSpace << /S [/Separation /A /DeviceRGB 100 0 R] >>' }],
          [spot(text, 100)],
        ),
      );
      // 0.25, 0.5 and 0.2 of 255, rounded; then plain green. Both at once.
      const read = await Promise.all(files.map((bytes) => readPdf(bytes)));
      expect(read.map((one) => one.ok && one.value.pages[0]!.shapes[0]!.colour)).toEqual(['#408033', '#00ff00']);
      expect(compiled).not.toHaveBeenCalled();
      expect(WebAssembly.Module).toBe(compiled);
    } finally {
      WebAssembly.Module = real;
    }
  });
});
