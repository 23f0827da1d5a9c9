import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Picture } from '../../../src/exchange/photo/picture';
import { enclosedArea } from '../../../src/geometry/area';
import { coverage } from '../../support/photo/coverage';
import { framed, seenAt, tableAt, viewOf } from '../../support/photo/pinhole';
import { renderPhoto } from '../../support/photo/renderPhoto';
import { sampleOutline } from '../../support/photo/samplePieces';
import { type Camera, cleanOptics, plainLight, type Scene } from '../../support/photo/scene';
import { hand, polygon, shears } from '../../support/photo/shapes';
import { paperColours } from '../../support/photo/textures';

/*
 * The photographs that the reading of photographs is measured with are computed. These tests hold them to closed forms,
 * so that a mistake in them cannot pass for accuracy.
 */

const above: Camera = {
  width: 600,
  height: 800,
  focal: 1000,
  aim: { x: 110, y: 300 },
  distance: 1000,
  tilt: 0,
  tiltTowards: 0,
  roll: 0,
  lens: 0,
};

const empty: Scene = { table: 'plain', sheet: null, piece: null, clutter: [] };

/** Coded value to linear light, IEC 61966-2-1. */
function linear(code: number): number {
  const v = code / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
}

function greenAt({ width, data }: Picture, x: number, y: number): number {
  return linear(data[4 * (y * width + x) + 1]!);
}

describe('area a shape covers of each dot', () => {
  const points = fc.array(
    fc.tuple(fc.double({ min: 1, max: 19, noNaN: true }), fc.double({ min: 1, max: 14, noNaN: true })),
    {
      minLength: 3,
      maxLength: 3,
    },
  );

  it('adds up to the area of the triangle (shoelace)', () => {
    fc.assert(
      fc.property(points, ([a, b, c]) => {
        const area = Math.abs((b![0] - a![0]) * (c![1] - a![1]) - (c![0] - a![0]) * (b![1] - a![1])) / 2;
        const covered = coverage([Float64Array.from([...a!, ...b!, ...c!])], 20, 15);
        const sum = covered === null ? 0 : covered.data.reduce((total, share) => total + share, 0);
        expect(sum).toBeCloseTo(area, 4);
      }),
    );
  });

  it('is dot by dot what counting a fine grid gives, also where the shape leaves the picture', () => {
    const triangle = [-4.3, 2.1, 17.7, -3.4, 9.2, 13.6];
    const { left, top, width, height, data } = coverage([Float64Array.from(triangle)], 12, 9)!;
    expect([left, top, width, height]).toEqual([0, 0, 12, 9]);
    const inside = (x: number, y: number) => {
      const side = (i: number) => {
        const [ax, ay, bx, by] = [0, 1, 2, 3].map((k) => triangle[(2 * i + k) % 6]!);
        return (bx! - ax!) * (y - ay!) - (by! - ay!) * (x - ax!) > 0;
      };
      return side(0) === side(1) && side(1) === side(2);
    };
    const n = 50;
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        let count = 0;
        for (let i = 0; i < n * n; i++) if (inside(x + ((i % n) + 0.5) / n, y + (Math.floor(i / n) + 0.5) / n)) count++;
        expect(data[y * width + x]!).toBeCloseTo(count / (n * n), 1.8);
      }
    }
  });
});

describe('the pinhole', () => {
  it('foreshortens as similar triangles say', () => {
    const tilt = 0.5;
    for (const tiltTowards of [0, 1.1, 4]) {
      for (const roll of [0, 0.7]) {
        const camera = { ...above, tilt, tiltTowards, roll };
        const view = viewOf(camera);
        const [c, s] = [Math.cos(tiltTowards), Math.sin(tiltTowards)];
        for (const [along, across] of [
          [0, 0],
          [200, 0],
          [-150, 80],
          [0, -220],
        ] as const) {
          const at = { x: camera.aim.x + along * c - across * s, y: camera.aim.y + along * s + across * c };
          // The place lies `along` towards the camera: so much nearer to it, and seen under the cosine of the tilt.
          const depth = camera.distance - along * Math.sin(tilt);
          const towards = (camera.focal * along * Math.cos(tilt)) / depth;
          const aside = (camera.focal * across) / depth;
          const turn = tiltTowards - roll;
          const x = camera.width / 2 + towards * Math.cos(turn) - aside * Math.sin(turn);
          const y = camera.height / 2 + towards * Math.sin(turn) + aside * Math.cos(turn);
          const seen = seenAt(view, at);
          expect(Math.hypot(seen.x - x, seen.y - y)).toBeLessThan(1e-9);
        }
      }
    }
  });

  it('maps there and back to 1e-9 mm with a lens term of either sign, and barrel bulges a line outward', () => {
    for (const lens of [-0.03, 0.05]) {
      const view = viewOf({ ...above, tilt: 0.6, tiltTowards: 2, roll: 0.3, lens });
      for (const at of [above.aim, { x: -60, y: 20 }, { x: 300, y: 620 }]) {
        const seen = seenAt(view, at);
        const back = tableAt(view, seen.x, seen.y);
        expect(Math.hypot(back.x - at.x, back.y - at.y)).toBeLessThan(1e-9);
      }
      const straight = viewOf({ ...above, lens });
      const [end, middle] = [
        { x: 400, y: 0 },
        { x: 400, y: 300 },
      ].map((at) => seenAt(straight, at).x);
      expect(Math.sign(middle! - end!)).toBe(Math.sign(lens));
    }
  });

  it('frames what it is asked to', () => {
    const places = [
      { x: 0, y: 0 },
      { x: 500, y: 100 },
      { x: 200, y: 650 },
    ];
    const view = viewOf(framed({ ...above, tilt: 0.6, tiltTowards: 1, lens: 0.05 }, places, 0.05));
    const seen = places.map((place) => seenAt(view, place));
    const xs = seen.map(({ x }) => x);
    const ys = seen.map(({ y }) => y);
    const room = Math.min(...xs, ...ys, above.width - Math.max(...xs), above.height - Math.max(...ys));
    expect(room).toBeGreaterThan(29);
    expect(room).toBeLessThan(31);
  });
});

describe('the picture', () => {
  it('shows a piece at its true area: shares of light counted, against the exact area of its curves', () => {
    const path = sampleOutline('straight-skirt', 'front');
    const light = { ...plainLight };
    const options = { light, optics: cleanOptics, seed: 3 };
    const without = renderPhoto(empty, above, options).picture;
    const { picture, truth } = renderPhoto({ ...empty, piece: { path, look: { kind: 'white' } } }, above, options);
    expect(truth.outline).toBe(path);
    let dots = 0;
    for (let y = 0; y < above.height; y++) {
      for (let x = 0; x < above.width; x++) {
        const table = greenAt(without, x, y);
        dots += (greenAt(picture, x, y) - table) / (paperColours.white[1] - table);
      }
    }
    // A dot is one mm here. Coding to 256 steps and the paper's own unevenness (1 %) leave a few parts in a thousand.
    expect(Math.abs(dots / enclosedArea(path) - 1)).toBeLessThan(0.002);
  });

  it('crosses half of the linear light on the true edge, and half of the coded values where the normal law says', () => {
    const edge = 300.37;
    const blur = 1.2;
    const dark = polygon([
      { x: -300, y: -300 },
      { x: edge, y: -300 },
      { x: edge, y: 900 },
      { x: -300, y: 900 },
    ]);
    const thing = { path: dark, colour: [0, 0, 0] as const, thickness: 0, opacity: 1 };
    const ground = {
      path: polygon([
        { x: -400, y: -400 },
        { x: 900, y: -400 },
        { x: 900, y: 1200 },
        { x: -400, y: 1200 },
      ]),
      colour: [1, 1, 1] as const,
      thickness: 0,
      opacity: 1,
    };
    const camera = { ...above, aim: { x: 300, y: 400 } };
    const { picture } = renderPhoto({ ...empty, clutter: [ground, thing] }, camera, {
      light: plainLight,
      optics: { ...cleanOptics, blur },
      seed: 1,
    });
    const crossing = (value: (x: number) => number): number => {
      let x = 280;
      while (value(x) < 0.5) x++;
      return x - 0.5 + (0.5 - value(x - 1)) / (value(x) - value(x - 1));
    };
    expect(Math.abs(crossing((x) => greenAt(picture, x, 400)) - edge)).toBeLessThan(0.03);
    // Half of the coded range is 0.2140 of the light; the normal law reaches that 0.7926 standard deviations before the
    // edge (tables of the normal law). The dot's own box adds its variance of 1/12.
    const sigma = Math.sqrt(blur * blur + 1 / 12);
    const coded = crossing((x) => picture.data[4 * (400 * 600 + x) + 1]! / 255);
    expect(Math.abs(coded - (edge - 0.7926 * sigma))).toBeLessThan(0.03);
  });

  it('draws a pen line of the stated width along the outline', () => {
    const path = polygon([
      { x: 10, y: 100 },
      { x: 10, y: 500 },
      { x: 210, y: 500 },
      { x: 210, y: 100 },
    ]);
    const paper = { width: 500, height: 700, at: { x: -130, y: -50 }, angle: 0 };
    const drawn = (lineWidth: number) => {
      const look = { kind: 'pen', lineWidth, paper } as const;
      const options = { light: plainLight, optics: cleanOptics, seed: 1 };
      return renderPhoto({ ...empty, piece: { path, look } }, above, options).picture;
    };
    const picture = drawn(3);
    const blank = drawn(0.001);
    let ink = 0;
    let moment = 0;
    // The left side at x = 10 mm is seen at dot 200.
    for (let x = 180; x < 220; x++) {
      const share = 1 - greenAt(picture, x, 400) / greenAt(blank, x, 400);
      ink += share;
      moment += share * (x + 0.5);
    }
    expect(moment / ink).toBeCloseTo(200, 1);
    expect(Math.abs(ink / 3 - 0.93)).toBeLessThan(0.05);
  });

  it('has the noise it is asked for, and the same arguments give the same picture', () => {
    const piece = {
      path: polygon([
        { x: -300, y: -300 },
        { x: -300, y: 900 },
        { x: 600, y: 900 },
        { x: 600, y: -300 },
      ]),
      look: { kind: 'white' },
    } as const;
    const options = { light: plainLight, optics: { ...cleanOptics, noise: 0.02 }, seed: 5 };
    const { picture } = renderPhoto({ ...empty, piece }, above, options);
    let sum = 0;
    let squares = 0;
    const n = 200 * 200;
    // Differences of neighbours: the paper's own unevenness is smooth and drops out.
    for (let y = 300; y < 500; y++) {
      for (let x = 200; x < 400; x++) {
        const d = greenAt(picture, x, y) - greenAt(picture, x + 1, y);
        sum += d;
        squares += d * d;
      }
    }
    const deviation = Math.sqrt((squares - (sum * sum) / n) / n / 2);
    expect(deviation / (0.02 * Math.sqrt(paperColours.white[1]))).toBeGreaterThan(0.95);
    expect(deviation / (0.02 * Math.sqrt(paperColours.white[1]))).toBeLessThan(1.05);
    expect(renderPhoto({ ...empty, piece }, above, options).picture.data).toEqual(picture.data);
    expect(renderPhoto({ ...empty, piece }, above, { ...options, seed: 6 }).picture.data).not.toEqual(picture.data);
  });

  it('comes through JPEG at every quality with its size, and the worse the quality the more it differs', () => {
    const scene: Scene = {
      table: 'cloth',
      sheet: { width: 210, height: 297, at: { x: 0, y: 50 }, angle: 0.1 },
      piece: null,
      clutter: [...shears({ x: 100, y: 420 }, 1), hand({ x: 250, y: 600 }, 0)],
    };
    const light = { ...plainLight, vignette: 0.3, slope: 0.3, shadow: 0.4, paperShadow: 1 };
    const shot = (jpeg: number | null) =>
      renderPhoto(scene, { ...above, tilt: 0.3 }, { light, optics: { ...cleanOptics, blur: 0.7, jpeg }, seed: 1 })
        .picture;
    const whole = shot(null);
    const off = [95, 60].map((quality) => {
      const picture = shot(quality);
      expect([picture.width, picture.height]).toEqual([600, 800]);
      let squares = 0;
      picture.data.forEach((value, i) => {
        squares += (value - whole.data[i]!) ** 2;
      });
      return Math.sqrt(squares / picture.data.length);
    });
    expect(off[0]!).toBeGreaterThan(0.3);
    expect(off[0]!).toBeLessThan(4);
    expect(off[1]!).toBeGreaterThan(1.5 * off[0]!);
    expect(off[1]!).toBeLessThan(12);
  });
});
