import { type Bounds, boundsMeet } from '../geometry/bounds';
import { type Bundle, bundle, drawStrand, strandOf } from './denseLines';
import type { Fill, Stroke } from './drawing';
import type { Brush } from './glyphItems';

/** From this many lines and curves on a shape is painted bundle by bundle instead of as one path of paper's. */
export const denseFrom = 1500;

/** Steps shorter than this are left out, device pixels. */
const unseen = 0.35;

/** What paper hands to an item's own painting; its type file leaves it out. */
type Paint = (context: CanvasRenderingContext2D, param: unknown, view: paper.Matrix) => void;

/**
 * A line or an area of very many steps as one item. Only what is in sight is painted, and only in such steps as the zoom
 * lets be seen; each of it is made once for a doubling of the zoom, when it first comes into sight.
 */
export function denseItem(shape: Stroke | Fill, brush: Brush): paper.Item {
  const item = new brush.scope.Group({ applyMatrix: false, insert: false });
  (item as unknown as { _draw: Paint })._draw =
    shape.kind === 'fill' ? areaPaint(shape, brush) : linePaint(shape, brush);
  return item;
}

function linePaint(shape: Stroke, { scope, tokens, ratio }: Brush): Paint {
  const bundles = bundle(shape.paths, shape.dash !== undefined);
  const colour = mixed(scope, tokens.colour[shape.ink], tokens.colour.sheet, shape.alpha ?? 1);
  const pathOf = keptByZoom<Bundle>(({ strands }, apart) => {
    const path = new Path2D();
    for (const strand of strands) drawStrand(strand, apart, path);
    return path;
  });
  return (context, _, view) => {
    const scale = view.a;
    const width = (shape.width * ratio) / scale;
    const seen = inSight(context, view, width);
    context.strokeStyle = colour;
    context.lineWidth = width;
    context.lineJoin = 'round';
    context.lineCap = shape.dash === undefined ? 'round' : 'butt';
    if (shape.dash !== undefined) context.setLineDash(shape.dash.map((length) => (length * ratio) / scale));
    for (const one of bundles) if (boundsMeet(one.bounds, seen, 0)) context.stroke(pathOf(one, scale));
  };
}

function areaPaint(shape: Fill, { scope, tokens }: Brush): Paint {
  const colour = new scope.Color(tokens.colour[shape.ink]);
  if (shape.alpha !== undefined) colour.alpha = shape.alpha;
  const style = colour.toCSS(false);
  const strands = shape.paths.map(strandOf);
  const pathOf = keptByZoom<Fill>((_, apart) => {
    const path = new Path2D();
    for (const strand of strands) drawStrand(strand, apart, path);
    return path;
  });
  return (context, _, view) => {
    context.fillStyle = style;
    context.fill(pathOf(shape, view.a), 'evenodd');
  };
}

/** The table's part that is on the canvas, mm in the item's frame, and a margin round it. */
function inSight({ canvas }: CanvasRenderingContext2D, { a, tx, ty }: paper.Matrix, margin: number): Bounds {
  return {
    minX: -tx / a - margin,
    minY: -ty / a - margin,
    maxX: (canvas.width - tx) / a + margin,
    maxY: (canvas.height - ty) / a + margin,
  };
}

/** Keeps what was made for the present doubling of the zoom; going to another one makes it anew. */
function keptByZoom<Of extends object>(make: (of: Of, apart: number) => Path2D): (of: Of, scale: number) => Path2D {
  let made = new WeakMap<Of, Path2D>();
  let level = Number.NaN;
  return (of, scale) => {
    const now = Math.ceil(Math.log2(scale));
    if (now !== level) {
      made = new WeakMap();
      level = now;
    }
    const known = made.get(of);
    if (known !== undefined) return known;
    const path = make(of, unseen / 2 ** level);
    made.set(of, path);
    return path;
  };
}

/** A faint line as the colour it has on the sheet: where bundles meet, see-through lines would be seen twice. */
function mixed(scope: paper.PaperScope, ink: string, sheet: string, share: number): string {
  const over = new scope.Color(ink);
  return new scope.Color(sheet)
    .multiply(1 - share)
    .add(over.multiply(share))
    .toCSS(false);
}
