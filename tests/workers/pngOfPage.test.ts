import { crc32, deflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { readPictureHeader } from '../../src/exchange/pictureFile';
import { withDensity } from '../../src/workers/pngOfPage';
import { granted } from '../support/outcomes';

/** A chunk of a PNG, its check sum by zlib. */
function chunk(name: string, data: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const whole = Buffer.alloc(body.length + 8);
  whole.writeUInt32BE(data.length, 0);
  body.copy(whole, 4);
  whole.writeUInt32BE(crc32(body), body.length + 4);
  return whole;
}

const size = Buffer.from([0, 0, 0, 2, 0, 0, 0, 1, 8, 2, 0, 0, 0]);
const plain = Buffer.concat([
  Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
  chunk('IHDR', size),
  chunk('IDAT', deflateSync(Buffer.from([0, 1, 2, 3, 4, 5, 6]))),
  chunk('IEND', new Uint8Array()),
]);

describe('the density written into a picture of a page', () => {
  it('stands behind the header with the check sum zlib gives', () => {
    const dense = withDensity(plain, 300 / 25.4, 200 / 25.4);
    const data = Buffer.alloc(9);
    data.writeUInt32BE(11811, 0);
    data.writeUInt32BE(7874, 4);
    data[8] = 1;
    const expected = Buffer.concat([plain.subarray(0, 33), chunk('pHYs', data), plain.subarray(33)]);
    expect(Buffer.from(dense).equals(expected)).toBe(true);
  });

  it('is read back when the picture is opened', () => {
    const { dotsPerMm, width, height } = granted(readPictureHeader(withDensity(plain, 300 / 25.4, 300 / 25.4)));
    expect([width, height]).toEqual([2, 1]);
    expect(dotsPerMm!.x).toBeCloseTo(300 / 25.4, 3);
    expect(dotsPerMm!.y).toBeCloseTo(300 / 25.4, 3);
  });
});
