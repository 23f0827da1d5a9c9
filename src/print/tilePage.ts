import { type Bounds, boundsMeet } from '../geometry/bounds';
import { flattenPath } from '../geometry/flatten';
import { type Point, subtract } from '../geometry/point';
import type { Segment } from '../geometry/segment';
import { shifted, stroke, strokeLine, words } from './draw';
import type { DrawnItem, DrawnPath } from './drawing';
import { type Ink, inkOf } from './ink';
import { joinMarkItems } from './joinMarkItems';
import type { Join } from './joins';
import { cornerCheckItems, pageNameItems } from './pageFurniture';
import type { PagePlan, PlannedPage } from './pagePlan';
import { isInside } from './roomFor';
import { layStyle, trimStyle } from './styles';
import { type Cell, cellBounds, cellName, printedBounds } from './tileGrid';

/** The lines and words of one tile: what helps to join it below, the pieces above, all clipped to the printed area. */
export function tileItems(plan: PagePlan, page: PlannedPage & { readonly kind: 'tile' }): DrawnItem[] {
  const printed = printedBounds(plan.grid, page.cell);
  const toPage: Point = subtract(
    { x: plan.settings.margin, y: plan.settings.margin },
    { x: printed.minX, y: printed.minY },
  );
  const pattern = plan.sheet
    .filter(({ bounds, block }) => block === page.block && boundsMeet(bounds, printed, 0.5))
    .flatMap(({ item }) => onlyNear(item, printed));
  const core = cellBounds(plan.grid, page.cell);
  const ink: Ink = inkOf(pattern);
  const joins = plan.joins.flatMap((join) => joinItems(join, page.cell, core, printed));
  const check = cornerCheckItems(core, ink);
  const inside = ink.length === 0 ? insideItems(plan, core) : [];
  const name = pageNameItems(plan, page, core, [...ink, ...inkOf([...check, ...inside])]);
  const box: Bounds = {
    minX: printed.minX + toPage.x,
    minY: printed.minY + toPage.y,
    maxX: printed.maxX + toPage.x,
    maxY: printed.maxY + toPage.y,
  };
  return [
    {
      kind: 'group',
      box,
      items: [...joins, ...check, ...inside, ...name, ...pattern].map((item) => shifted(item, toPage)),
    },
  ];
}

/** On a page without any line of a piece, what it is for: without a word it would be taken for a blank. */
function insideItems(plan: PagePlan, core: Bounds): DrawnItem[] {
  const middle = { x: (core.minX + core.maxX) / 2, y: (core.minY + core.maxY) / 2 };
  const piece = plan.pieces.find(({ outer }) => isInside(middle, flattenPath(outer, 0.5)));
  if (!piece) return [];
  return [words(`inside ${piece.printable.piece.name}`, middle, 5, { align: 'middle', tone: 'soft' })];
}

/** Of a solid line only the stretches near the page; dashed lines stay whole so that their dashes meet across joins. */
function onlyNear(item: DrawnItem, area: Bounds): DrawnItem[] {
  if (item.kind !== 'path' || item.fill !== null || item.line === null || item.line.dash.length > 0) return [item];
  const style = item.line;
  const runs: Segment[][] = [];
  let open = false;
  for (const segment of item.path) {
    const near = comesNear(segment, area);
    if (near && !open) runs.push([]);
    if (near) runs[runs.length - 1]!.push(segment);
    open = near;
  }
  if (runs.length === 1 && runs[0]!.length === item.path.length) return [item];
  return runs.map((run): DrawnPath => stroke(run, style));
}

/** Whether the box of a segment's control points, which holds the curve, comes near the area. */
function comesNear(s: Segment, area: Bounds): boolean {
  const c1 = s.kind === 'line' ? s.start : s.control1;
  const c2 = s.kind === 'line' ? s.end : s.control2;
  return (
    Math.max(s.start.x, s.end.x, c1.x, c2.x) >= area.minX - 0.5 &&
    Math.min(s.start.x, s.end.x, c1.x, c2.x) <= area.maxX + 0.5 &&
    Math.max(s.start.y, s.end.y, c1.y, c2.y) >= area.minY - 0.5 &&
    Math.min(s.start.y, s.end.y, c1.y, c2.y) <= area.maxY + 0.5
  );
}

/** The line of a join with its words and marks, as this page needs it; nothing when the page has no part in it. */
function joinItems(join: Join, cell: Cell, core: Bounds, printed: Bounds): DrawnItem[] {
  const isOver = same(join.over, cell);
  if (!isOver && !same(join.under, cell)) return [];
  const marks = join.marks.flatMap((mark) => joinMarkItems(join, mark));
  const style = isOver ? trimStyle : layStyle;
  const text = isOver ? 'trim along this line' : `lay ${cellName(join.over)} on this line`;
  const size = 2.3;
  const tone = 'soft';
  if (join.kind === 'beside') {
    const x = isOver ? core.minX : core.maxX;
    // The words stand in the strip that is cut off, or that the next page covers.
    const at = { x: isOver ? x - 1.2 : x + 2.9, y: (core.minY + core.maxY) / 2 };
    return [
      strokeLine({ x, y: printed.minY }, { x, y: printed.maxY }, style),
      words(text, at, size, { align: 'middle', turn: -Math.PI / 2, tone }),
      ...marks,
    ];
  }
  const y = isOver ? core.minY : core.maxY;
  const at = { x: (core.minX + core.maxX) / 2, y: isOver ? y - 1.2 : y + 2.9 };
  return [
    strokeLine({ x: printed.minX, y }, { x: printed.maxX, y }, style),
    words(text, at, size, { align: 'middle', tone }),
    ...marks,
  ];
}

function same(a: Cell, b: Cell): boolean {
  return a.row === b.row && a.column === b.column;
}
