import type { Point } from '../../geometry/point';
import { furnitureOf } from './furniture';
import { labelJoins } from './labelJoins';
import { lineEndJoins } from './lineEndJoins';
import { lineEnds } from './lineEnds';
import { markJoins } from './matchMarks';
import { orderJoins } from './orderJoins';
import type { PageArrangement, PagePlace } from './pageArrangement';
import { PageClusters } from './pageClusters';
import type { PageJoin } from './pageJoin';
import type { PdfPage } from './pdfReading';
import { ReadingOrder } from './readingOrder';
import { sameDrawingJoins } from './sameDrawing';

/** mm between pages that were not joined. */
const apart = 20;

/** A join with this share of another's evidence is its rival. */
const rivalShare = 0.9;

/** Pages in a row when nothing tells how they lie. */
const inRow = 6;

/**
 * Lays the pages of a tiled pattern together: by the same lines drawn on several pages, by lines that are cut at one
 * page's border and go on at another's, by match marks, then by what is written on the pages; the rest side by side. The surest joins
 * are taken first and every further one is checked against them. What was done, and what is unsure, is told in `notes`.
 */
export function arrangePages(pages: readonly PdfPage[]): PageArrangement {
  const furniture = furnitureOf(pages);
  const clusters = new PageClusters(pages);
  const same = sameDrawingJoins(pages, furniture);
  const lines = lineEndJoins(pages, lineEnds(pages, furniture));
  const order = new ReadingOrder(lines);
  const ends = withoutDenied(withoutRivals(lines, order), same);
  for (const join of surestFirst([...same, ...ends, ...markJoins(pages)], order)) clusters.take(join);
  const byLines = [...clusters.used];
  const labelled = takeFurther(clusters, labelJoins(pages, clusters));
  const ordered = takeFurther(clusters, orderJoins(pages, clusters, order));
  const places = layOut(clusters, new Map(pages.map((page) => [page.number, page])));
  const { joined, weak } = sureness(clusters);
  const how = howOf(byLines, labelled);
  return {
    places,
    how,
    worst: clusters.worst,
    joined,
    notes: notesOf(pages, clusters, byLines, weak, labelled, ordered),
  };
}

/** Takes joins between pages that nothing has joined yet; answers the pages that were laid by them. */
function takeFurther(clusters: PageClusters, joins: readonly PageJoin[]): number[] {
  const laid: number[] = [];
  for (const join of joins) {
    if (clusters.areTogether(join.first, join.second)) continue;
    clusters.take(join);
    if (clusters.areTogether(join.first, join.second)) laid.push(join.second);
  }
  return laid;
}

/** Whole drawings first, then by sureness, by how many things agree, and by how near the pages follow each other. */
function surestFirst(joins: readonly PageJoin[], order: ReadingOrder): readonly PageJoin[] {
  const rank = (join: PageJoin) => (join.sure ? 2 : 0) + (join.how === 'same-drawing' ? 1 : 0);
  const evidence = (join: PageJoin) => evidenceOf(join) * (order.holds(join) ? 2 : 1);
  const follow = (join: PageJoin) => Math.abs(join.second - join.first);
  return [...joins].sort(
    (a, b) => rank(b) - rank(a) || evidence(b) - evidence(a) || follow(a) - follow(b) || a.first - b.first,
  );
}

function evidenceOf(join: PageJoin): number {
  return join.matches * join.agreement;
}

/**
 * A border that fits several pages as well is joined surely only in the order of the file; else the pages that repeat
 * could be taken for one another.
 */
function withoutRivals(joins: readonly PageJoin[], order: ReadingOrder): PageJoin[] {
  const sides = new Map<string, number[]>();
  const sidesOf = ({ first, second, shift }: PageJoin) => {
    const way = Math.abs(shift.x) > Math.abs(shift.y) ? 'beside' : 'below';
    return [`${first} ${way}`, `${way} ${second}`];
  };
  for (const join of joins) {
    for (const side of sidesOf(join)) sides.set(side, [...(sides.get(side) ?? []), evidenceOf(join)]);
  }
  return joins.map((join) => {
    const alike = (side: string) => sides.get(side)!.filter((other) => other >= rivalShare * evidenceOf(join)).length;
    const rivals = sidesOf(join).some((side) => alike(side) > 1);
    return rivals && !order.holds(join) ? { ...join, sure: false } : join;
  });
}

/** mm. Two joins of the same pages that differ by more say different things. */
const sameJoin = 1;

/** Line ends that meet at another place than the one where the same drawing lies on both pages are no sure join. */
function withoutDenied(joins: readonly PageJoin[], same: readonly PageJoin[]): PageJoin[] {
  const shifts = new Map(same.map(({ first, second, shift }) => [`${first},${second}`, shift]));
  return joins.map((join) => {
    const there = shifts.get(`${join.first},${join.second}`);
    const back = shifts.get(`${join.second},${join.first}`);
    const said = there ?? (back && { x: -back.x, y: -back.y });
    const denied = said && Math.hypot(said.x - join.shift.x, said.y - join.shift.y) > sameJoin;
    return denied ? { ...join, sure: false } : join;
  });
}

function howOf(byLines: readonly PageJoin[], labelled: readonly number[]): PageArrangement['how'] {
  const count = (how: PageJoin['how']) => byLines.filter((join) => join.how === how).length;
  if (byLines.length === 0) return labelled.length > 0 ? 'labels' : 'side-by-side';
  if (2 * count('same-drawing') >= byLines.length) return 'same-drawing';
  return count('marks') > count('line-ends') ? 'marks' : 'line-ends';
}

/**
 * Of every sheet, the pages joined surely to its largest sure part are `joined`; the others of the sheet are `weak`, in the
 * parts that are sure in themselves.
 */
function sureness(clusters: PageClusters): { joined: number[]; weak: (readonly number[])[] } {
  const parts = clusters.sureParts();
  const joined: number[] = [];
  const weak: (readonly number[])[] = [];
  for (const cluster of clusters.all()) {
    const pages = new Set(cluster.map(([page]) => page));
    const [main, ...others] = parts
      .filter(([first]) => pages.has(first!))
      .sort((a, b) => b.length - a.length || a[0]! - b[0]!);
    if (main!.length > 1) joined.push(...main!);
    if (cluster.length > 1) weak.push(...(main!.length > 1 ? others : parts.filter(([first]) => pages.has(first!))));
  }
  return { joined: joined.sort((a, b) => a - b), weak };
}

/** Clusters beside each other, single pages in rows below, corners of the whole at 0, 0. */
function layOut(clusters: PageClusters, pages: ReadonlyMap<number, PdfPage>): PagePlace[] {
  const places: PagePlace[] = [];
  const all = clusters.all();
  let x = 0;
  let bottom = 0;
  for (const cluster of all.filter((members) => members.length > 1)) {
    const minX = Math.min(...cluster.map(([, at]) => at.x));
    const minY = Math.min(...cluster.map(([, at]) => at.y));
    for (const [page, at] of cluster) places.push({ page, at: { x: x + at.x - minX, y: at.y - minY } });
    x += Math.max(...cluster.map(([page, at]) => at.x - minX + pages.get(page)!.width)) + apart;
    bottom = Math.max(bottom, ...cluster.map(([page, at]) => at.y - minY + pages.get(page)!.height));
  }
  const single = all.filter((members) => members.length === 1).map(([member]) => pages.get(member![0])!);
  let corner: Point = { x: 0, y: bottom > 0 ? bottom + apart : 0 };
  let tall = 0;
  single.forEach((page, i) => {
    if (i > 0 && i % inRow === 0) {
      corner = { x: 0, y: corner.y + tall + apart };
      tall = 0;
    }
    places.push({ page: page.number, at: corner });
    corner = { x: corner.x + page.width + apart, y: corner.y };
    tall = Math.max(tall, page.height);
  });
  return places.sort((a, b) => a.page - b.page);
}

function notesOf(
  pages: readonly PdfPage[],
  clusters: PageClusters,
  used: readonly PageJoin[],
  weak: readonly (readonly number[])[],
  labelled: readonly number[],
  ordered: readonly number[],
): string[] {
  if (pages.length < 2) return [];
  const notes: string[] = [];
  const lying = clusters.all().filter((members) => members.length > 1);
  const count = (how: PageJoin['how']) => used.filter((join) => join.how === how).length;
  if (count('same-drawing') > 0) {
    notes.push(`${counted(count('same-drawing'), 'join')} found by lines drawn on two pages alike.`);
  }
  if (count('line-ends') > 0) {
    notes.push(`${counted(count('line-ends'), 'join')} found by lines that go on across the border.`);
  }
  if (count('marks') > 0) notes.push(`${counted(count('marks'), 'join')} found by match marks at the borders.`);
  if (used.length > 0) notes.push(`Where pages meet, lines are at most ${clusters.worst.toFixed(2)} mm apart.`);
  if (labelled.length > 0) {
    notes.push(`${list(labelled)} laid by the row and column written on them only. Drag them until their lines meet.`);
  }
  if (ordered.length > 0) {
    notes.push(`${list(ordered)} laid by the order of the pages only: no line joins them to the others.`);
  }
  const told = new Set([...labelled, ...ordered]);
  const doubtful = weak.filter((part) => part.length === 1).flat();
  const single = doubtful.filter((page) => !told.has(page)).sort((a, b) => a - b);
  if (single.length > 0) notes.push(`${list(single)} joined by very few lines. Look whether they lie right.`);
  for (const part of weak) {
    if (part.length > 1) {
      notes.push(
        `${list(part)} joined surely to each other, but to the rest of the sheet by very few lines only. Look whether they lie right there.`,
      );
    }
  }
  if (clusters.contradictions > 0) {
    notes.push(
      `${counted(clusters.contradictions, 'join')} did not agree with the others and ${clusters.contradictions === 1 ? 'was' : 'were'} left out. Look at the pages.`,
    );
  }
  if (lying.length > 1) notes.push(`The pages make ${lying.length} separate sheets, laid beside each other.`);
  const loose = clusters.all().filter((members) => members.length === 1);
  if (loose.length > 0) {
    const numbers = loose.map(([member]) => member![0]).sort((a, b) => a - b);
    notes.push(`${list(numbers)} not joined to any other; lay them by hand if they belong to the sheet.`);
  }
  return notes;
}

function counted(count: number, thing: string): string {
  return count === 1 ? `1 ${thing}` : `${count} ${thing}s`;
}

/** `Page 3 is`, `Pages 3, 4 and 7 are`; many are cut short. */
function list(pages: readonly number[]): string {
  if (pages.length === 1) return `Page ${pages[0]} is`;
  const shown = pages.slice(0, 12);
  const rest = pages.length - shown.length;
  const tail = rest > 0 ? `${rest} more` : String(shown.pop());
  return `Pages ${shown.join(', ')} and ${tail} are`;
}
