import type { Path } from '../geometry/segment';
import { denseFrom, denseItem } from './denseItem';
import type { Fill, Label, Stroke } from './drawing';
import type { Brush } from './glyphItems';

/** A line or an area as one paper item in the drawing's own mm. Widths and dashes come out in device pixels. */
export function shapeItem(shape: Stroke | Fill, brush: Brush): paper.Item | null {
  const { scope, tokens, ratio } = brush;
  if (shape.paths.length === 0) return null;
  if (shape.paths.reduce((sum, path) => sum + path.length, 0) >= denseFrom) return denseItem(shape, brush);
  const closed = shape.kind === 'fill';
  const parts = shape.paths.map((path) => paperPath(path, closed, scope));
  const item =
    parts.length === 1 ? parts[0]! : new scope.CompoundPath({ children: parts, fillRule: 'evenodd', insert: false });
  const colour = new scope.Color(tokens.colour[shape.ink]);
  if (shape.alpha !== undefined && shape.alpha < 1) colour.alpha = shape.alpha;
  if (shape.kind === 'fill') {
    item.fillColor = colour;
    return item;
  }
  item.strokeColor = colour;
  item.strokeWidth = shape.width * ratio;
  item.strokeScaling = false;
  item.strokeJoin = 'round';
  item.strokeCap = shape.dash === undefined ? 'round' : 'butt';
  if (shape.dash !== undefined) item.dashArray = shape.dash.map((length) => length * ratio);
  return item;
}

function paperPath(path: Path, closed: boolean, scope: paper.PaperScope): paper.Path {
  const segments: paper.Segment[] = [];
  const first = path[0]!;
  segments.push(new scope.Segment(new scope.Point(first.start.x, first.start.y)));
  for (const segment of path) {
    const end = new scope.Segment(new scope.Point(segment.end.x, segment.end.y));
    if (segment.kind === 'cubic') {
      const { start, control1, control2, end: to } = segment;
      segments.at(-1)!.handleOut = new scope.Point(control1.x - start.x, control1.y - start.y);
      end.handleIn = new scope.Point(control2.x - to.x, control2.y - to.y);
    }
    segments.push(end);
  }
  const last = path.at(-1)!.end;
  const isClosed = closed || (last.x === first.start.x && last.y === first.start.y);
  return new scope.Path({ segments, closed: isClosed, insert: false });
}

/** Words about the origin in device pixels, with a rim of sheet colour so that lines under them do not disturb. */
export function labelItem(label: Label, brush: Brush): paper.Group {
  const { scope, tokens, ratio } = brush;
  const group = new scope.Group({ applyMatrix: false, insert: false });
  const [right, down] = label.shift ?? [0, 0];
  const words = {
    content: label.text,
    point: new scope.Point(right * ratio, down * ratio),
    fontFamily: tokens.font,
    fontSize: label.size * ratio,
    fontWeight: label.bold ? 600 : 400,
    justification: label.align,
    insert: false,
  };
  const rim = new scope.PointText({ ...words, fillColor: tokens.colour.sheet });
  rim.strokeColor = new scope.Color(tokens.colour.sheet);
  rim.strokeWidth = 3.5 * ratio;
  rim.strokeJoin = 'round';
  group.addChild(rim);
  group.addChild(new scope.PointText({ ...words, fillColor: tokens.colour[label.ink] }));
  return group;
}
