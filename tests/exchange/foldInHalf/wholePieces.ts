import { type MirrorLine, mirrorPath } from '../../../src/geometry/mirror';
import { movePath, type RigidMove } from '../../../src/geometry/rigidMove';
import { cubic, line, type Path, reversePath } from '../../../src/geometry/segment';

/*
 * A bodice front of our own, drawn whole: its left half from the neck at the centre down to the hem at the centre, mm,
 * centre line x = 0; the right half is its mirror image. Neck and hem cross the centre square to it.
 */
const pt = (x: number, y: number) => ({ x, y });

export const upright: MirrorLine = { at: pt(0, 0), along: pt(0, 1) };

export const leftSide: Path = [
  cubic(pt(0, 90), pt(-40, 90), pt(-68, 55), pt(-72, 0)),
  line(pt(-72, 0), pt(-185, 42)),
  cubic(pt(-185, 42), pt(-150, 110), pt(-165, 190), pt(-238, 225)),
  cubic(pt(-238, 225), pt(-225, 300), pt(-205, 350), pt(-190, 420)),
  cubic(pt(-190, 420), pt(-120, 436), pt(-60, 440), pt(0, 440)),
];

/** The whole outline, counter-clockwise as seen on screen, beginning at the neck on the centre line. */
export function wholeOf(left: Path): Path {
  return [...left, ...reversePath(mirrorPath(upright, left))];
}

export const wholeFront: Path = wholeOf(leftSide);

export const moved = (move: RigidMove, path: Path): Path => movePath(move, path);
