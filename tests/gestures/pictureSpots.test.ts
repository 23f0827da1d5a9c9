import { describe, expect, it } from 'vitest';
import type { Straightened } from '../../src/exchange/photo/reference';
import { stayPut } from '../../src/geometry/rigidMove';
import { screenDistance, tablePoint } from '../../src/gestures/frames';
import { chosenSpot, nextSpot, nudgeSpot } from '../../src/gestures/pictureSpots';
import type { PointerKind } from '../../src/gestures/reach';
import { glassPlace } from '../../src/render/magnifier';
import { type FlatLaid, type PictureDraft, type PicturePart, startPicture } from '../../src/store/pictureDraft';
import { TableDriver } from './tableDriver';

const corners = [
  { x: 200, y: 200 },
  { x: 500, y: 210 },
  { x: 490, y: 600 },
  { x: 190, y: 590 },
];

const part: PicturePart = {
  id: 'picture',
  source: 'front.jpg',
  width: 1200,
  height: 900,
  stated: null,
  sheets: [],
  beside: { kind: 'a4', width: 210, height: 297 },
  corners,
  straight: null,
};

const flat: FlatLaid = { id: 'flat', origin: { x: -100, y: -50 }, dotsPerMm: 2, width: 1000, height: 1200 };

/** Nothing here reads how the table was found. */
const straightened = {} as Straightened;

const straight = { ...part, straight: { reference: null, straightened, flat, move: stayPut, checks: [] } };

function lain(
  picture: PictureDraft,
  options: { readonly zoom?: number; readonly kind?: PointerKind } = {},
): TableDriver {
  const driver = new TableDriver(options);
  driver.store.actions.goTo('bring-in');
  driver.bringIn.actions.layPicture(picture);
  return driver;
}

const cornersOf = (driver: TableDriver) => driver.bringIn.getState().picture!.parts[0]!.corners;

describe('the corners of the sheet on a picture', () => {
  it.each([
    ['mouse', 0.25],
    ['mouse', 4],
    ['touch', 0.5],
    ['pen', 1],
  ] as const)('a corner is dragged by %s at %f px to the dot, by as much as the pointer moves', (kind, zoom) => {
    const driver = lain(startPicture(part), { kind, zoom });
    // Taken hold of a little beside it, as a finger does.
    const beside = 5 / zoom;
    driver.drag(tablePoint(200 + beside, 200), tablePoint(200 + beside + 90, 170));
    expect(cornersOf(driver)[0]!.x).toBeCloseTo(290, 6);
    expect(cornersOf(driver)[0]!.y).toBeCloseTo(170, 6);
    expect(cornersOf(driver).slice(1)).toEqual(corners.slice(1));
    expect(driver.bringIn.getState().picture!.chosen).toBe('corner-0');
    expect(driver.steps).toBe(0);
  });

  it('stays on the picture however far it is dragged', () => {
    const driver = lain(startPicture(part));
    driver.drag(tablePoint(490, 600), tablePoint(5000, -300));
    expect(cornersOf(driver)[2]).toEqual({ x: 1200, y: 0 });
  });

  it('Escape and a cancelled pointer put it back', () => {
    const driver = lain(startPicture(part));
    driver.press(tablePoint(200, 200));
    driver.move(tablePoint(300, 300));
    expect(cornersOf(driver)[0]).not.toEqual(corners[0]);
    driver.key('Escape');
    expect(cornersOf(driver)).toEqual(corners);
    driver.release(tablePoint(300, 300));
    driver.press(tablePoint(200, 200));
    driver.move(tablePoint(300, 300));
    driver.cancel();
    expect(cornersOf(driver)).toEqual(corners);
  });

  it('keys walk the corners in order and past the last one, and move the chosen one by one dot or ten', () => {
    let picture = startPicture(part);
    const walked: string[] = [];
    for (let spot = nextSpot(picture, false); spot !== null; spot = nextSpot(picture, false)) {
      walked.push(spot.name);
      picture = { ...picture, chosen: spot.id };
    }
    expect(walked).toEqual(['Corner 1', 'Corner 2', 'Corner 3', 'Corner 4']);
    expect(nudgeSpot(picture, 1, 0, false).parts[0]!.corners[3]).toEqual({ x: 191, y: 590 });
    expect(nudgeSpot(picture, 0, -1, true).parts[0]!.corners[3]).toEqual({ x: 190, y: 580 });
    expect(chosenSpot({ ...picture, chosen: null })).toBeNull();
  });

  it('a press elsewhere pushes the sheet', () => {
    const driver = lain(startPicture(part));
    driver.press(tablePoint(800, 700));
    expect(driver.gesture).toBe('pan');
    driver.move(tablePoint(830, 700));
    driver.release(tablePoint(830, 700));
    expect(cornersOf(driver)).toEqual(corners);
  });

  it('the crossings of a mat are clicked one after the other, four at most, on the picture only', () => {
    const mat: PicturePart = { ...part, corners: [], beside: { kind: 'mat', width: 500, height: 300 } };
    const driver = lain(startPicture(mat));
    driver.tap(tablePoint(-40, 20));
    expect(cornersOf(driver)).toHaveLength(0);
    for (const [x, y] of [
      [100, 100],
      [700, 110],
      [690, 500],
      [90, 480],
      [400, 300],
    ] as const) {
      driver.tap(tablePoint(x, y));
    }
    expect(cornersOf(driver).map(({ x, y }) => [Math.round(x), Math.round(y)])).toEqual([
      [100, 100],
      [700, 110],
      [690, 500],
      [90, 480],
    ]);
  });
});

describe('the length that checks a straightened picture', () => {
  it('is laid by dragging, free of every snap, and its ends can be moved', () => {
    const driver = lain({ ...startPicture(straight as never), stage: 'check' });
    driver.store.actions.pickTool('measure');
    // Almost upright and almost a whole length: a drawing would be snapped here.
    driver.drag(tablePoint(10, 10), tablePoint(11.3, 199.2));
    const { tape } = driver.bringIn.getState().picture!;
    expect(tape!.from).toEqual({ x: 10, y: 10 });
    expect(tape!.to.x).toBeCloseTo(11.3, 9);
    expect(tape!.to.y).toBeCloseTo(199.2, 9);
    expect(driver.marks).toEqual([]);
    driver.drag(tablePoint(11.3, 199.2), tablePoint(61.3, 219.2));
    const moved = driver.bringIn.getState().picture!.tape!;
    expect(moved.from).toEqual(tape!.from);
    expect(moved.to.x).toBeCloseTo(61.3, 6);
    expect(moved.to.y).toBeCloseTo(219.2, 6);
  });

  it('shows no figure while it is being laid: the maker says how long it is', () => {
    const driver = lain({ ...startPicture(straight as never), stage: 'check' });
    driver.store.actions.pickTool('measure');
    driver.press(tablePoint(10, 10));
    driver.move(tablePoint(150, 100));
    expect(driver.marks).toMatchObject([{ kind: 'measure', text: '' }]);
  });
});

describe('places shared by two pictures', () => {
  it('are numbered in the order they are clicked on either, and fill the first gap', () => {
    const second = { ...straight, id: 'second' };
    const picture = { ...startPicture(straight as never), stage: 'join' as const, flat };
    const driver = lain({ ...picture, parts: [straight as never, second as never] });
    // The first lies from -100 to 400, the second 40 mm to its right.
    driver.tap(tablePoint(0, 0));
    driver.tap(tablePoint(50, 300));
    driver.tap(tablePoint(640, 0));
    driver.tap(tablePoint(420, 0));
    const { pairs } = driver.bringIn.getState().picture!;
    expect(pairs).toHaveLength(2);
    expect(pairs[0]!.first!.x).toBeCloseTo(0, 6);
    expect(pairs[0]!.second!.x).toBeCloseTo(640, 6);
    expect(pairs[1]).toMatchObject({ second: null });
  });
});

describe('an outline on a straightened picture', () => {
  const outline: PictureDraft = { ...startPicture(straight as never), stage: 'outline', flat };

  it('a tap says where the piece lies; a drag only pushes the sheet', () => {
    const driver = lain(outline);
    driver.drag(tablePoint(100, 100), tablePoint(160, 100));
    expect(driver.bringIn.getState().picture!.inside).toBeNull();
    driver.tap(tablePoint(120, 210));
    expect(driver.bringIn.getState().picture!.inside!.x).toBeCloseTo(120, 6);
  });

  it('traced by hand it keeps to the picture it was traced from, and says so', () => {
    const driver = lain(outline);
    driver.store.actions.pickTool('pen');
    for (const [x, y] of [
      [0, 0],
      [0, 300],
      [200, 300],
    ] as const) {
      driver.tap(tablePoint(x, y), { alt: true });
    }
    driver.key('Enter');
    const { draft, picture } = driver.bringIn.getState();
    expect(draft).toMatchObject({ takenFrom: 'flat', source: 'front.jpg' });
    expect(draft!.notes).toContain('The size was not checked against a second length.');
    expect(picture).not.toBeNull();
    driver.bringIn.actions.leaveUnder('front');
    expect(driver.bringIn.getState()).toMatchObject({ picture: null, underlay: { piece: 'front', flat } });
  });

  it('a drawing from another file does not leave the picture under its piece', () => {
    const driver = lain(outline);
    driver.bringIn.actions.layDraft({
      source: 'other.svg',
      name: 'Other',
      shapes: [],
      outline: null,
      path: null,
      corners: [],
      scale: { kind: 'certain', sentence: '' },
    });
    expect(driver.scene.picture).toBeNull();
    driver.bringIn.actions.leaveUnder('front');
    expect(driver.bringIn.getState().underlay).toBeNull();
    expect(driver.bringIn.getState().picture).not.toBeNull();
  });
});

describe('the magnifier', () => {
  it('stands clear of the place it shows and whole on the table, wherever that is', () => {
    const view = { width: 720, height: 560 };
    for (let left = 26; left <= view.width; left += 23) {
      for (let top = 26; top <= view.height; top += 23) {
        const at = glassPlace({ left, top }, view);
        expect(at.left).toBeGreaterThanOrEqual(26);
        expect(at.top).toBeGreaterThanOrEqual(26);
        expect(at.left + 152).toBeLessThanOrEqual(view.width);
        expect(at.top + 152).toBeLessThanOrEqual(view.height);
        const middle = { left: at.left + 76, top: at.top + 76 };
        // A fingertip of 44 px about the place stays free.
        expect(screenDistance(middle, { left, top })).toBeGreaterThanOrEqual(76 + 22);
      }
    }
  });
});
