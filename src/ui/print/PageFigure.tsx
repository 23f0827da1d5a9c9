import { memo, useId } from 'react';
import type { DrawnItem, DrawnText, PageDrawing, Tone } from '../../print/drawing';
import { pathData } from '../outlineSvg';

/** The same greys as on paper: a page is white with black lines in any light. */
const greys: Readonly<Record<Tone | 'paper', string>> = {
  ink: '#000000',
  soft: '#5f5f5f',
  faint: '#a5a5a5',
  paper: '#ffffff',
};

interface PageFigureProps {
  readonly drawing: PageDrawing;
  readonly label: string;
  /** Thinnest line drawn, mm of the page: lines as thin as on paper would not be seen on a screen. */
  readonly thinnest: number;
}

/** A page on screen, drawn from the very list the PDF is drawn from. */
export const PageFigure = memo(function PageFigure({ drawing, label, thinnest }: PageFigureProps) {
  const id = useId();
  return (
    <svg className="page-figure" viewBox={`0 0 ${drawing.width} ${drawing.height}`} role="img" aria-label={label}>
      <rect width={drawing.width} height={drawing.height} fill="#ffffff" />
      <Items items={drawing.items} id={id} thinnest={thinnest} />
    </svg>
  );
});

interface ItemsProps {
  readonly items: readonly DrawnItem[];
  readonly id: string;
  readonly thinnest: number;
}

function Items({ items, id, thinnest }: ItemsProps) {
  return items.map((item, index) => {
    const key = `${id}-${index}`;
    if (item.kind === 'text') return <Words key={key} text={item} />;
    if (item.kind === 'path') {
      return (
        <path
          key={key}
          d={pathData(item.path, item.closed)}
          fill={item.fill === null ? 'none' : greys[item.fill]}
          stroke={item.line === null ? 'none' : greys[item.line.tone]}
          strokeWidth={item.line === null ? undefined : Math.max(item.line.width, thinnest)}
          strokeDasharray={item.line === null || item.line.dash.length === 0 ? undefined : item.line.dash.join(' ')}
        />
      );
    }
    const { minX, minY, maxX, maxY } = item.box;
    return (
      <g key={key}>
        <clipPath id={key}>
          <rect x={minX} y={minY} width={maxX - minX} height={maxY - minY} />
        </clipPath>
        <g clipPath={`url(#${key})`}>
          <Items items={item.items} id={key} thinnest={thinnest} />
        </g>
      </g>
    );
  });
}

function Words({ text }: { readonly text: DrawnText }) {
  const { x, y } = text.at;
  return (
    <text
      x={x}
      y={y}
      fontSize={text.size}
      fontFamily="Helvetica, Arial, sans-serif"
      fontWeight={text.bold ? 700 : 400}
      textAnchor={text.align}
      fill={greys[text.tone]}
      transform={text.turn === 0 ? undefined : `rotate(${(text.turn * 180) / Math.PI} ${x} ${y})`}
    >
      {text.text}
    </text>
  );
}
