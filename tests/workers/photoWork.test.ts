import { describe, expect, it } from 'vitest';
import type { Picture } from '../../src/exchange/photo/picture';
import type { PictureView } from '../../src/exchange/photo/pictureView';
import { succeed } from '../../src/geometry/outcome';
import { stayPut, turnAbout } from '../../src/geometry/rigidMove';
import { line, type Path } from '../../src/geometry/segment';
import { drawOutline } from '../../src/workers/drawOutline';
import { joinedPart } from '../../src/workers/flatPart';
import type { Progress } from '../../src/workers/messages';
import { createPhotoWork } from '../../src/workers/photoWork';
import { must } from '../support/testStore';

/** A scan at so many dots to the mm. */
function scan(width: number, height: number, dotsPerMm: number): PictureView {
  const mm = 1 / dotsPerMm;
  return { width, height, lens: 0, homography: [mm, 0, 0, 0, mm, 0, 0, 0, 1] };
}

describe('the part of the table that is laid flat', () => {
  it('is all of a scan, as finely as it was scanned', () => {
    const { part, dotsPerMm } = joinedPart([{ view: scan(400, 600, 2), move: stayPut }], 1e9);
    expect(part).toEqual({ minX: 0, minY: 0, maxX: 200, maxY: 300 });
    expect(dotsPerMm).toBeCloseTo(2, 9);
  });

  it('is made no finer than memory allows', () => {
    const { part, dotsPerMm } = joinedPart([{ view: scan(4000, 6000, 20), move: stayPut }], 1e6);
    const { minX, minY, maxX, maxY } = part;
    expect((maxX - minX) * (maxY - minY) * dotsPerMm ** 2).toBeCloseTo(1e6, 0);
  });

  it('follows a turn of the picture, and takes in every picture', () => {
    const view = scan(400, 600, 2);
    const turned = joinedPart([{ view, move: turnAbout({ x: 0, y: 0 }, Math.PI / 2) }], 1e9).part;
    expect(turned.minX).toBeCloseTo(-300, 6);
    expect(turned.maxY).toBeCloseTo(200, 6);
    const both = joinedPart(
      [
        { view, move: stayPut },
        { view, move: { ...stayPut, ty: 250 } },
      ],
      1e9,
    ).part;
    expect(both.maxY).toBeCloseTo(550, 6);
  });

  it('leaves the far part of a slanting picture out, and everything beyond the horizon', () => {
    // The scale falls with the distance: w = 1 - y / 1000 is nothing at the horizon, 1000 dots down.
    const view: PictureView = { width: 800, height: 1200, lens: 0, homography: [1, 0, 0, 0, 1, 0, 0, -1 / 1000, 1] };
    const { maxY } = joinedPart([{ view, move: stayPut }], 1e9).part;
    expect(Number.isFinite(maxY)).toBe(true);
    expect(maxY).toBeGreaterThan(900);
    expect(maxY).toBeLessThan(1e4);
  });
});

describe('an outline of many small steps', () => {
  it('is drawn with few, within the first allowance that does it, and never across itself', () => {
    const corners = [
      [0, 0],
      [0, 600],
      [240, 600],
      [240, 0],
    ] as const;
    const noise = (i: number) => 0.09 * Math.sin(i * 12.9898 + Math.sin(i * 78.233) * 437);
    const points = corners.flatMap(([x, y], k) => {
      const [nx, ny] = corners[(k + 1) % 4]!;
      const steps = Math.round(Math.hypot(nx - x, ny - y));
      const across = x === nx ? [1, 0] : [0, 1];
      return Array.from({ length: steps }, (_, i) => ({
        x: x + ((nx - x) * i) / steps + (i === 0 ? 0 : noise(i + 1000 * k) * across[0]!),
        y: y + ((ny - y) * i) / steps + (i === 0 ? 0 : noise(i + 1000 * k) * across[1]!),
      }));
    });
    const trace: Path = points.map((p, i) => line(p, points[(i + 1) % points.length]!));
    const drawn = drawOutline(trace);
    expect(drawn.corners).toHaveLength(4);
    expect(drawn.path.length).toBeLessThan(40);
    expect(drawn.sentence).toContain('small steps were drawn as');
  });
});

describe('work on pictures', () => {
  const picture: Picture = { width: 40, height: 30, data: new Uint8ClampedArray(40 * 30 * 4).fill(200) };

  function worker() {
    let read = 0;
    const work = createPhotoWork({
      decode: async () => {
        read++;
        return succeed({ picture, stated: null });
      },
      show: async () => ({ full: null, small: null }),
    });
    return { work, read: () => read };
  }

  it('reads a picture once however often it is asked about, and tells how far it is', async () => {
    const { work, read } = worker();
    const told: Progress[] = [];
    const file = { id: 'a', file: new Blob() };
    for (let i = 0; i < 3; i++) must(await work({ kind: 'open', picture: file }, (progress) => told.push(progress)));
    expect(read()).toBe(1);
    expect(told.length).toBeGreaterThanOrEqual(6);
    for (const { share, doing } of told) {
      expect(share).toBeGreaterThanOrEqual(0);
      expect(share).toBeLessThanOrEqual(1);
      expect(doing.length).toBeGreaterThan(5);
    }
  });

  it('lets go of pictures that are no longer asked about', async () => {
    const { work, read } = worker();
    for (const id of ['a', 'b', 'a']) must(await work({ kind: 'open', picture: { id, file: new Blob() } }, () => {}));
    expect(read()).toBe(3);
  });

  it('answers a question without a picture with a sentence', async () => {
    const answer = await worker().work({ kind: 'join', parts: [] }, () => {});
    expect(answer).toMatchObject({ ok: false, code: 'no-picture' });
  });
});
