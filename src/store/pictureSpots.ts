import type { Point } from '../geometry/point';
import { type PictureDraft, partNow, type SharedPlace, type Spot, withPart } from './pictureDraft';

const known = new WeakMap<PictureDraft, readonly Spot[]>();

/** Everything on the picture that can be dragged or moved by keys now, in the order it is walked. */
export function spotsOf(picture: PictureDraft): readonly Spot[] {
  const before = known.get(picture);
  if (before !== undefined) return before;
  const spots = readSpots(picture);
  known.set(picture, spots);
  return spots;
}

function readSpots(picture: PictureDraft): readonly Spot[] {
  const part = partNow(picture);
  switch (picture.stage) {
    case 'corners': {
      if (part.beside.kind === 'scan') return [];
      const word = part.beside.kind === 'mat' ? 'Crossing' : 'Corner';
      return part.corners.map((at, index) => ({ id: `corner-${index}`, at, name: `${word} ${index + 1}` }));
    }
    case 'check':
      return picture.tape === null
        ? []
        : [
            { id: 'tape-from', at: picture.tape.from, name: 'Start of the length' },
            { id: 'tape-to', at: picture.tape.to, name: 'End of the length' },
          ];
    case 'join':
      return picture.pairs.flatMap(({ first, second }, index) => [
        ...(first === null ? [] : [{ id: `first-${index}`, at: first, name: `Place ${index + 1} on the first` }]),
        ...(second === null ? [] : [{ id: `second-${index}`, at: second, name: `Place ${index + 1} on the second` }]),
      ]);
    case 'outline':
      return [];
  }
}

/** The picture with one of its spots elsewhere; corners stay on the picture. */
export function moveSpot(picture: PictureDraft, id: string, at: Point): PictureDraft {
  const [kind, number] = id.split('-') as [string, string];
  const index = Number(number);
  switch (kind) {
    case 'corner':
      return withPart(picture, (part) => ({
        ...part,
        corners: part.corners.map((corner, i) =>
          i === index ? { x: clamp(at.x, part.width), y: clamp(at.y, part.height) } : corner,
        ),
      }));
    case 'tape':
      return picture.tape === null ? picture : { ...picture, tape: { ...picture.tape, [number]: at } };
    case 'first':
    case 'second':
      return {
        ...picture,
        pairs: picture.pairs.map((pair, i): SharedPlace => (i === index ? { ...pair, [kind]: at } : pair)),
      };
    default:
      return picture;
  }
}

/** A press on the picture that took hold of nothing: the next crossing of a mat, or a place inside the piece. */
export function pressPicture(picture: PictureDraft, at: Point): PictureDraft {
  const part = partNow(picture);
  if (picture.stage === 'corners' && part.beside.kind === 'mat' && part.corners.length < 4) {
    const inside = at.x >= 0 && at.y >= 0 && at.x <= part.width && at.y <= part.height;
    if (!inside) return picture;
    const next = withPart(picture, (now) => ({ ...now, corners: [...now.corners, at] }));
    return { ...next, chosen: `corner-${part.corners.length}` };
  }
  if (picture.stage === 'outline') return { ...picture, inside: at };
  return picture;
}

/** A place marked on the first or the second picture; it fills the first gap on that side. */
export function markShared(picture: PictureDraft, side: 'first' | 'second', at: Point): PictureDraft {
  const gap = picture.pairs.findIndex((pair) => pair[side] === null);
  const index = gap < 0 ? picture.pairs.length : gap;
  const blank: SharedPlace = { first: null, second: null };
  const pairs = gap < 0 ? [...picture.pairs, blank] : picture.pairs;
  return {
    ...picture,
    pairs: pairs.map((pair, i): SharedPlace => (i === index ? { ...pair, [side]: at } : pair)),
    chosen: `${side}-${index}`,
  };
}

function clamp(value: number, most: number): number {
  return Math.min(most, Math.max(0, value));
}
