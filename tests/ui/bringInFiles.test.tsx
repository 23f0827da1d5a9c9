import { readFileSync } from 'node:fs';
import { act, screen } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { fail, type Outcome } from '../../src/geometry/outcome';
import { openFile } from '../../src/ui/bringin/fileDoor';
import { type FileKind, fileKind } from '../../src/ui/bringin/fileKind';
import { tooLarge } from '../../src/ui/bringin/fileLimits';
import { Working } from '../../src/ui/bringin/Working';
import type { DrawingReader } from '../../src/workers/drawingReader';
import type { Report } from '../../src/workers/messages';
import { onePagePdf } from '../support/tiledPdf';
import { renderOnBench } from '../support/uiHarness';

const bytes = (...numbers: readonly number[]) => Uint8Array.from(numbers);
const text = (words: string) => new TextEncoder().encode(words);
const binaryDxf = text('AutoCAD Binary DXF\r\n\x1a\0');

describe('what a file is', () => {
  test.each<readonly [string, Uint8Array, FileKind]>([
    ['garment.json', text('{"format": "hingeline-project"}'), 'garment'],
    ['garment.txt', text('\ufeff  {"format": 1}'), 'garment'],
    ['piece.svg', text('<?xml version="1.0"?><svg/>'), 'svg'],
    ['piece.txt', text('  <svg/>'), 'svg'],
    ['piece.svg', text('Dear maker'), 'svg'],
    ['pattern.pdf', text('%PDF-1.7\n'), 'pdf'],
    ['pattern', text(`${' '.repeat(900)}%PDF-1.4`), 'pdf'],
    ['piece.dxf', text('  0\r\nSECTION\r\n  2\r\nHEADER'), 'dxf'],
    ['piece.dat', text('999\nwritten by hand\n0\nSECTION'), 'dxf'],
    ['piece.dxf', binaryDxf, 'dxf'],
    ['scan', bytes(0xff, 0xd8, 0xff, 0xe0), 'picture'],
    ['scan.pdf', bytes(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a), 'picture'],
    ['photo.heic', bytes(0, 0, 0, 24, ...text('ftypheic')), 'picture'],
    ['scan.tif', bytes(0x49, 0x49, 0x2a, 0), 'picture'],
    ['photo.webp', text('RIFF....WEBPVP8 '), 'picture'],
    ['nothing.pdf', bytes(), 'empty'],
    ['noise.pdf', bytes(1, 2, 3, 4, 5, 6, 7, 8), 'mislabelled'],
    ['noise.jpg', bytes(1, 2, 3, 4, 5, 6, 7, 8), 'mislabelled'],
    ['letter.docx', bytes(0x50, 0x4b, 3, 4), 'unknown'],
  ])('%s is told by what is in it', (name, head, kind) => {
    expect(fileKind(head, name)).toBe(kind);
  });

  test('too large a one is turned away by its size alone', () => {
    expect(tooLarge('svg', 20_000_001)).toMatchObject({ code: 'file-too-large' });
    expect(tooLarge('svg', 20_000_000)).toBeNull();
    expect(tooLarge('unknown', 1e12)).toBeNull();
  });
});

describe('the door for files', () => {
  test('says what can be opened when it is handed anything else, and leaves everything as it was', async () => {
    const bench = renderOnBench(<Working />);
    const before = bench.store.getState();
    for (const [name, content] of [
      ['letter.docx', 'PK\x03\x04'],
      ['noise.dxf', '\x01\x02\x03'],
      ['nothing.svg', ''],
      ['broken.pdf', '%PDF-1.4 nothing more'],
      ['broken.svg', '<svg xmlns="http://www.w3.org/2000/svg"><path'],
      ['newer.json', '{"format":"hingeline-project","version":99}'],
    ] as const) {
      let opened: Outcome<null> | undefined;
      await act(async () => {
        opened = await openFile(new File([content], name), bench.store, bench.workshop);
      });
      expect(opened, name).toMatchObject({ ok: false, sentence: expect.stringMatching(/^[A-Z“].{20,}\.$/s) });
    }
    expect(bench.store.getState()).toEqual(before);
    expect(bench.bringIn.getState()).toMatchObject({ draft: null, pages: null, picture: null, work: null });
  });

  test('a PDF named as something else is opened as what it is', async () => {
    const bench = renderOnBench(<Working />, null);
    await act(async () => {
      const file = new File([onePagePdf() as BlobPart], 'pocket.jpg');
      expect(await openFile(file, bench.store, bench.workshop)).toMatchObject({ ok: true });
    });
    expect(bench.bringIn.getState().draft?.path).not.toBeNull();
  });

  test('a DXF without a unit asks for one length; a new file takes the place of what lay there', async () => {
    const bench = renderOnBench(<Working />, null);
    const open = (path: string) =>
      act(async () => {
        const file = new File([readFileSync(path)], path.split('/').at(-1)!);
        expect(await openFile(file, bench.store, bench.workshop)).toMatchObject({ ok: true });
      });
    await open('tests/fixtures/dxf/skirt-r12.dxf');
    expect(bench.bringIn.getState().draft).toMatchObject({ scale: { kind: 'ask' }, name: 'Skirt r12' });
    await open('tests/fixtures/svg/skirt-mm.svg');
    expect(bench.bringIn.getState().draft).toMatchObject({ scale: { kind: 'certain' }, source: 'skirt-mm.svg' });
  });
});

describe('work under way', () => {
  beforeEach(() => vi.useFakeTimers({ shouldAdvanceTime: true }));
  afterEach(() => vi.useRealTimers());

  /** A reader that answers only when it is stopped. */
  function slowReader() {
    const waiting: { settle: (answer: Outcome<never>) => void; report: Report | undefined }[] = [];
    const reader: DrawingReader = {
      read: (_ask, report) => new Promise((settle) => waiting.push({ settle, report })),
      stop: () => {
        for (const { settle } of waiting.splice(0)) settle(fail('cancelled', 'Stopped. Nothing was changed.'));
      },
    };
    return { reader, waiting };
  }

  const pass = (ms: number) => act(async () => void (await vi.advanceTimersByTimeAsync(ms)));

  test('is shown after a moment with words, a bar and a way to stop, and stopping changes nothing', async () => {
    const { reader, waiting } = slowReader();
    const bench = renderOnBench(<Working />, 'straight-skirt', reader);
    const before = bench.store.getState();
    const opened = openFile(new File(['<svg/>'], 'slow.svg'), bench.store, bench.workshop);
    await pass(100);
    expect(screen.queryByRole('progressbar')).toBeNull();
    await pass(400);
    expect(screen.getByRole('progressbar').getAttribute('aria-valuenow')).toBeNull();
    act(() => waiting[0]!.report?.({ share: 0.4, doing: 'Reading page 4 of 10' }));
    expect(screen.getByRole('progressbar').getAttribute('aria-valuenow')).toBe('40');
    expect(screen.getByText('Reading page 4 of 10…')).toBeTruthy();
    await act(async () => screen.getByRole('button', { name: 'Stop' }).click());
    expect(await opened).toMatchObject({ code: 'cancelled' });
    await pass(300);
    expect(screen.queryByRole('progressbar')).toBeNull();
    expect(bench.store.getState()).toEqual(before);
    expect(bench.bringIn.getState()).toMatchObject({ draft: null, work: null });
  });

  test('R35 laying the table again is shown from the first moment, and on while it goes over to other work', async () => {
    const { bringIn } = renderOnBench(<Working />);
    const work = { doing: 'Laying the table as you left it', share: null, stop: () => undefined };
    act(() => bringIn.actions.showWork({ ...work, atOnce: true }));
    await pass(1);
    expect(screen.getByText('Laying the table as you left it…')).toBeTruthy();
    act(() => bringIn.actions.showWork({ ...work, doing: 'Reading the picture' }));
    await pass(1);
    expect(screen.getByText('Reading the picture…')).toBeTruthy();
  });

  test('without a sign of progress for half a minute that is said, and nothing is stopped by itself', async () => {
    const { reader, waiting } = slowReader();
    const bench = renderOnBench(<Working />, null, reader);
    void openFile(new File(['<svg/>'], 'slow.svg'), bench.store, bench.workshop);
    await pass(29_000);
    expect(screen.queryByText(/No sign of progress/)).toBeNull();
    act(() => waiting[0]!.report?.({ share: 0.1, doing: 'Reading' }));
    await pass(29_000);
    expect(screen.queryByText(/No sign of progress/)).toBeNull();
    await pass(2000);
    expect(screen.getByText(/No sign of progress/)).toBeTruthy();
    expect(waiting).toHaveLength(1);
    reader.stop();
  });

  test('a second file stops the first', async () => {
    const { reader, waiting } = slowReader();
    const bench = renderOnBench(<Working />, null, reader);
    const first = openFile(new File(['<svg/>'], 'one.svg'), bench.store, bench.workshop);
    await pass(50);
    void openFile(new File(['<svg/>'], 'two.svg'), bench.store, bench.workshop);
    expect(await first).toMatchObject({ code: 'cancelled' });
    await pass(50);
    expect(waiting).toHaveLength(1);
    expect(bench.bringIn.getState().work).not.toBeNull();
    reader.stop();
  });
});
