import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { pathEnd, pathLength, pathStart } from '../../src/geometry/path';
import { distance } from '../../src/geometry/point';
import { activePieceOf, pieceOf } from '../../src/gestures/scene';
import { defaultTrue } from '../../src/operations/true';
import type { FanStep } from '../../src/pattern/recipe';
import type { Drawing, Fill, Stroke } from '../../src/render/drawing';
import { pieceDrawing } from '../../src/render/pieceDrawing';
import { sampleGarment, TableDriver } from '../gestures/tableDriver';
import { must } from '../support/testStore';

/** The straight skirt, some of its front dart closed; its dart is 20 mm wide and 100 mm long, 500 mm above the hem. */
function closed(share: number, slashes: readonly number[] = []): TableDriver {
  const driver = new TableDriver({ garment: { ...sampleGarment('straight-skirt'), unit: 'mm', versions: [] } });
  must(driver.store.commands.startVersion('Flared'));
  must(driver.store.commands.closeDart('front', 'waist-dart', share));
  if (slashes.length > 0) {
    const fan: FanStep = {
      kind: 'fan',
      centre: 'centre-front',
      hem: 'hem',
      side: 'side',
      fullness: null,
      slashes: slashes.map((across, index) => ({
        id: `s${index}`,
        across,
        tilt: 0,
        opening: { measure: 'chord', hem: 30, far: 0 },
      })),
      centreRule: 'parallel',
      sideTurn: 0,
    };
    must(driver.store.commands.setFan('front', fan));
  }
  driver.store.actions.pickPiece('front');
  driver.store.actions.goTo('fan');
  return driver;
}

const drawn = ({ scene }: TableDriver) => pieceDrawing(pieceOf(scene, 'front')!, scene);
const fills = ({ shapes }: Drawing, ink: string) =>
  shapes.filter((shape): shape is Fill => shape.kind === 'fill' && shape.ink === ink);
const strokes = ({ shapes }: Drawing) => shapes.filter((shape): shape is Stroke => shape.kind === 'stroke');
const washed = (drawing: Drawing) =>
  fills(drawing, 'accent-wash')
    .at(-1)!
    .paths.reduce((sum, path) => sum + Math.abs(enclosedArea(path)), 0);

/** Angle of the whole dart and the length of the slash below it (arithmetic from the draft of the sample). */
const angle = 2 * Math.atan(10 / 100);
const radius = 600 - 99.95492121254975;

describe('what is drawn of a closed dart', () => {
  it('R36 the wedge below it is washed: r^2 sin(share angle) / 2', () => {
    for (const share of [0.3, 1]) {
      expect(washed(drawn(closed(share)))).toBeCloseTo((radius ** 2 * Math.sin(share * angle)) / 2, 0);
    }
  });

  it('R36 slash lines through the wedge part it and lose none of it', () => {
    const parted = drawn(closed(1, [0.48, 0.56]));
    expect(fills(parted, 'accent-wash').at(-1)!.paths.length).toBeGreaterThan(1);
    expect(washed(parted)).toBeCloseTo((radius ** 2 * Math.sin(angle)) / 2, 0);
  });

  it('R36 its sides are as long as the slash, the legs lie dashed where they were, and meet in one line once it is closed', () => {
    for (const share of [0.5, 1]) {
      const driver = closed(share);
      const drawing = drawn(driver);
      const [view] = activePieceOf(driver.scene)!.fanned!.closed!.darts;
      const sides = strokes(drawing).find(
        ({ ink, paths }) => ink === 'accent' && paths.length === 2 && Math.abs(pathLength(paths[0]!) - radius) < 0.01,
      )!;
      expect(sides.paths.map((path) => pathLength(path))).toEqual([
        expect.closeTo(radius, 2),
        expect.closeTo(radius, 2),
      ]);
      expect(distance(pathEnd(sides.paths[0]!), pathEnd(sides.paths[1]!))).toBeCloseTo(view!.opening, 6);
      const legs = strokes(drawing).find(({ dash, ink }) => dash !== undefined && ink === 'ink-soft')!;
      const { darts } = pieceOf(driver.scene, 'front')!.block;
      expect([pathStart(legs.paths[0]!), pathEnd(legs.paths[0]!)]).toEqual([darts[0]!.legs[0], darts[0]!.legs[1]]);
      const seams = strokes(drawing).filter(
        ({ dash, ink, paths }) =>
          dash === undefined && ink === 'ink-soft' && distance(pathStart(paths[0]!), darts[0]!.apex) < 1e-6,
      );
      expect(seams).toHaveLength(share === 1 ? 1 : 0);
    }
  });

  it('R36 its measure stands clear of that of a slash line, wherever their middles fall', () => {
    const labels = drawn(closed(1, [0.3, 0.5])).labels.filter(({ ink }) => ink === 'accent');
    expect(labels.map(({ text }) => text)).toEqual(['30.0', '30.0', '99.5']);
    const [first, second, dart] = labels;
    const out = (label: typeof first) => Math.hypot(label!.shift![0], label!.shift![1] - 4);
    expect(out(first)).toBeCloseTo(out(second), 9);
    // One line of words of 12 px lies between them.
    expect(out(dart) - out(second)).toBeGreaterThanOrEqual(1.4 * dart!.size);
    expect(dart!.crowd!.name).not.toBe(second!.crowd!.name);
  });
});

describe('what is drawn of it once it is trued', () => {
  it('R36 the waist drawn anew stands in the accent over the one that was cut', () => {
    const driver = closed(1);
    for (const dartEdges of ['smooth', 'keep'] as const) {
      must(driver.store.commands.setTrue('front', { ...defaultTrue(), dartEdges }));
      driver.store.actions.goTo('true');
      const drawing = drawn(driver);
      const { worked, fanned } = activePieceOf(driver.scene)!;
      const waist = worked.piece.edges.find(({ id }) => id === 'waist')!.path;
      const cut = fanned!.edges.find(({ id }) => id === 'waist')!.segments.map(({ segment }) => segment);
      const accent = strokes(drawing).find(({ ink, paths }) => ink === 'accent' && paths.includes(waist));
      const under = strokes(drawing).find(
        ({ ink, paths }) => ink === 'ink-soft' && paths[0]!.length === cut.length && paths[0]![0] === cut[0],
      );
      expect([accent !== undefined, under !== undefined]).toEqual(
        dartEdges === 'smooth' ? [true, true] : [false, false],
      );
    }
  });
});
