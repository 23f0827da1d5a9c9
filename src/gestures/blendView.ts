import { nearestOnPath } from '../geometry/nearest';
import { pathEnd, pathLength, pathPointAt, pathStart } from '../geometry/path';
import { distance, type Point } from '../geometry/point';
import type { Path } from '../geometry/segment';
import { fanView } from './fanView';
import type { ScenePiece } from './scene';
import { segmentsOf, trueView } from './trueView';

export const blendEnds = ['up', 'down'] as const;
export type BlendEnd = (typeof blendEnds)[number];

/** The stretch of side seam that trueing redraws round the hinge, and where its two ends can be taken hold of. */
export interface BlendView {
  /** The side seam as the strips left it, which the ends slide along; mm in the piece's frame. */
  readonly seam: Path;
  /** Distance of the hinge along it, mm. */
  readonly hinge: number;
  /** Each end: where it is, how far from the hinge along the seam (mm), and which way along it leads from the hinge. */
  readonly ends: Readonly<Record<BlendEnd, { readonly at: Point; readonly length: number; readonly way: 1 | -1 }>>;
}

/** Null where no side seam is hinged and blended. */
export function blendView(piece: ScenePiece): BlendView | null {
  const { worked, fan, fanned, trueing } = piece;
  if (fan === null || fanned === null || trueing === null || piece.proposed) return null;
  const view = trueView(worked, fan);
  const { sideHinge } = fanView(fanned, fan);
  const side = fanned.edges.find((edge) => edge.id === fan.side);
  if (view === null || sideHinge === null || side === undefined) return null;
  const seam = segmentsOf(side);
  const hinge = nearestOnPath(seam, sideHinge).along;
  const hemCorner = view.ends.side.corner;
  const hemFirst = distance(pathStart(seam), hemCorner) < distance(pathEnd(seam), hemCorner);
  const whole = pathLength(seam);
  const drawn = view.blend.length === 0 ? null : { start: pathStart(view.blend), end: pathEnd(view.blend) };
  const end = (name: BlendEnd) => {
    const way: 1 | -1 = (name === 'up') === hemFirst ? 1 : -1;
    // The outline runs the same way along the seam and its blend.
    const reached = drawn === null ? null : way === 1 ? drawn.end : drawn.start;
    const length = reached === null ? trueing.side[name] : Math.abs(nearestOnPath(seam, reached).along - hinge);
    const at = reached ?? pathPointAt(seam, Math.min(whole, Math.max(0, hinge + way * length))).point;
    return { at, length, way };
  };
  return { seam, hinge, ends: { up: end('up'), down: end('down') } };
}

/** How far from the hinge, mm along the seam, a point near the seam asks the end of the blend to be; never past the hinge. */
export function blendLengthAt(view: Pick<BlendView, 'seam' | 'hinge'>, way: 1 | -1, p: Point): number {
  return Math.max(0, way * (nearestOnPath(view.seam, p).along - view.hinge));
}
