import { pathLength, pathPointAt } from '../geometry/path';
import { distance, type Point, quarterTurn } from '../geometry/point';
import { line, segmentPointAt } from '../geometry/segment';
import { penPath } from '../gestures/penTool';
import type { LengthUnit } from '../pattern/garment';
import type { BringInDraft, PenDraft } from '../store/bringIn';
import { formatLength } from '../units/length';
import { blankSketch, type Drawing, fill, type Sketch, stroke } from './drawing';

/** A brought-in drawing, table mm: every shape quiet, the chosen outline in ink, its corners numbered with their edges. */
export function draftDrawing(draft: BringInDraft): Drawing {
  const before = known.get(draft);
  if (before !== undefined) return before;
  const drawing = drawDraft(draft);
  known.set(draft, drawing);
  return drawing;
}

const known = new WeakMap<BringInDraft, Drawing>();

function drawDraft(draft: BringInDraft): Drawing {
  const sketch = blankSketch();
  const others = draft.shapes.filter((shape) => shape.id !== draft.outline).map((shape) => shape.path);
  if (draft.path !== null) sketch.shapes.push(fill([draft.path], 'accent-wash', 0.45));
  sketch.shapes.push(
    draft.outline === null ? stroke(others, 'ink', 1.2) : stroke(others, 'ink-soft', 1, { alpha: 0.7 }),
  );
  if (draft.path !== null) {
    sketch.shapes.push(stroke([draft.path], 'ink', 1.6));
    drawCorners(sketch, draft);
  }
  return sketch;
}

function drawCorners(sketch: Sketch, draft: BringInDraft): void {
  const path = draft.path!;
  draft.corners.forEach((corner, index) => {
    const at = segmentPointAt(path[corner.segment]!, corner.t);
    sketch.glyphs.push({ kind: 'node', at, angle: 0, ink: 'accent', state: 'selected' });
    const next = draft.corners[(index + 1) % draft.corners.length]!;
    const place = middleOf(draft, corner, next);
    if (place === null) return;
    const outward = quarterTurn(place.tangent);
    sketch.labels.push({
      at: place.point,
      text: corner.name,
      ink: 'ink-soft',
      size: 12,
      align: outward.x > 0.4 ? 'left' : outward.x < -0.4 ? 'right' : 'center',
      shift: [outward.x * 12, outward.y * 16 + 4],
    });
  });
}

interface Spot {
  readonly segment: number;
  readonly t: number;
}

/** The middle of the edge that runs from one corner to the next, round the closed outline. */
function middleOf(draft: BringInDraft, from: Spot, to: Spot) {
  const path = draft.path!;
  if (draft.corners.length === 0) return null;
  const lengths = path.map((segment) => pathLength([segment], 1e-3));
  const whole = lengths.reduce((sum, length) => sum + length, 0);
  const alongOf = ({ segment, t }: Spot) =>
    lengths.slice(0, segment).reduce((sum, length) => sum + length, 0) + lengths[segment]! * t;
  const start = alongOf(from);
  let end = alongOf(to);
  if (end <= start) end += whole;
  return pathPointAt(path, ((start + end) / 2) % whole);
}

/** The outline being drawn with the pen, table mm, with the stretch to where the next point would go. */
export function penDrawing(pen: PenDraft, unit: LengthUnit): Drawing {
  const sketch = blankSketch();
  const { nodes, next } = pen;
  const last = nodes.at(-1);
  if (last === undefined) return sketch;
  sketch.shapes.push(stroke([penPath(nodes, false)], 'ink', 1.6));
  if (next !== null) {
    const ahead = penPath([last, { at: next, handleIn: null, handleOut: null }], false);
    sketch.shapes.push(stroke([ahead], 'accent', 1.2, { dash: [5, 4] }));
    sketch.labels.push(lengthLabel(last.at, next, unit));
  }
  nodes.forEach((node, index) => {
    const latest = index === nodes.length - 1;
    for (const handle of [node.handleIn, node.handleOut]) {
      if (handle === null || !latest) continue;
      sketch.shapes.push(stroke([[line(node.at, handle)]], 'accent', 1, { alpha: 0.8 }));
      sketch.glyphs.push({ kind: 'curve', at: handle, angle: 0, ink: 'accent' });
    }
    const state = latest ? 'selected' : 'plain';
    sketch.glyphs.push({ kind: 'node', at: node.at, angle: 0, ink: 'accent', state });
  });
  return sketch;
}

function lengthLabel(from: Point, to: Point, unit: LengthUnit) {
  const text = formatLength(distance(from, to), unit);
  return { at: to, text, ink: 'accent', size: 12, bold: true, align: 'left', shift: [14, 18] } as const;
}
