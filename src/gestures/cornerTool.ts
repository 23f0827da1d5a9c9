import { nearestOnPath } from '../geometry/nearest';
import { point } from '../geometry/point';
import { type Path, segmentPointAt } from '../geometry/segment';
import type { BringInDraft, DraftCorner } from '../store/bringIn';
import { letGo } from './drag';
import { type ScreenPoint, screenDistance, tableAt, tablePoint } from './frames';
import type { PointerSample, Step, TableEvent } from './gesture';
import { reachMm, reachPixels } from './reach';
import type { TableScene } from './scene';

/** A corner of a brought-in outline being set, taken away (a tap) or slid along the outline (a drag). */
export interface CornerPress {
  readonly kind: 'corner';
  readonly pointer: number;
  readonly pressedAt: ScreenPoint;
  /** Index of the corner under the press; null on a bare stretch of the outline. */
  readonly corner: number | null;
  readonly before: readonly DraftCorner[];
  readonly began: boolean;
}

type Spot = Pick<DraftCorner, 'segment' | 't'>;

export function hoverCorner(pointer: PointerSample, scene: TableScene): Pick<Step<never>, 'marks' | 'hint' | 'cursor'> {
  const { draft } = scene;
  if (draft?.path == null) return { marks: [], hint: 'Choose an outline first', cursor: 'default' };
  const found = cornerUnder(pointer, scene, draft);
  if (found !== null) {
    return { marks: [], hint: 'Drag to slide this corner, click to take it away', cursor: 'pointer' };
  }
  const spot = spotUnder(pointer, scene, draft.path, 1);
  if (spot === null)
    return { marks: [], hint: 'Click the outline where one edge ends and the next starts', cursor: 'crosshair' };
  const at = pointOf(draft.path, spot);
  return {
    marks: [{ kind: 'snap', at: tablePoint(at.x, at.y), word: 'corner' }],
    hint: 'Click to part the outline here',
    cursor: 'crosshair',
  };
}

export function startCorner(pointer: PointerSample, scene: TableScene): CornerPress | null {
  const { draft } = scene;
  if (draft?.path == null) return null;
  const corner = cornerUnder(pointer, scene, draft);
  if (corner === null && spotUnder(pointer, scene, draft.path, 1) === null) return null;
  return {
    kind: 'corner',
    pointer: pointer.id,
    pressedAt: pointer.at,
    corner,
    before: draft.corners,
    began: false,
  };
}

export function dragCorner(state: CornerPress, event: TableEvent, scene: TableScene): Step<CornerPress> {
  const drop = { ...letGo, corners: state.before };
  if (event.type === 'key' && event.key === 'Escape') return drop;
  if (!('pointer' in event) || event.pointer.id !== state.pointer) return { state };
  const path = scene.draft?.path;
  if (event.type === 'cancel' || path == null) return drop;
  if (event.type !== 'move' && event.type !== 'release') return { state };
  const { pointer } = event;
  const began = state.began || screenDistance(pointer.at, state.pressedAt) >= reachPixels('drag', pointer.kind);

  if (state.corner !== null && began) {
    const spot = spotUnder(pointer, scene, path, Number.POSITIVE_INFINITY);
    const corners = spot === null ? state.before : slid(state.before, state.corner, spot);
    if (event.type === 'release') return done(state, corners, 'the slide of a corner');
    return { state: { ...state, began }, corners, hint: 'Slide the corner along' };
  }
  if (event.type === 'move') return { state: { ...state, began } };
  if (state.corner !== null) {
    const rest = state.before.filter((_, index) => index !== state.corner);
    return done(state, rest, 'the corner taken away');
  }
  const spot = began ? null : spotUnder(pointer, scene, path, 1);
  return spot === null ? letGo : done(state, inserted(state.before, spot), 'the new corner');
}

/** The gesture ends; what it changed is one step to take back. */
function done({ before }: CornerPress, corners: readonly DraftCorner[], what: string): Step<CornerPress> {
  return { ...letGo, corners, ...(corners === before ? {} : { cornersDone: { what, before } }) };
}

/** Parts the edge that runs through `spot`; the new edge gets a free number for a name. */
function inserted(corners: readonly DraftCorner[], spot: Spot): readonly DraftCorner[] {
  if (corners.some((corner) => corner.segment === spot.segment && corner.t === spot.t)) return corners;
  const names = new Set(corners.map((corner) => corner.name));
  let number = corners.length + 1;
  while (names.has(`Edge ${number}`)) number += 1;
  return inOrder([...corners, { ...spot, name: `Edge ${number}`, role: 'other' }]);
}

function slid(corners: readonly DraftCorner[], index: number, spot: Spot): readonly DraftCorner[] {
  const meets = corners.some((other, at) => at !== index && other.segment === spot.segment && other.t === spot.t);
  return meets ? corners : inOrder(corners.map((corner, at) => (at === index ? { ...corner, ...spot } : corner)));
}

function inOrder(corners: readonly DraftCorner[]): readonly DraftCorner[] {
  return [...corners].sort((a, b) => a.segment - b.segment || a.t - b.t);
}

function cornerUnder(pointer: PointerSample, scene: TableScene, draft: BringInDraft): number | null {
  const at = tableAt(scene.camera, scene.view, pointer.at);
  let best: number | null = null;
  let nearest = reachMm('handle', pointer.kind, scene.camera);
  draft.corners.forEach((corner, index) => {
    const p = pointOf(draft.path!, corner);
    const away = Math.hypot(p.x - at.across, p.y - at.down);
    if (away > nearest) return;
    nearest = away;
    best = index;
  });
  return best;
}

/** The place on the outline under the pointer; a joint of the outline is preferred when it is near. */
function spotUnder(pointer: PointerSample, scene: TableScene, path: Path, stretch: number): Spot | null {
  const at = tableAt(scene.camera, scene.view, pointer.at);
  const p = point(at.across, at.down);
  const place = nearestOnPath(path, p);
  if (place.distance > 2 * stretch * reachMm('line', pointer.kind, scene.camera)) return null;
  const joint = pointer.alt ? null : nearJoint(path, place.point, reachMm('snap', pointer.kind, scene.camera));
  if (joint !== null) return { segment: joint, t: 0 };
  return place.t >= 1 ? { segment: (place.segment + 1) % path.length, t: 0 } : { segment: place.segment, t: place.t };
}

function nearJoint(path: Path, p: { readonly x: number; readonly y: number }, reach: number): number | null {
  let best: number | null = null;
  let nearest = reach;
  path.forEach((segment, index) => {
    const away = Math.hypot(segment.start.x - p.x, segment.start.y - p.y);
    if (away > nearest) return;
    nearest = away;
    best = index;
  });
  return best;
}

function pointOf(path: Path, spot: Spot) {
  return segmentPointAt(path[spot.segment]!, spot.t);
}
