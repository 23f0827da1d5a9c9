import { screenAt, type TablePoint, tablePoint } from '../gestures/frames';
import { isOverPicture, pieceOf, type TableScene } from '../gestures/scene';
import { besideShift, type FlatLaid, partNow } from '../store/pictureDraft';
import type { Look } from './board';
import type { Brush } from './glyphItems';
import { pixelsOf } from './pixels';

/** A picture lying on the sheet, under everything drawn. */
export interface LaidPicture {
  readonly id: string;
  /** Its upper left corner. */
  readonly at: TablePoint;
  /** mm. */
  readonly width: number;
  readonly height: number;
  readonly strength: number;
}

/** A picture under lines is drawn this much fainter, so that they can be seen on it. */
const underLines = 0.72;

/** The pictures that lie on the table now, undermost first. */
export function picturesOn(scene: TableScene): readonly LaidPicture[] {
  const { picture, underlay, place } = scene;
  if (place === 'bring-in' && picture !== null) {
    const part = partNow(picture);
    const own = part.straight?.flat;
    if (picture.stage === 'corners' || own === undefined) {
      return [{ id: part.id, at: tablePoint(0, 0), width: part.width, height: part.height, strength: 1 }];
    }
    if (picture.stage === 'check') return [flatOn(own, 0, 0, 1)];
    if (picture.flat === null) return [];
    if (picture.stage === 'outline') return [flatOn(picture.flat, 0, 0, scene.draft === null ? 1 : underLines)];
    const shift = besideShift(picture);
    return [flatOn(picture.flat, 0, 0, 1), flatOn(own, shift.x, shift.y, 1)];
  }
  const piece = underlay === null ? null : pieceOf(scene, underlay.piece);
  if (underlay === null || piece === null || !isOverPicture(scene, piece)) return [];
  return [flatOn(underlay.flat, piece.offset.across, piece.offset.down, underLines)];
}

function flatOn({ id, origin, width, height, dotsPerMm }: FlatLaid, across: number, down: number, strength: number) {
  const at = tablePoint(origin.x + across, origin.y + down);
  return { id, at, width: width / dotsPerMm, height: height / dotsPerMm, strength };
}

export interface UnderlayPainter {
  put(pictures: readonly LaidPicture[], look: Look): void;
}

/** Keeps one paper item for each picture on the layer. */
export function createUnderlay(layer: paper.Layer, brush: () => Brush): UnderlayPainter {
  const items = new Map<string, { readonly item: paper.Raster; readonly source: HTMLCanvasElement; place: string }>();
  return {
    put(pictures, { camera, view }) {
      const { scope, ratio } = brush();
      for (const [id, { item, source }] of items) {
        if (pictures.some((laid) => laid.id === id) && pixelsOf(id)?.small === source) continue;
        item.remove();
        items.delete(id);
      }
      for (const { id, at, width, height, strength } of pictures) {
        const source = pixelsOf(id)?.small;
        if (source === undefined || source.width === 0) continue;
        const kept = items.get(id) ?? { item: new scope.Raster({ insert: false }), source, place: '' };
        if (!items.has(id)) {
          kept.item.image = source as unknown as HTMLImageElement;
          kept.item.smoothing = 'medium';
          layer.addChild(kept.item);
          items.set(id, kept);
        }
        const middle = screenAt(camera, view, tablePoint(at.across + width / 2, at.down + height / 2));
        const scaleX = (width / source.width) * camera.pixelsPerMm * ratio;
        const scaleY = (height / source.height) * camera.pixelsPerMm * ratio;
        const place = `${scaleX} ${scaleY} ${middle.left} ${middle.top} ${ratio} ${strength}`;
        // A raster that stays where it is must not cost a new picture of the whole sheet.
        if (place === kept.place) continue;
        kept.place = place;
        kept.item.opacity = strength;
        kept.item.matrix = new scope.Matrix(scaleX, 0, 0, scaleY, middle.left * ratio, middle.top * ratio);
      }
    },
  };
}
