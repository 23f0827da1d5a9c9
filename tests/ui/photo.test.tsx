import { act, screen, waitFor } from '@testing-library/react';
import { beforeAll, describe, expect, test } from 'vitest';
import { toTable } from '../../src/exchange/photo/viewPoint';
import { distance } from '../../src/geometry/point';
import { partNow, withPart } from '../../src/store/pictureDraft';
import { openPicture } from '../../src/ui/bringin/photo/openPicture';
import { BringInPlace } from '../../src/ui/places/BringInPlace';
import type { PhotoHelper } from '../../src/workers/photoHelper';
import type { Photo } from '../support/photo/renderPhoto';
import { photosInProcess, photosWithoutEnd, WithPhotos } from '../support/photoBench';
import { jpegOf, skirtPhoto } from '../support/skirtPhoto';
import { type Bench, renderOnBench } from '../support/uiHarness';

let photo: Photo;
let file: File;

beforeAll(() => {
  photo = skirtPhoto(1000, 750);
  file = new File([jpegOf(photo.picture)], 'skirt-front.jpg', { type: 'image/jpeg' });
});

async function opened(picture = file, photos: PhotoHelper = photosInProcess()): Promise<Bench> {
  const bench = renderOnBench(
    <WithPhotos photos={photos}>
      <BringInPlace />
    </WithPhotos>,
    null,
  );
  await act(async () => {
    const laid = await openPicture(picture, bench.store, bench.bringIn, photos);
    if (!laid.ok) throw new Error(laid.sentence);
    bench.store.commands.setUnit('mm');
  });
  await screen.findByText('What lies flat beside the piece?');
  return bench;
}

/** Puts the four corners where the sheet truly is, a dot or two off, as a hand would. */
function setCorners({ bringIn }: Bench): void {
  const sheet = photo.truth.sheet!;
  act(() =>
    bringIn.actions.changePicture((picture) =>
      withPart(picture, (part) => ({
        ...part,
        corners: sheet.map(({ x, y }, i) => ({ x: x + (i % 2 === 0 ? 1.5 : -1), y: y + (i < 2 ? 1 : -1.5) })),
      })),
    ),
  );
}

async function straightened(): Promise<Bench> {
  const bench = await opened();
  setCorners(bench);
  await bench.user.click(screen.getByLabelText('an A4 sheet'));
  await bench.user.click(screen.getByRole('button', { name: 'Straighten' }));
  await screen.findByText(/^Measure a second length/, undefined, { timeout: 15_000 });
  return bench;
}

const pictureOf = ({ bringIn }: Bench) => bringIn.getState().picture!;

/** Lays a length between two places of the table that the photograph shows, given in its own true mm. */
function layLength(bench: Bench, from: { x: number; y: number }, to: { x: number; y: number }): number {
  const straight = partNow(pictureOf(bench)).straight!;
  // From the true table to dots by the truth, then to the table as it was found.
  const seen = (p: { x: number; y: number }) => toTable(straight.straightened.view, dotOf(p));
  act(() => bench.bringIn.actions.changePicture((now) => ({ ...now, tape: { from: seen(from), to: seen(to) } })));
  return distance(from, to);
}

function dotOf(p: { x: number; y: number }) {
  const { view } = photo.truth;
  const [a, b, c, d, e, f, g, h, i] = view.homography;
  // The inverse of the truth's map, by the adjugate; its lens is 0.
  const m = [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ] as const;
  const w = m[6] * p.x + m[7] * p.y + m[8];
  return { x: (m[0] * p.x + m[1] * p.y + m[2]) / w, y: (m[3] * p.x + m[4] * p.y + m[5]) / w };
}

describe('bringing in a photograph', { timeout: 30_000 }, () => {
  test('from the sheet beside the piece to its named edges, with a second length that agrees', async () => {
    const bench = await straightened();
    const steps = bench.store.getState().past.length;
    const known = layLength(bench, { x: 0, y: 0 }, { x: 0, y: 600 });
    await bench.user.type(screen.getByRole('textbox', { name: /true length/ }), `${known} mm{Enter}`);
    expect(await screen.findByText(/A second length agrees: .* for 600 mm in truth/)).toBeTruthy();
    await bench.user.click(screen.getByRole('button', { name: 'Go on' }));
    await bench.user.click(screen.getByRole('button', { name: 'Look for the piece' }));
    await screen.findByText(/^Walk round the piece/, undefined, { timeout: 15_000 });
    const { draft } = bench.bringIn.getState();
    expect(draft).toMatchObject({ name: 'Skirt front', scale: { kind: 'certain' } });
    expect(draft!.takenFrom).toBe(pictureOf(bench).flat!.id);
    expect(draft!.notes!.join(' ')).toMatch(/A second length agrees.*Expect the outline to be off by up to \d\.\d mm/);
    expect(bench.store.getState().past).toHaveLength(steps);
  });

  test('R30 a second length that is off by more than 0.5 % is refused, with what may be wrong and a way back', async () => {
    const bench = await straightened();
    const known = layLength(bench, { x: 0, y: 0 }, { x: 0, y: 600 });
    const field = screen.getByRole('textbox', { name: /true length/ });
    await bench.user.type(field, `${known * 1.006} mm{Enter}`);
    expect(screen.getByRole('alert').textContent).toMatch(
      /does not agree: .*-0\.\d\d % off, .*paper may not lie flat, the sheet may be lifted, not square or of another size/,
    );
    expect(screen.queryByRole('button', { name: 'Go on' })).toBeNull();
    await bench.user.clear(field);
    await bench.user.type(field, `${known * 1.004} mm{Enter}`);
    expect(screen.getByRole('button', { name: 'Go on' })).toBeTruthy();
    await bench.user.click(screen.getByRole('button', { name: 'Back to the corners' }));
    expect(pictureOf(bench).stage).toBe('corners');
  });

  test('the sheet itself is no second length, and nothing is checked before a length lies there', async () => {
    const bench = await straightened();
    await bench.user.type(screen.getByRole('textbox', { name: /true length/ }), '297{Enter}');
    expect(screen.getByRole('alert').textContent).toContain('First lay the length on the table');
    act(() =>
      bench.bringIn.actions.changePicture((now) => ({ ...now, tape: { from: { x: 1, y: 1 }, to: { x: 1, y: 296 } } })),
    );
    await bench.user.click(screen.getByRole('button', { name: 'Check it' }));
    expect(screen.getByRole('alert').textContent).toContain('That is the sheet');
  });

  test('the check is left out only when the maker says so, and the piece remembers', async () => {
    const bench = await straightened();
    await bench.user.click(screen.getByRole('button', { name: 'Go on without a check' }));
    expect(await screen.findByText('The size was not checked against a second length.')).toBeTruthy();
  });

  test('a sheet of another size must have its sides typed first', async () => {
    const bench = await opened();
    await bench.user.click(screen.getByLabelText('another sheet or card'));
    await bench.user.click(screen.getByRole('button', { name: 'Straighten' }));
    expect(screen.getByRole('alert').textContent).toContain('Type both lengths');
    const side = screen.getByLabelText('From 1 to 2');
    await bench.user.clear(side);
    await bench.user.type(side, '12 cm{Enter}');
    expect(partNow(pictureOf(bench)).beside).toEqual({ kind: 'other', width: 120, height: 0 });
  });

  test('four crossings of a mat are asked for one after the other, and can be taken back', async () => {
    const bench = await opened();
    await bench.user.click(screen.getByLabelText('a ruled mat'));
    expect(screen.getByText(/^Click four crossings of the mat/)).toBeTruthy();
    await bench.user.click(screen.getByRole('button', { name: 'Straighten' }));
    expect(screen.getByRole('alert').textContent).toContain('4 to go');
    act(() =>
      bench.bringIn.actions.changePicture((now) => withPart(now, (part) => ({ ...part, corners: [{ x: 5, y: 5 }] }))),
    );
    await bench.user.click(screen.getByRole('button', { name: 'Back one crossing' }));
    expect(partNow(pictureOf(bench)).corners).toEqual([]);
  });

  test('a scan needs its resolution in both directions; what is impossible is refused', async () => {
    const bench = await opened();
    await bench.user.click(screen.getByLabelText('nothing: it is a scan'));
    await bench.user.click(screen.getByRole('button', { name: 'Lay it at this size' }));
    expect(screen.getByRole('alert').textContent).toContain('how many dots to the inch');
    const across = screen.getByLabelText('Across');
    await bench.user.clear(across);
    await bench.user.type(across, '5{Enter}');
    expect(screen.getByText(/between 25 and 5,000/)).toBeTruthy();
    await bench.user.clear(across);
    await bench.user.type(across, '50.8{Enter}');
    const down = screen.getByLabelText('Down');
    await bench.user.clear(down);
    await bench.user.type(down, '50{Enter}');
    expect(partNow(pictureOf(bench)).beside).toMatchObject({ kind: 'scan', across: 2, down: 50 / 25.4 });
    await bench.user.click(screen.getByRole('button', { name: 'Lay it at this size' }));
    await screen.findByText(/^Measure a second length/, undefined, { timeout: 15_000 });
    const { flat } = partNow(pictureOf(bench)).straight!;
    expect(Math.abs(flat.width / flat.dotsPerMm - 500)).toBeLessThan(0.5);
    expect(Math.abs(flat.height / flat.dotsPerMm - (750 * 25.4) / 50)).toBeLessThan(0.5);
  });

  test('put away, nothing of it is left', async () => {
    const bench = await opened();
    await bench.user.click(screen.getByRole('button', { name: 'Put this picture away' }));
    expect(bench.bringIn.getState()).toMatchObject({ picture: null, underlay: null, draft: null });
    expect(await screen.findByText(/^Bring in the first piece/)).toBeTruthy();
  });
});

describe('pictures that cannot be opened', () => {
  test('are refused with a sentence, and everything stays as it was', async () => {
    const bench = renderOnBench(<BringInPlace />);
    const before = bench.bringIn.getState();
    for (const bytes of [
      new Uint8Array(0),
      new TextEncoder().encode('no picture'),
      jpegOf(photo.picture).slice(0, 400),
    ]) {
      const laid = await openPicture(new File([bytes], 'x.jpg'), bench.store, bench.bringIn, photosInProcess());
      expect(laid.ok).toBe(false);
      if (!laid.ok) expect(laid.sentence.length).toBeGreaterThan(20);
    }
    expect({ ...bench.bringIn.getState(), work: null }).toEqual({ ...before, work: null });
    expect(bench.store.getState().past).toHaveLength(0);
  });

  test('R33 work that takes long can be stopped; what was there is still there', async () => {
    const bench = await opened();
    const before = pictureOf(bench);
    const photos = photosWithoutEnd();
    const laid = openPicture(file, bench.store, bench.bringIn, photos);
    await waitFor(() => expect(bench.bringIn.getState().work).not.toBeNull());
    act(() => bench.bringIn.getState().work!.stop());
    expect(await laid).toMatchObject({ ok: false, code: 'cancelled' });
    expect(photos.stopped()).toBe(true);
    expect(bench.bringIn.getState().work).toBeNull();
    expect(pictureOf(bench)).toBe(before);
  });
});

describe('which way a sheet lies', () => {
  test('follows the corners, until the maker says otherwise; that is still so after coming back', async () => {
    const bench = await opened();
    await bench.user.click(screen.getByLabelText('an A4 sheet'));
    const lie = (wide: number, tall: number) =>
      act(() =>
        bench.bringIn.actions.changePicture((picture) =>
          withPart(picture, (part) => ({
            ...part,
            corners: [
              { x: 100, y: 100 },
              { x: 100 + wide, y: 100 },
              { x: 100 + wide, y: 100 + tall },
              { x: 100, y: 100 + tall },
            ],
          })),
        ),
      );
    lie(300, 200);
    expect(partNow(pictureOf(bench)).beside).toMatchObject({ width: 297, height: 210 });
    lie(200, 300);
    expect(partNow(pictureOf(bench)).beside).toMatchObject({ width: 210, height: 297 });
    await bench.user.click(screen.getByRole('button', { name: 'Swap the two lengths' }));
    expect(partNow(pictureOf(bench)).beside).toMatchObject({ width: 297, height: 210 });
    // Another place and back: the tray is drawn anew.
    act(() => bench.bringIn.actions.changePicture((picture) => ({ ...picture, stage: 'outline' })));
    act(() => bench.bringIn.actions.changePicture((picture) => ({ ...picture, stage: 'corners' })));
    lie(200, 301);
    expect(partNow(pictureOf(bench)).beside).toMatchObject({ width: 297, height: 210 });
  });
});
