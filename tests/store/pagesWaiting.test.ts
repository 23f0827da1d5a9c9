import { expect, test } from 'vitest';
import { type PicturePart, pagesWaiting, startPicture } from '../../src/store/pictureDraft';

const part = (page: number): PicturePart => ({
  id: `page ${page}`,
  source: 'scans.png',
  page,
  width: 10,
  height: 10,
  stated: null,
  sheets: [],
  beside: { kind: 'scan', across: 1, down: 1 },
  corners: [],
  straight: null,
});
const book = { id: 'book', source: 'scans.pdf', pages: [1, 2, 3, 4] };

test('the pages of a file that do not lie here yet follow on from the last one', () => {
  const picture = { ...startPicture(part(2)), book };
  expect(pagesWaiting(picture)).toEqual([3, 4, 1]);
  expect(pagesWaiting({ ...picture, parts: [part(2), part(4)] })).toEqual([1, 3]);
  expect(pagesWaiting({ ...picture, parts: [1, 2, 3, 4].map(part) })).toEqual([]);
  expect(pagesWaiting(startPicture(part(2)))).toEqual([]);
});
