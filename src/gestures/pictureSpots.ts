import type { Point } from '../geometry/point';
import { besideShift, flatBounds, type PictureDraft, partNow, type Spot } from '../store/pictureDraft';
import { markShared, moveSpot, pressPicture, spotsOf } from '../store/pictureSpots';
import { letGo } from './drag';
import { type ScreenPoint, screenDistance, tableAt } from './frames';
import type { Effects, PointerSample, Step, TableEvent } from './gesture';
import type { Pan } from './pan';
import { startPan } from './pan';
import { reachMm, reachPixels } from './reach';
import type { TableScene } from './scene';

/** A corner, an end of a length or a shared place being dragged over a picture. */
export interface PictureSpotDrag {
  readonly kind: 'picture-spot';
  readonly pointer: number;
  readonly pressedAt: ScreenPoint;
  readonly pressed: Point;
  readonly spot: Spot;
  /** The picture as it was when the press began. */
  readonly before: PictureDraft;
  readonly began: boolean;
}

/** The picture that presses are about: none while an outline is drawn or already taken from it. */
export function openPicture(scene: TableScene): PictureDraft | null {
  const { picture, draft, tool, place } = scene;
  return draft === null && tool !== 'pen' && place === 'bring-in' ? picture : null;
}

/** What a press on a picture begins; null where the tool in hand takes it. */
export function pressOnPicture(
  pointer: PointerSample,
  scene: TableScene,
): (Effects & { active: PictureSpotDrag | Pan }) | null {
  const picture = openPicture(scene);
  if (picture === null) return null;
  const spot = spotUnder(pointer, scene, picture);
  const at = placeOf(pointer.at, scene);
  if (spot !== null) {
    const active: PictureSpotDrag = {
      kind: 'picture-spot',
      pointer: pointer.id,
      pressedAt: pointer.at,
      pressed: at,
      spot,
      before: picture,
      began: false,
    };
    return { active, picture: { ...picture, chosen: spot.id }, marks: [], hint: saysOf(spot), cursor: 'move' };
  }
  if (scene.tool !== 'hand') return null;
  return { active: startPan(pointer, scene, tapOn(picture, at)), cursor: 'grabbing' };
}

/** Moves the spot with the pointer, by as much as the pointer moves: a fingertip beside it never jumps onto it. */
export function dragSpot(state: PictureSpotDrag, event: TableEvent, scene: TableScene): Step<PictureSpotDrag> {
  const drop = { ...letGo, picture: { ...state.before, chosen: state.spot.id } };
  if (event.type === 'key' && event.key === 'Escape') return drop;
  if (!('pointer' in event) || event.pointer.id !== state.pointer) return { state };
  if (event.type === 'cancel' || scene.picture === null) return drop;
  if (event.type !== 'move' && event.type !== 'release') return { state };
  const { pointer } = event;
  const began = state.began || screenDistance(pointer.at, state.pressedAt) >= reachPixels('drag', pointer.kind);
  if (!began) return { state: event.type === 'release' ? null : state, cursor: 'move' };
  const at = placeOf(pointer.at, scene);
  const to = { x: state.spot.at.x + at.x - state.pressed.x, y: state.spot.at.y + at.y - state.pressed.y };
  const picture = { ...moveSpot(state.before, state.spot.id, to), chosen: state.spot.id };
  return { state: event.type === 'release' ? null : { ...state, began }, picture, cursor: 'move' };
}

export function hoverPicture(pointer: PointerSample, scene: TableScene): Effects | null {
  const picture = openPicture(scene);
  if (picture === null) return null;
  const spot = spotUnder(pointer, scene, picture);
  if (spot !== null) return { marks: [], hint: saysOf(spot), cursor: 'move' };
  if (scene.tool !== 'hand') return null;
  const asked = asksFor(picture);
  return { marks: [], hint: asked, cursor: asked === null ? 'default' : 'crosshair' };
}

/** The spot that Tab goes to next; null past the last one. */
export function nextSpot(picture: PictureDraft, backwards: boolean): Spot | null {
  const spots = spotsOf(picture);
  const at = spots.findIndex(({ id }) => id === picture.chosen);
  if (at < 0) return (backwards ? spots.at(-1) : spots[0]) ?? null;
  return spots[at + (backwards ? -1 : 1)] ?? null;
}

export function chosenSpot(picture: PictureDraft): Spot | null {
  return spotsOf(picture).find(({ id }) => id === picture.chosen) ?? null;
}

/** How far one arrow press moves a spot: one dot of the picture as it was taken, or a tenth of a mm once it is straight. */
export function spotStep(picture: PictureDraft, large: boolean): number {
  return (picture.stage === 'corners' ? 1 : 0.1) * (large ? 10 : 1);
}

export function nudgeSpot(picture: PictureDraft, right: number, down: number, large: boolean): PictureDraft {
  const spot = chosenSpot(picture);
  if (spot === null) return picture;
  const step = spotStep(picture, large);
  return moveSpot(picture, spot.id, { x: spot.at.x + right * step, y: spot.at.y + down * step });
}

export function saysOf(spot: Spot): string {
  return `${spot.name}: drag it, or move it with the arrow keys`;
}

/** What a tap on the picture itself does. */
function tapOn(picture: PictureDraft, at: Point): Effects {
  if (picture.stage === 'join') {
    const side = sideOf(picture, at);
    return side === null ? {} : { picture: markShared(picture, side, at) };
  }
  const pressed = pressPicture(picture, at);
  return { picture: pressed === picture ? { ...picture, chosen: null } : pressed, hint: null };
}

function asksFor(picture: PictureDraft): string | null {
  const part = partNow(picture);
  if (picture.stage === 'outline') return 'Click inside the piece';
  if (picture.stage === 'join') return 'Click the same spot on both pictures';
  if (picture.stage === 'corners' && part.beside.kind === 'mat' && part.corners.length < 4) {
    return `Click crossing ${part.corners.length + 1} of the mat`;
  }
  return null;
}

/** On which of two pictures beside each other a place lies. */
function sideOf(picture: PictureDraft, at: Point): 'first' | 'second' | null {
  const second = partNow(picture).straight?.flat;
  if (picture.flat === null || second === undefined) return null;
  const shift = besideShift(picture);
  if (contains(flatBounds(picture.flat), at)) return 'first';
  return contains(flatBounds(second), { x: at.x - shift.x, y: at.y - shift.y }) ? 'second' : null;
}

function contains(bounds: ReturnType<typeof flatBounds>, { x, y }: Point): boolean {
  return x >= bounds.minX && x <= bounds.maxX && y >= bounds.minY && y <= bounds.maxY;
}

function spotUnder(pointer: PointerSample, scene: TableScene, picture: PictureDraft): Spot | null {
  const at = placeOf(pointer.at, scene);
  let best: Spot | null = null;
  let nearest = reachMm('handle', pointer.kind, scene.camera);
  for (const spot of spotsOf(picture)) {
    const away = Math.hypot(spot.at.x - at.x, spot.at.y - at.y);
    if (away > nearest) continue;
    nearest = away;
    best = spot;
  }
  return best;
}

function placeOf(at: ScreenPoint, scene: TableScene): Point {
  const { across, down } = tableAt(scene.camera, scene.view, at);
  return { x: across, y: down };
}
