import { flattenPath } from '../../../geometry/flatten';
import { type Outcome, succeed } from '../../../geometry/outcome';
import { cross, distance, subtract, unit } from '../../../geometry/point';
import { compose, movePoint, type RigidMove } from '../../../geometry/rigidMove';
import type { Path } from '../../../geometry/segment';
import { straightEnough } from '../../../geometry/tolerance';
import type { PictureDraft } from '../../../store/pictureDraft';
import type { DrawnOutline } from '../../../workers/drawOutline';
import { askPhotos, type Darkroom, layFlat, straightPictures } from './askPhotos';

/** The pictures laid anew, turned on the table. Must be laid at once when it succeeds. */
export async function turnPicture(
  picture: PictureDraft,
  turn: RigidMove,
  darkroom: Darkroom,
): Promise<Outcome<PictureDraft>> {
  const moved: PictureDraft = {
    ...picture,
    parts: picture.parts.map((part) =>
      part.straight === null
        ? part
        : { ...part, straight: { ...part.straight, move: compose(turn, part.straight.move) } },
    ),
    inside: picture.inside === null ? null : movePoint(turn, picture.inside),
  };
  const laid = await askPhotos<'join'>({ kind: 'join', parts: straightPictures(moved) }, darkroom);
  return laid.ok ? succeed({ ...moved, flat: layFlat(laid.value) }) : laid;
}

/** radians. A piece lying this straight is left as it lies. */
const straightAlready = 2e-4;

/**
 * The turn, radians, that lays the longest straight edge level or upright, whichever is nearer; null where there is no
 * straight edge, or it lies so already. Pieces are seldom laid down square to the sheet beside them.
 */
export function squaringTurn({ path, corners }: DrawnOutline): number | null {
  let longest = 0;
  let turn: number | null = null;
  corners.forEach(({ segment }, i) => {
    const edge = between(path, segment, corners[(i + 1) % corners.length]!.segment);
    const start = edge[0]!.start;
    const end = edge.at(-1)!.end;
    const length = distance(start, end);
    if (length <= longest) return;
    const along = unit(subtract(end, start));
    const bend = flattenPath(edge, 0.05).reduce(
      (most, p) => Math.max(most, Math.abs(cross(along, subtract(p, start)))),
      0,
    );
    if (bend > straightEnough) return;
    longest = length;
    const angle = Math.atan2(along.y, along.x);
    const quarter = Math.PI / 2;
    turn = Math.round(angle / quarter) * quarter - angle;
  });
  return turn === null || Math.abs(turn) < straightAlready ? null : turn;
}

/** Segments from `start` up to `end`, round the joint where the outline closes. */
function between(path: Path, start: number, end: number): Path {
  return start < end ? path.slice(start, end) : [...path.slice(start), ...path.slice(0, end)];
}
