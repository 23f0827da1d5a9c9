import { add, type Point, subtract } from '../../geometry/point';
import type { PageJoin } from './pageJoin';
import type { PdfPage } from './pdfReading';

/** mm. A join that closes a circle of pages this far off contradicts the others. */
const contradiction = 1;

/** Two pages of one sheet lie over each other by no more than this share of a page. */
const mostOverlap = 0.6;

/** Pages laid together so far: each cluster has its own sheet, until they are laid side by side. */
export class PageClusters {
  private readonly clusterOf = new Map<number, Map<number, Point>>();
  private readonly size: ReadonlyMap<number, PdfPage>;
  readonly used: PageJoin[] = [];
  /** Joins that would have closed a circle and did not. */
  contradictions = 0;
  worst = 0;

  constructor(pages: readonly PdfPage[]) {
    this.size = new Map(pages.map((page) => [page.number, page]));
    for (const { number } of pages) this.clusterOf.set(number, new Map([[number, { x: 0, y: 0 }]]));
  }

  /** Lays the clusters of two pages together, unless pages would come to lie on each other. */
  take(join: PageJoin): void {
    const one = this.clusterOf.get(join.first)!;
    const two = this.clusterOf.get(join.second)!;
    const wanted = add(one.get(join.first)!, join.shift);
    if (one === two) {
      const off = subtract(two.get(join.second)!, wanted);
      const gap = Math.hypot(off.x, off.y);
      if (gap <= contradiction) this.worst = Math.max(this.worst, gap, join.worst);
      else if (join.sure) this.contradictions++;
      return;
    }
    const move = subtract(wanted, two.get(join.second)!);
    for (const [page, at] of two) {
      for (const [other, there] of one) if (this.cover(page, add(at, move), other, there)) return;
    }
    for (const [page, at] of two) {
      one.set(page, add(at, move));
      this.clusterOf.set(page, one);
    }
    this.used.push(join);
    this.worst = Math.max(this.worst, join.worst);
  }

  private cover(page: number, at: Point, other: number, there: Point): boolean {
    const a = this.size.get(page)!;
    const b = this.size.get(other)!;
    const wide = Math.min(at.x + a.width, there.x + b.width) - Math.max(at.x, there.x);
    const tall = Math.min(at.y + a.height, there.y + b.height) - Math.max(at.y, there.y);
    return wide > 0 && tall > 0 && wide * tall > mostOverlap * Math.min(a.width * a.height, b.width * b.height);
  }

  placeOf(page: number): Point {
    return this.clusterOf.get(page)!.get(page)!;
  }

  isAlone(page: number): boolean {
    return this.clusterOf.get(page)!.size === 1;
  }

  /** Whether the corner of a page shifted from this one would lie among the corners of this one's cluster. */
  liesBetween(page: number, shift: Point): boolean {
    const corners = [...this.clusterOf.get(page)!.values()];
    const at = add(this.placeOf(page), shift);
    const isAmong = (values: readonly number[], value: number) =>
      value >= Math.min(...values) - contradiction && value <= Math.max(...values) + contradiction;
    return (
      isAmong(
        corners.map(({ x }) => x),
        at.x,
      ) &&
      isAmong(
        corners.map(({ y }) => y),
        at.y,
      )
    );
  }

  /**
   * Pages that lie together by sure joins alone, in the order of `all`: a cluster is as sure as the weakest join in it, and
   * two halves of a sheet may each be sure although how they lie to each other is not.
   */
  sureParts(): readonly (readonly number[])[] {
    const partOf = new Map<number, Set<number>>();
    for (const page of this.clusterOf.keys()) partOf.set(page, new Set([page]));
    for (const { first, second, sure } of this.used) {
      const one = partOf.get(first)!;
      const two = partOf.get(second)!;
      if (!sure || one === two) continue;
      for (const page of two) {
        one.add(page);
        partOf.set(page, one);
      }
    }
    return [...new Set(partOf.values())].map((part) => [...part].sort((a, b) => a - b));
  }

  areTogether(one: number, two: number): boolean {
    return this.clusterOf.get(one) === this.clusterOf.get(two);
  }

  /** The clusters with their pages, the one with most pages first, then by page number. */
  all(): readonly (readonly (readonly [number, Point])[])[] {
    const clusters = [...new Set(this.clusterOf.values())].map((cluster) => [...cluster]);
    return clusters.sort((a, b) => b.length - a.length || a[0]![0] - b[0]![0]);
  }
}
