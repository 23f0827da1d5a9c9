import { mapItems } from './assemblyMap';
import { strokeLine, words } from './draw';
import type { DrawnItem } from './drawing';
import type { PagePlan } from './pagePlan';
import { pageSize } from './paper';
import { ruleStyle } from './styles';
import { inchSquare, metricSquare, squareGap, testSquareItems } from './testSquares';
import { shortened, wrapText } from './textWidth';

interface Column {
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/** The first page: what this is, how to print and join it, the test squares and the map of the pages. */
export function firstPageItems(plan: PagePlan): DrawnItem[] {
  const page = pageSize(plan.settings);
  const left = plan.settings.margin;
  const top = plan.settings.margin;
  const width = page.width - 2 * left;
  const bottom = page.height - top;
  const upright = page.height >= page.width;
  if (upright) {
    const head = headItems(plan, left, top, width);
    const body = head.bottom + 6;
    const column: Column = { x: left + inchSquare + 8, y: body, width: width - inchSquare - 8 };
    const steps = stepItems(column, 3.7);
    const faults = faultItems({ ...column, y: steps.bottom + 2 }, 3.2);
    return [
      ...head.items,
      ...testSquareItems({ x: left, y: body }, 'down'),
      ...steps.items,
      ...faults.items,
      ...mapItems(plan, { x: column.x, y: faults.bottom + 6, width: column.width, height: bottom - faults.bottom - 6 }),
    ];
  }
  const squaresTop = bottom - inchSquare;
  const squaresWidth = metricSquare + squareGap + inchSquare;
  const textWidth = 118;
  const head = headItems(plan, left, top, textWidth);
  const steps = stepItems({ x: left, y: head.bottom + 3, width: textWidth }, 3.2);
  const right = left + width;
  const beside = { x: left + squaresWidth + 8, width: width - squaresWidth - 8 };
  const map = {
    x: left + textWidth + 10,
    y: top + 2,
    width: right - left - textWidth - 10,
    height: squaresTop - top - 8,
  };
  return [
    ...head.items,
    ...steps.items,
    ...mapItems(plan, map),
    ...testSquareItems({ x: left, y: squaresTop }, 'beside'),
    ...faultItems({ x: beside.x, y: squaresTop, width: beside.width }, 3).items,
  ];
}

function headItems(plan: PagePlan, x: number, top: number, width: number): Block {
  const { garment, version, date } = plan.title;
  const names = plan.pieces.map((p) => p.printable.piece.name).join(', ');
  const tiles = plan.pages.length - 1;
  const blanks = plan.blankPagesLeftOut;
  const pages = `${tiles} ${tiles === 1 ? 'page' : 'pages'} of ${plan.settings.paper.name} after this one${
    blanks > 0 ? `, ${blanks} blank ${blanks === 1 ? 'one' : 'ones'} left out` : ''
  }`;
  return {
    items: [
      words(shortened(garment, 9, width, true), { x, y: top + 8 }, 9, { bold: true }),
      words(shortened([version, date].filter((t) => t !== '').join(' · '), 5, width), { x, y: top + 15.5 }, 5),
      words(shortened(names, 3.8, width), { x, y: top + 21.5 }, 3.8, { tone: 'soft' }),
      words(shortened(pages, 3.8, width), { x, y: top + 26.5 }, 3.8, { tone: 'soft' }),
      strokeLine({ x, y: top + 29.5 }, { x: x + width, y: top + 29.5 }, ruleStyle),
    ],
    bottom: top + 29.5,
  };
}

const steps = [
  'Print this page alone, at 100 % or actual size. Never fit to page.',
  'Measure both squares, across and down. Print the rest only when all four measures are right.',
  'Trim a page along its grey dashed lines: at the left, at the top.',
  'Lay it on the dotted line of its neighbour. The two halves of each numbered mark must make one. Tape it.',
  'The measure is the middle of a line. Cut in the middle of the solid black line.',
];

const faults =
  'If 100 mm comes out as 97.3, a Letter page was fitted to A4; as 94.1, an A4 page to Letter; as 96.2 or 94, the page was shrunk into the margins.';

interface Block {
  readonly items: DrawnItem[];
  readonly bottom: number;
}

function stepItems(column: Column, size: number): Block {
  const leading = size * 1.3;
  const indent = size * 1.5;
  const items: DrawnItem[] = [];
  let y = column.y + size * 1.2;
  items.push(words('Measure first', { x: column.x, y }, size * 1.35, { bold: true }));
  y += leading * 1.45;
  steps.forEach((step, i) => {
    items.push(words(`${i + 1}`, { x: column.x, y }, size, { bold: true }));
    for (const text of wrapText(step, size, column.width - indent)) {
      items.push(words(text, { x: column.x + indent, y }, size));
      y += leading;
    }
    y += leading * 0.4;
  });
  return { items, bottom: y - leading };
}

function faultItems(column: Column, size: number): Block {
  const leading = size * 1.35;
  const lines = wrapText(faults, size, column.width);
  return {
    items: lines.map((text, i) =>
      words(text, { x: column.x, y: column.y + size + i * leading }, size, { tone: 'soft' }),
    ),
    bottom: column.y + lines.length * leading,
  };
}
