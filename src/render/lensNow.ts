import { flattenPath } from '../geometry/flatten';
import type { Point } from '../geometry/point';
import type { Path } from '../geometry/segment';
import { chosenDraftSpot, openOutline } from '../gestures/draftNodes';
import { type ScreenPoint, screenAt, tableAt, tablePoint } from '../gestures/frames';
import { penPath } from '../gestures/penTool';
import { chosenSpot, openPicture } from '../gestures/pictureSpots';
import type { TableScene } from '../gestures/scene';
import type { TableState } from '../gestures/table';
import type { BringInDraft } from '../store/bringIn';
import { besideShift, type FlatLaid, type PictureDraft, partNow } from '../store/pictureDraft';
import type { Lens } from './magnifier';
import { pixelsOf } from './pixels';

/** What the magnifier shows now: the place being moved or chosen, or where the next one would be set; null for nothing. */
export function lensNow(scene: TableScene, table: TableState, pointer: ScreenPoint | null): Lens | null {
  const outline = openOutline(scene);
  if (outline !== null) return lensOnOutline(scene, outline);
  if (scene.seeLine !== null && scene.tool === 'pen') return lensOnTrace(scene);
  const picture = openPicture(scene);
  if (picture === null) return null;
  const at = placeNow(scene, picture, table, pointer);
  const seen = at === null ? null : imageUnder(picture, at);
  const image = seen === null ? null : (pixelsOf(seen.id)?.full ?? null);
  if (at === null || seen === null || image === null) return null;
  const { camera, view } = scene;
  // A very large picture is looked into through a smaller one.
  const share = image.width / seen.width;
  const dots = (p: Point) => {
    const { x, y } = seen.dots(p);
    return { x: x * share, y: y * share };
  };
  return {
    image,
    at: dots(at),
    beside: screenAt(camera, view, tablePoint(at.x, at.y)),
    pixelsPerDot: camera.pixelsPerMm / seen.dotsPerMm / share,
    lines: linesOf(picture).map(([from, to]) => [dots(from), dots(to)] as const),
  };
}

/** Over a picture the chosen point of the outline is looked at closely too. */
function lensOnOutline(scene: TableScene, outline: BringInDraft): Lens | null {
  return lensOnFlat(scene, chosenDraftSpot(outline)?.at ?? null, outline.path ?? []);
}

/** And the place where the next point of a tracing would be set, or was set just now. */
function lensOnTrace(scene: TableScene): Lens | null {
  const { nodes, next } = scene.pen;
  return lensOnFlat(scene, next ?? nodes.at(-1)?.at ?? null, penPath(nodes, false));
}

function lensOnFlat({ camera, view, picture }: TableScene, at: Point | null, path: Path): Lens | null {
  const flat = picture?.flat ?? null;
  const image = flat === null ? null : (pixelsOf(flat.id)?.full ?? null);
  if (at === null || flat === null || image === null) return null;
  const { dots } = flatSeen(flat, { x: 0, y: 0 });
  const beside = screenAt(camera, view, tablePoint(at.x, at.y));
  const lines = path.length === 0 ? [] : flattenPath(path, 0.2);
  return {
    image,
    at: dots(at),
    beside,
    pixelsPerDot: camera.pixelsPerMm / flat.dotsPerMm,
    lines: lines.slice(1).map((p, i) => [dots(lines[i]!), dots(p)] as const),
  };
}

function placeNow(
  scene: TableScene,
  picture: PictureDraft,
  { active }: TableState,
  pointer: ScreenPoint | null,
): Point | null {
  if (active?.kind === 'measure') return { x: active.to.across, y: active.to.down };
  const chosen = chosenSpot(picture);
  if (active?.kind === 'picture-spot') return chosen?.at ?? null;
  const { beside, corners } = partNow(picture);
  const places =
    picture.stage === 'join' ||
    (picture.stage === 'corners' && beside.kind === 'mat' && corners.length < 4) ||
    (picture.stage === 'check' && scene.tool === 'measure' && picture.tape === null);
  if (places && active === null && pointer !== null) {
    const { across, down } = tableAt(scene.camera, scene.view, pointer);
    return { x: across, y: down };
  }
  return chosen?.at ?? null;
}

interface Seen {
  readonly id: string;
  /** Dots. */
  readonly width: number;
  readonly dotsPerMm: number;
  /** From the table to dots of the image. */
  readonly dots: (at: Point) => Point;
}

function imageUnder(picture: PictureDraft, at: Point): Seen | null {
  const part = partNow(picture);
  if (picture.stage === 'corners') return { id: part.id, width: part.width, dotsPerMm: 1, dots: (p) => p };
  const own = part.straight?.flat ?? null;
  if (picture.stage !== 'join') return own === null ? null : flatSeen(own, { x: 0, y: 0 });
  const shift = besideShift(picture);
  if (own !== null && at.x >= own.origin.x + shift.x) return flatSeen(own, shift);
  return picture.flat === null ? null : flatSeen(picture.flat, { x: 0, y: 0 });
}

function flatSeen({ id, origin, width, dotsPerMm }: FlatLaid, shift: Point): Seen {
  return {
    id,
    width,
    dotsPerMm,
    dots: (p) => ({ x: (p.x - origin.x - shift.x) * dotsPerMm, y: (p.y - origin.y - shift.y) * dotsPerMm }),
  };
}

function linesOf(picture: PictureDraft): readonly (readonly [Point, Point])[] {
  if (picture.stage === 'check') return picture.tape === null ? [] : [[picture.tape.from, picture.tape.to]];
  const { corners, beside } = partNow(picture);
  if (picture.stage !== 'corners' || beside.kind === 'scan') return [];
  return corners.flatMap((corner, index) => {
    const next = corners[(index + 1) % corners.length]!;
    return corners.length === 4 || index + 1 < corners.length ? [[corner, next] as const] : [];
  });
}
