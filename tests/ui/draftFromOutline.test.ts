import { describe, expect, test } from 'vitest';
import { point } from '../../src/geometry/point';
import { line } from '../../src/geometry/segment';
import { type PictureDraft, startPicture } from '../../src/store/pictureDraft';
import { draftFromOutline } from '../../src/ui/bringin/photo/draftFromOutline';
import type { ProposedOutline } from '../../src/workers/photoMessages';

const corners = [point(0, 0), point(0, 100), point(80, 100), point(80, 0)];
const path = corners.map((start, i) => line(start, corners[(i + 1) % 4]!));

const picture: PictureDraft = {
  ...startPicture({
    id: 'one',
    source: 'front.jpg',
    width: 100,
    height: 100,
    stated: null,
    sheets: [],
    beside: { kind: 'scan', across: 6, down: 6 },
    corners: [],
    straight: null,
  }),
  flat: { id: 'flat', origin: point(0, 0), dotsPerMm: 6, width: 600, height: 600 },
};

function found(doubtful: ProposedOutline['found']['doubtful'], notes: readonly string[]): ProposedOutline {
  return {
    kind: 'outline',
    found: { path, area: 8000, steps: 4, uncertain: 0.5, doubtful, noise: 0, notes },
    drawn: { path, corners: [], sentence: 'As it was traced.' },
  };
}

describe('an outline found on a picture', () => {
  test('tells what is in doubt and keeps where, also round its start', () => {
    const runs = [
      { from: 1, to: 1 },
      { from: 3, to: 0 },
    ];
    const draft = draftFromOutline(picture, found(runs, ['Look at it there.']), 'edge-of-paper')!;
    expect(draft.doubtful).toEqual([[path[1]], [path[3], path[0]]]);
    expect(draft.heed).toEqual(['Look at it there.', expect.stringContaining('shown broad on the table')]);
    expect(draft.notes!.join(' ')).not.toContain('Look at it there.');
  });

  test('shows nothing broad where nothing is in doubt', () => {
    const draft = draftFromOutline(picture, found([], []), 'drawn-line')!;
    expect(draft.doubtful).toBeUndefined();
    expect(draft.heed).toEqual([]);
  });
});
