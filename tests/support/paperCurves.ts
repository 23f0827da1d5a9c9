import paper from 'paper/dist/paper-core';
import type { Point } from '../../src/geometry/point';
import type { Path, Segment } from '../../src/geometry/segment';

/** A second opinion from paper.js on single curves and closed outlines; used by tests only. */
paper.setup(new paper.Size(10, 10));

function curveOf(segment: Segment): paper.Curve {
  const { start, end } = segment;
  const c1 = segment.kind === 'cubic' ? segment.control1 : start;
  const c2 = segment.kind === 'cubic' ? segment.control2 : end;
  return new paper.Curve(
    new paper.Point(start.x, start.y),
    new paper.Point(c1.x - start.x, c1.y - start.y),
    new paper.Point(c2.x - end.x, c2.y - end.y),
    new paper.Point(end.x, end.y),
  );
}

function pathOf(closedPath: Path): paper.Path {
  const path = new paper.Path({ insert: false });
  const first = closedPath[0];
  if (first === undefined) return path;
  path.moveTo(new paper.Point(first.start.x, first.start.y));
  for (const segment of closedPath) {
    const end = new paper.Point(segment.end.x, segment.end.y);
    if (segment.kind === 'line') path.lineTo(end);
    else {
      const { control1, control2 } = segment;
      path.cubicCurveTo(new paper.Point(control1.x, control1.y), new paper.Point(control2.x, control2.y), end);
    }
  }
  path.closePath();
  return path;
}

export function paperLength(segment: Segment): number {
  return curveOf(segment).length;
}

export function paperNearestDistance(segment: Segment, p: Point): number {
  const from = new paper.Point(p.x, p.y);
  return curveOf(segment).getNearestPoint(from).getDistance(from);
}

export function paperMeetings(a: Segment, b: Segment): Point[] {
  return curveOf(a)
    .getIntersections(curveOf(b))
    .map(({ point }) => ({ x: point.x, y: point.y }));
}

/** Unsigned, mm2. */
export function paperArea(closedPath: Path): number {
  return Math.abs(pathOf(closedPath).area);
}

export function paperContains(closedPath: Path, p: Point): boolean {
  const path = pathOf(closedPath);
  path.fillRule = 'nonzero';
  return path.contains(new paper.Point(p.x, p.y));
}

export function paperBounds(closedPath: Path): { minX: number; minY: number; maxX: number; maxY: number } {
  const { left, top, right, bottom } = pathOf(closedPath).bounds;
  return { minX: left, minY: top, maxX: right, maxY: bottom };
}

export function paperCurvature(segment: Segment, t: number): number {
  return curveOf(segment).getCurvatureAtTime(t);
}
