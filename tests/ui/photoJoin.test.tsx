import { act, screen, waitFor } from '@testing-library/react';
import { beforeAll, describe, expect, test } from 'vitest';
import { toTable } from '../../src/exchange/photo/viewPoint';
import { pathBounds } from '../../src/geometry/bounds';
import { pathLength } from '../../src/geometry/path';
import type { Point } from '../../src/geometry/point';
import { besideShift, type PictureDraft, partNow, withPart } from '../../src/store/pictureDraft';
import { markShared } from '../../src/store/pictureSpots';
import { openPicture } from '../../src/ui/bringin/photo/openPicture';
import { BringInPlace } from '../../src/ui/places/BringInPlace';
import { seenAt } from '../support/photo/pinhole';
import type { Photo } from '../support/photo/renderPhoto';
import { sampleOutline } from '../support/photo/samplePieces';
import { photosInProcess, WithPhotos } from '../support/photoBench';
import { jpegOf, skirtHalf } from '../support/skirtPhoto';
import { type Bench, renderOnBench } from '../support/uiHarness';

/** Marks on the skirt that both photographs show, true mm. */
const shared: readonly Point[] = [
  { x: 20, y: 290 },
  { x: 220, y: 300 },
  { x: 120, y: 390 },
];
const outline = sampleOutline('straight-skirt', 'front');

let upper: Photo;
let lower: Photo;

beforeAll(() => {
  upper = skirtHalf('upper', 1200, 900);
  lower = skirtHalf('lower', 1200, 900);
});

const fileOf = (photo: Photo, name: string) => new File([jpegOf(photo.picture)], name, { type: 'image/jpeg' });
const pictureOf = ({ bringIn }: Bench) => bringIn.getState().picture!;

/** From the corners of the sheet to the end of the check, which is left out. */
async function straighten(bench: Bench, photo: Photo): Promise<void> {
  const sheet = photo.truth.sheet!;
  act(() => bench.bringIn.actions.changePicture((now) => withPart(now, (part) => ({ ...part, corners: sheet }))));
  await bench.user.click(screen.getByLabelText('an A4 sheet'));
  await bench.user.click(screen.getByRole('button', { name: 'Straighten' }));
  await screen.findByText(/^Measure a second length/, undefined, { timeout: 20_000 });
  await bench.user.click(screen.getByRole('button', { name: 'Go on without a check' }));
}

describe('a piece too long for one picture', { timeout: 60_000 }, () => {
  test('two pictures are laid together by places marked on both, and the outline runs over both', async () => {
    const photos = photosInProcess();
    const bench = renderOnBench(
      <WithPhotos photos={photos}>
        <BringInPlace />
      </WithPhotos>,
      null,
    );
    await act(async () => {
      await openPicture(fileOf(upper, 'upper.jpg'), bench.store, bench.bringIn, photos);
    });
    await screen.findByText('What lies flat beside the piece?');
    await straighten(bench, upper);
    const picker = document.querySelector<HTMLInputElement>('input[type=file]')!;
    await bench.user.upload(picker, fileOf(lower, 'lower.jpg'));
    await screen.findByText('What lies flat beside the piece?', undefined, { timeout: 20_000 });
    expect(pictureOf(bench).parts).toHaveLength(2);
    await straighten(bench, lower);

    await bench.user.click(await screen.findByRole('button', { name: 'Join the pictures' }));
    expect(screen.getByRole('alert').textContent).toContain('Mark two places at least');
    act(() => bench.bringIn.actions.changePicture(markAll));
    await screen.findByText(/^The marked places lie 0(\.\d)? mm apart at most/);
    await bench.user.click(screen.getByRole('button', { name: 'Join the pictures' }));
    await screen.findByText(/^Say what the outline is/, undefined, { timeout: 20_000 });
    expect(screen.getByText(/^2 pictures were joined by shared places/)).toBeTruthy();

    await bench.user.click(screen.getByRole('button', { name: 'Look for the piece' }));
    await waitFor(() => expect(bench.bringIn.getState().draft).not.toBeNull(), { timeout: 20_000 });
    const path = bench.bringIn.getState().draft!.path!;
    const { minY, maxY } = pathBounds(path);
    const real = pathBounds(outline);
    // 1200 dots across a picture of half a metre: half a dot is a fifth of a mm.
    expect(Math.abs(maxY - minY - (real.maxY - real.minY))).toBeLessThan(0.75);
    expect(Math.abs(pathLength(path) / pathLength(outline) - 1)).toBeLessThan(0.002);
  });
});

/** Every shared mark on both pictures, where each of them shows it. */
function markAll(picture: PictureDraft): PictureDraft {
  const [first] = picture.parts;
  const second = partNow(picture);
  const shift = besideShift(picture);
  return shared.reduce((marked, at) => {
    const there = toTable(second.straight!.straightened.view, seenAt(lower.truth.view, at));
    const here = toTable(first!.straight!.straightened.view, seenAt(upper.truth.view, at));
    return markShared(markShared(marked, 'first', here), 'second', { x: there.x + shift.x, y: there.y + shift.y });
  }, picture);
}
