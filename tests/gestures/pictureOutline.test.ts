import { describe, expect, it } from 'vitest';
import { cubic, line, type Path } from '../../src/geometry/segment';
import { chosenDraftSpot, draftSpots, nextDraftSpot, nudgeDraftNode } from '../../src/gestures/draftNodes';
import { tablePoint } from '../../src/gestures/frames';
import type { BringInDraft } from '../../src/store/bringIn';
import { type FlatLaid, type PictureDraft, startPicture } from '../../src/store/pictureDraft';
import { must } from '../support/testStore';
import { sampleGarment, TableDriver } from './tableDriver';

const p = (x: number, y: number) => ({ x, y });

/** A closed outline with one curved side: up the right, smooth at its middle. */
const path: Path = [
  line(p(0, 0), p(0, 300)),
  line(p(0, 300), p(200, 300)),
  cubic(p(200, 300), p(240, 250), p(230, 200), p(220, 150)),
  cubic(p(220, 150), p(210, 100), p(200, 50), p(200, 0)),
  line(p(200, 0), p(0, 0)),
];

const draft: BringInDraft = {
  source: 'front.jpg',
  name: 'Front',
  shapes: [{ id: 'outline', name: 'Outline', path, closed: true }],
  outline: 'outline',
  path,
  corners: [0, 1, 2, 4].map((segment) => ({ segment, t: 0, name: `Edge ${segment}`, role: 'other' as const })),
  scale: { kind: 'certain', sentence: '' },
  takenFrom: 'flat',
};

const flat: FlatLaid = { id: 'flat', origin: p(-100, -100), dotsPerMm: 2, width: 1000, height: 1200 };
const onPicture: PictureDraft = {
  ...startPicture({
    id: 'picture',
    source: 'front.jpg',
    width: 1200,
    height: 900,
    stated: null,
    sheets: [],
    beside: { kind: 'a4', width: 210, height: 297 },
    corners: [],
    straight: null,
  }),
  stage: 'outline',
  flat,
};

function lain(zoom = 1): TableDriver {
  const driver = new TableDriver({ zoom });
  driver.store.actions.goTo('bring-in');
  driver.bringIn.actions.layDraft(draft);
  return driver;
}

const now = (driver: TableDriver) => driver.bringIn.getState().draft!;

function isClosed(outline: Path): boolean {
  return outline.every((segment, i) => {
    const next = outline[(i + 1) % outline.length]!;
    return segment.end.x === next.start.x && segment.end.y === next.start.y;
  });
}

describe('correcting a proposed outline by dragging', () => {
  it.each([0.5, 1, 4])(
    'a point is moved at %f px/mm, curves follow, the outline stays closed and its edges named',
    (zoom) => {
      const driver = lain(zoom);
      driver.drag(tablePoint(220, 150), tablePoint(228, 155));
      const moved = now(driver).path!;
      expect(moved[3]!.start.x).toBeCloseTo(228, 6);
      expect(moved[2]!.end.y).toBeCloseTo(155, 6);
      expect(moved[2]).toMatchObject({ kind: 'cubic', control1: p(240, 250) });
      expect(isClosed(moved)).toBe(true);
      expect(now(driver).corners).toEqual(draft.corners);
      expect(driver.steps).toBe(0);
    },
  );

  it('the first point moves the last edge too', () => {
    const driver = lain();
    driver.drag(tablePoint(0, 0), tablePoint(-9, -4));
    expect(isClosed(now(driver).path!)).toBe(true);
    expect(now(driver).path!.at(-1)!.end).toEqual(now(driver).path![0]!.start);
  });

  it('shows the curve handles of the chosen point alone; at a smooth point both turn together', () => {
    const driver = lain();
    expect(draftSpots(now(driver)).filter(({ stem }) => stem !== null)).toHaveLength(0);
    driver.tap(tablePoint(220, 150));
    const handles = draftSpots(now(driver)).filter(({ stem }) => stem !== null);
    expect(handles.map(({ at }) => at)).toEqual([p(230, 200), p(210, 100)]);
    driver.drag(tablePoint(230, 200), tablePoint(220, 200));
    const [, , arriving, leaving] = now(driver).path!;
    expect(arriving).toMatchObject({ control2: { x: expect.closeTo(220, 6) } });
    expect(leaving).toMatchObject({
      control1: { x: expect.closeTo(220, 6), y: expect.closeTo(150 - Math.hypot(10, 50), 6) },
    });
  });

  it('Escape and a cancelled pointer put it back', () => {
    for (const end of ['key', 'cancel'] as const) {
      const driver = lain();
      driver.press(tablePoint(220, 150));
      driver.move(tablePoint(260, 190));
      expect(now(driver).path).not.toEqual(path);
      if (end === 'key') driver.key('Escape');
      else driver.cancel();
      expect(now(driver).path).toEqual(path);
    }
  });

  it('is walked and moved by keys, and left past the last point', () => {
    let walked = draft;
    const names: string[] = [];
    for (let spot = nextDraftSpot(walked, false); spot !== null; spot = nextDraftSpot(walked, false)) {
      names.push(spot.name);
      walked = { ...walked, node: spot.node };
      if (names.length > 20) break;
    }
    expect(names.filter((name) => name.startsWith('Point'))).toEqual([
      'Point 1',
      'Point 2',
      'Point 3',
      'Point 4',
      'Point 5',
    ]);
    const chosen = { ...draft, node: { segment: 1, handle: null } };
    expect(chosenDraftSpot(nudgeDraftNode(chosen, 1, 0, false))!.at.x).toBeCloseTo(0.1, 9);
    expect(chosenDraftSpot(nudgeDraftNode(chosen, 0, -1, true))!.at.y).toBeCloseTo(299, 9);
  });

  it('over a picture a point is caught by the line it comes near to; Alt lets it go anywhere', () => {
    const driver = lain();
    driver.bringIn.actions.layPicture(onPicture);
    driver.bringIn.actions.layDraft(draft);
    // A drawn line 6 mm right of the outline's right side.
    driver.seeLine = (at, reach) =>
      Math.abs(at.x - 226) <= reach ? { at: p(226, at.y), word: 'on the drawn line' } : null;
    driver.drag(tablePoint(220, 150), tablePoint(223, 150));
    expect(now(driver).path![3]!.start).toEqual(p(226, 150));
    driver.drag(tablePoint(226, 150), tablePoint(221, 150), { alt: true });
    expect(now(driver).path![3]!.start.x).toBeCloseTo(221, 6);
  });

  it('as a piece in Mark it is caught in the same way, while the picture lies under it', () => {
    const driver = new TableDriver({ garment: { ...sampleGarment('straight-skirt'), versions: [] } });
    const block = driver.store.getState().garment!.blocks[0]!;
    must(driver.store.commands.addPiece({ ...block, id: 'traced', locked: false }));
    driver.bringIn.actions.layPicture(onPicture);
    driver.bringIn.actions.layDraft(draft);
    driver.bringIn.actions.leaveUnder('traced');
    driver.bringIn.actions.layDraft(null);
    driver.store.actions.goTo('mark');
    const edge = block.edges[0]!;
    const node = driver.handle({ kind: 'node', piece: 'traced', edge: edge.id, segment: 0 });
    const own = edge.path[0]!.start;
    const seen: { x: number; y: number }[] = [];
    driver.seeLine = (at) => {
      seen.push(at);
      return { at: p(own.x + 4, own.y), word: 'on the edge' };
    };
    driver.drag(node, { across: node.across + 5, down: node.down });
    const moved = driver.store.getState().garment!.blocks.find(({ id }) => id === 'traced')!;
    expect(moved.edges[0]!.path[0]!.start).toEqual(p(own.x + 4, own.y));
    // It was asked in the piece's own frame, which is the picture's.
    expect(seen.at(-1)!.x).toBeCloseTo(own.x + 5, 6);
    expect(seen.at(-1)!.y).toBeCloseTo(own.y, 6);
  });

  it('is not done with another tool in hand', () => {
    const driver = lain();
    driver.store.actions.pickTool('corner');
    driver.drag(tablePoint(220, 150), tablePoint(228, 155));
    expect(now(driver).path).toEqual(path);
  });
});

describe('what is shown whole', () => {
  it('is the picture until an outline is found in it, and then the outline', () => {
    const driver = new TableDriver({});
    driver.store.actions.goTo('bring-in');
    driver.bringIn.actions.layPicture(onPicture);
    // 1,000 by 1,200 dots at two a mm, from (-100, -100).
    expect(driver.scene.layout.pieces).toEqual({ minX: -100, minY: -100, maxX: 400, maxY: 500 });
    driver.bringIn.actions.layDraft(draft);
    const { pieces, sheet } = driver.scene.layout;
    // 300 high, with room for the names of its edges.
    expect([pieces.minX, pieces.minY, pieces.maxY]).toEqual([-24, -24, 324]);
    expect(pieces.maxX).toBeGreaterThan(244);
    expect(pieces.maxX).toBeLessThan(264);
    expect(sheet.minX).toBeLessThanOrEqual(-100);
    expect(sheet.maxY).toBeGreaterThanOrEqual(500);
  });
});
