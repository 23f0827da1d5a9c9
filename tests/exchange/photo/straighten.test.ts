import { describe, expect, it } from 'vitest';
import type { Picture } from '../../../src/exchange/photo/picture';
import type { PictureView, Quad } from '../../../src/exchange/photo/pictureView';
import { expectedError, type Reference, type Straightened, straighten } from '../../../src/exchange/photo/straighten';
import { toTable } from '../../../src/exchange/photo/viewPoint';
import type { Outcome } from '../../../src/geometry/outcome';
import { distance, type Point } from '../../../src/geometry/point';
import { outwardShift, paperBulge } from '../../../src/geometry/tolerance';
import { framed, seenAt, viewOf } from '../../support/photo/pinhole';
import { bellFrom, type Look, photograph, type Sheet } from '../../support/photo/plainSheet';
import { throughJpeg } from '../../support/photo/sensor';

/** A4 at one end of a table part of 700 by 340 mm, as it lies beside a long piece. */
const a4: Sheet = { x: 0, y: 0, width: 210, height: 297, colour: [0.8, 0.8, 0.78] };
const room = [
  { x: -15, y: -15 },
  { x: 715, y: -15 },
  { x: 715, y: 325 },
  { x: -15, y: 325 },
];
const far = [
  { x: 700, y: 0 },
  { x: 700, y: 320 },
  { x: 450, y: 160 },
  { x: 0, y: 0 },
  { x: 210, y: 297 },
];
const wood: Look = { table: [0.25, 0.14, 0.07], blur: 0.8, noise: 3, seed: 1 };

interface Shot {
  readonly tilt?: number;
  readonly towards?: number;
  readonly lens?: number;
  readonly width?: number;
  readonly sheet?: Sheet;
  readonly look?: Look;
}

function viewFor(shot: Shot): PictureView {
  const width = shot.width ?? 1400;
  const height = Math.round(width * 0.75);
  const camera = { width, height, focal: 0.77 * width, roll: 0.05, lens: shot.lens ?? 0 };
  return viewOf(framed({ ...camera, tilt: shot.tilt ?? 0.35, tiltTowards: shot.towards ?? 1 }, room));
}

function shoot(shot: Shot): { picture: Picture; view: PictureView; corners: Quad } {
  const view = viewFor(shot);
  const sheet = shot.sheet ?? a4;
  return { picture: photograph(view, [sheet], shot.look ?? wood), view, corners: cornersOf(view, sheet) };
}

function cornersOf(view: PictureView, sheet: Sheet): Quad {
  const { x, y, width, height } = sheet;
  return [
    seenAt(view, { x, y }),
    seenAt(view, { x: x + width, y }),
    seenAt(view, { x: x + width, y: y + height }),
    seenAt(view, { x, y: y + height }),
  ];
}

/** Corners as a hand sets them: up to 8 dots off. */
function roughly(corners: Quad): Quad {
  const off = [
    [5, -6],
    [-4, 5],
    [6, 4],
    [-6, -5],
  ];
  return corners.map((p, i) => ({ x: p.x + off[i]![0]!, y: p.y + off[i]![1]! })) as unknown as Quad;
}

const sheetOf = (corners: Quad, width = 210, height = 297): Reference => ({ kind: 'sheet', width, height, corners });

function value<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`${outcome.code}: ${outcome.sentence}`);
  return outcome.value;
}

const errorAt = (s: Straightened, view: PictureView, at: Point): number =>
  distance(toTable(s.view, seenAt(view, at)), at);

describe('straightening on a sheet', () => {
  it.each([
    ['from straight above', { tilt: 0 }],
    ['tilted 35 degrees', { tilt: 0.61, towards: 2 }],
    ['through a lens that bulges lines', { lens: 0.05, towards: 4 }],
    ['through a lens that pinches lines', { lens: -0.04 }],
    ['out of focus', { look: { ...wood, blur: 2.5 } }],
    [
      'on a dark table in uneven light',
      { look: { ...wood, table: [0.03, 0.03, 0.04], light: (x: number) => 0.5 + x / 1500 } },
    ],
  ] as const)('places the table %s, from corners set up to 8 dots off', (_, shot) => {
    const { picture, view, corners } = shoot(shot);
    const s = value(straighten(picture, sheetOf(roughly(corners))));
    for (const p of far) expect(errorAt(s, view, p)).toBeLessThan(0.25);
    const seen = [far[0]!, far[3]!].map((p) => toTable(s.view, seenAt(view, p)));
    expect(Math.abs(distance(seen[0]!, seen[1]!) / 700 - 1)).toBeLessThan(0.0005);
    expect(s.lensKnown).toBe(true);
    expect(s.view.lens).toBeCloseTo('lens' in shot ? shot.lens : 0, 2.5);
    for (const [i, p] of s.corners.entries()) expect(distance(p, corners[i]!)).toBeLessThan(0.25);
  });

  it('keeps its accuracy through a JPEG file of quality 70', () => {
    const { picture, view, corners } = shoot({ lens: 0.03, width: 2048 });
    const s = value(straighten(throughJpeg(picture, 70), sheetOf(roughly(corners))));
    for (const p of far) expect(errorAt(s, view, p)).toBeLessThan(0.35);
  });

  it('follows the edges of a sheet that fills the picture through a strong lens', () => {
    const camera = { width: 2048, height: 1536, focal: 1577, roll: 0.02, lens: 0.05, tilt: 0.1, tiltTowards: 1 };
    const a3: Sheet = { ...a4, width: 420, height: 297 };
    const around = [
      { x: -15, y: -15 },
      { x: 435, y: -15 },
      { x: 435, y: 312 },
      { x: -15, y: 312 },
    ];
    const view = viewOf(framed(camera, around));
    const s = value(straighten(photograph(view, [a3], wood), sheetOf(roughly(cornersOf(view, a3)), 420, 297)));
    for (const p of around) expect(errorAt(s, view, p)).toBeLessThan(0.1);
  });

  it('leaves out a stretch of an edge that something covers', () => {
    const { picture, view, corners } = shoot({});
    const covered = photograph(view, [a4, { x: 150, y: 100, width: 90, height: 60, colour: [0.3, 0.1, 0.1] }], wood);
    const open = value(straighten(picture, sheetOf(corners)));
    const s = value(straighten(covered, sheetOf(roughly(corners))));
    for (const [i, p] of open.corners.entries()) expect(distance(p, s.corners[i]!)).toBeLessThan(0.1);
  });

  it('reads an edge that shows in colour only', () => {
    // Red and green chosen so that their brightness is the same (ITU-R BT.709 weights).
    const look: Look = { ...wood, table: [0.6, 0.15, 0.2] };
    const sheet: Sheet = { ...a4, colour: [0.1, 0.2987, 0.2] };
    const { picture, view, corners } = shoot({ sheet, look });
    const s = value(straighten(picture, sheetOf(roughly(corners))));
    for (const p of far) expect(errorAt(s, view, p)).toBeLessThan(0.4);
  });
});

describe('the expected error', () => {
  it('holds 90 to 99.5 % of true errors when camera, paper and tone curve err as assumed', () => {
    let within = 0;
    let all = 0;
    for (let run = 0; run < 30; run++) {
      const bell = bellFrom(100 + run);
      const blur = 0.6 + 0.2 * (run % 4);
      const shot = { tilt: 0.15 * (run % 5), towards: run, lens: 0.02 * ((run % 5) - 2), width: 900 };
      const view = viewFor(shot);
      // mm to a dot about the sheet: the assumed outward move of the edges is one in dots.
      const mm = distance(toTable(view, { x: 300, y: 300 }), toTable(view, { x: 301, y: 300 }));
      const out = outwardShift * Math.hypot(blur, 0.29) * mm * bell();
      const sheet: Sheet = {
        ...a4,
        x: -out,
        y: -out,
        width: 210 + 2 * out,
        height: 297 + 2 * out,
        bulge: [paperBulge * bell(), paperBulge * bell(), paperBulge * bell(), paperBulge * bell()],
      };
      const picture = photograph(view, [sheet], { ...wood, blur, noise: 2 + (run % 3), seed: run });
      const s = value(straighten(picture, sheetOf(cornersOf(view, a4))));
      for (const p of far) {
        all++;
        if (errorAt(s, view, p) <= expectedError(s, p)) within++;
      }
    }
    const share = within / all;
    expect(share).toBeGreaterThan(0.9);
    expect(share).toBeLessThan(0.995);
  }, 30_000);

  it('grows away from the sheet', () => {
    const { picture, corners } = shoot({});
    const s = value(straighten(picture, sheetOf(corners)));
    const errors = [105, 300, 500, 700].map((x) => expectedError(s, { x, y: 150 }));
    for (let i = 1; i < errors.length; i++) expect(errors[i]!).toBeGreaterThan(errors[i - 1]!);
  });

  it('counts the usual lens in when a small sheet in the middle cannot show it', () => {
    const card: Sheet = { x: 300, y: 120, width: 85.6, height: 53.98, colour: [0.8, 0.8, 0.8] };
    const { picture, view, corners } = shoot({ sheet: card, lens: 0.04, tilt: 0 });
    const s = value(straighten(picture, sheetOf(corners, card.width, card.height)));
    expect(s.notes.length > 0).toBe(!s.lensKnown);
    const corner = { x: 690, y: 310 };
    const own = distance(toTable(s.view, seenAt(view, corner)), { x: corner.x - 300, y: corner.y - 120 });
    expect(own).toBeLessThan(expectedError(s, { x: corner.x - 300, y: corner.y - 120 }));
  });
});

describe('a sheet that is refused', () => {
  const { picture, view, corners } = shoot({ tilt: 0.15, width: 1200 });
  const code = (reference: Reference, of: Picture = picture): string => {
    const outcome = straighten(of, reference);
    return outcome.ok ? 'accepted' : outcome.code;
  };

  it('has another shape than the size given', () => {
    const letter = straighten(picture, sheetOf(corners, 215.9, 279.4));
    expect(letter.ok ? '' : letter.code).toBe('photo-wrong-shape');
    expect(letter.ok ? '' : letter.sentence).toContain('A sizes');
    const turned = straighten(picture, sheetOf(corners, 297, 210));
    expect(turned.ok ? '' : turned.sentence).toContain('quarter');
    expect(code(sheetOf(corners, 210, 260))).toBe('photo-wrong-shape');
    expect(code(sheetOf(corners))).toBe('accepted');
  });

  it('is not where the corners were set', () => {
    const beside = corners.map(({ x, y }) => ({ x: x + 300, y })) as unknown as Quad;
    const outcome = straighten(picture, sheetOf(beside));
    expect(outcome.ok ? '' : outcome.code).toBe('photo-edge-not-found');
    expect(outcome.ok ? '' : outcome.sentence).toMatch(/The (left|right|upper|lower) edge/);
  });

  it('has crossed, outside or unbelievable corners, or fills too little', () => {
    const [a, b, c, d] = corners;
    expect(code(sheetOf([a, c, b, d]))).toBe('photo-corners-crossed');
    expect(code(sheetOf([d, c, b, a]))).toBe('photo-corners-crossed');
    expect(code(sheetOf([{ x: -5, y: 3 }, b, c, d]))).toBe('photo-corner-outside');
    expect(code(sheetOf([{ x: Number.NaN, y: 3 }, b, c, d]))).toBe('photo-corner-outside');
    expect(code(sheetOf(corners, Number.NaN, 297))).toBe('photo-size-unbelievable');
    expect(code(sheetOf(corners, 210, 29_700))).toBe('photo-size-unbelievable');
    const small = corners.map(({ x, y }) => ({ x: 600 + x / 10, y: 600 + y / 10 })) as unknown as Quad;
    expect(code(sheetOf(small))).toBe('photo-sheet-small');
  });

  it('does not lie flat', () => {
    const curled = photograph(view, [{ ...a4, bulge: [0, 1.5, 0, 0] }], wood);
    expect(code(sheetOf(corners), curled)).toBe('photo-sheet-not-flat');
  });
});

describe('without a sheet', () => {
  it('takes four clicked points as they are', () => {
    const { picture, view } = shoot({});
    const mat: Sheet = { ...a4, width: 600, height: 300 };
    const s = value(straighten(picture, { kind: 'points', width: 600, height: 300, corners: cornersOf(view, mat) }));
    for (const p of far) expect(errorAt(s, view, p)).toBeLessThan(1e-6);
    expect(s.lensKnown).toBe(false);
    // A click is good to 0.7 dot; 95 % of a Gaussian in the plane lies within 2.45 deviations.
    const mm = distance(toTable(view, { x: 300, y: 300 }), toTable(view, { x: 301, y: 300 }));
    expect(expectedError(s, { x: 300, y: 150 })).toBeGreaterThan(0.5 * mm);
  });

  it('takes the scale of a scan, unequal both ways, and refuses what no scanner does', () => {
    const picture = { width: 200, height: 100, data: new Uint8ClampedArray(80_000) };
    const s = value(straighten(picture, { kind: 'scan', mmPerDotX: 0.1, mmPerDotY: 0.05 }));
    expect(toTable(s.view, { x: 100, y: 100 })).toEqual({ x: 10, y: 5 });
    expect(expectedError(s, { x: 20, y: 5 })).toBeLessThan(0.001 * 3 * 20);
    for (const [x, y] of [
      [0, 0.1],
      [0.1, Number.NaN],
      [5, 5],
      [0.1, 0.9],
    ] as const) {
      expect(straighten(picture, { kind: 'scan', mmPerDotX: x, mmPerDotY: y }).ok).toBe(false);
    }
  });
});
