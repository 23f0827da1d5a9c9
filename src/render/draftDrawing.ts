import { type PathPlace, pathLength, pathPointAt } from '../geometry/path';
import { distance, mix, type Point, quarterTurn } from '../geometry/point';
import { line, type Path, segmentPointAt } from '../geometry/segment';
import { chosenDraftSpot, draftSpots } from '../gestures/draftNodes';
import { chosenFoldEnd } from '../gestures/foldLineKeys';
import { penPath } from '../gestures/penTool';
import type { LengthUnit } from '../pattern/garment';
import type { BringInDraft, DraftShape, PenDraft } from '../store/bringIn';
import { formatLength } from '../units/length';
import { blankSketch, type Drawing, fill, type Label, type Sketch, type Stroke, stroke } from './drawing';

/** A brought-in drawing, table mm: every shape quiet, the chosen outline in ink, its corners numbered with their edges. */
export function draftDrawing(draft: BringInDraft): Drawing {
  const before = known.get(draft);
  if (before !== undefined) return before;
  const drawing = drawDraft(draft);
  known.set(draft, drawing);
  return drawing;
}

const known = new WeakMap<BringInDraft, Drawing>();

/** Opacity of an outline's inside where the picture it was taken from must stay to be seen. */
const overPicture = 0.14;

function drawDraft(draft: BringInDraft): Drawing {
  const sketch = blankSketch();
  if (draft.path !== null)
    sketch.shapes.push(fill([draft.path], 'accent-wash', draft.takenFrom === undefined ? 0.45 : overPicture));
  sketch.shapes.push(...otherLines(draft));
  if (draft.path !== null) {
    const { doubtful = [] } = draft;
    if (doubtful.length > 0) {
      // Not so dense that the edge itself could not be seen through it.
      sketch.shapes.push(stroke(doubtful, 'sheet', 10, { alpha: 0.6 }), stroke(doubtful, 'warn', 7, { alpha: 0.6 }));
    }
    sketch.shapes.push(stroke([draft.path], 'ink', 1.6));
    drawCorners(sketch, draft);
    drawFold(sketch, draft);
  }
  return sketch;
}

/** The lines that are not the outline; the same objects while they stay, so that a point is dragged over thousands of them. */
function otherLines({ shapes, outline }: BringInDraft): readonly Stroke[] {
  const before = knownLines.get(shapes);
  if (before?.outline === outline) return before.strokes;
  const others = shapes.filter((shape) => shape.id !== outline);
  const strokes = [...byDash(others)].map(([dash, paths]) => {
    const dashes = dash === '' ? {} : { dash: dash.split(' ').map(Number) };
    return outline === null
      ? stroke(paths, 'ink', 1.2, dashes)
      : stroke(paths, 'ink-soft', 1, { ...dashes, alpha: 0.7 });
  });
  knownLines.set(shapes, { outline, strokes });
  return strokes;
}

const knownLines = new WeakMap<
  BringInDraft['shapes'],
  { readonly outline: BringInDraft['outline']; readonly strokes: readonly Stroke[] }
>();

/** Where a piece drawn whole is to be folded, with a ring where its sides are farthest apart; and once folded, what it was. */
function drawFold(sketch: Sketch, draft: BringInDraft): void {
  const { lie } = draft;
  if (lie?.whole?.path != null)
    sketch.shapes.push(stroke([lie.whole.path], 'ink-soft', 1, { dash: [3, 4], alpha: 0.7 }));
  if (lie?.line == null || lie.whole !== null) return;
  const { from, to, apart, apartAt } = lie.line;
  sketch.shapes.push(stroke([[line(from, to)]], 'accent', 1.6, { dash: [12, 4, 3, 4] }));
  for (const end of ['from', 'to'] as const) {
    const state = chosenFoldEnd(draft) === end ? 'selected' : 'plain';
    sketch.glyphs.push({ kind: 'curve', at: lie.line[end], angle: 0, ink: 'accent', state });
  }
  sketch.labels.push({ at: mix(from, to, 0.5), text: 'fold', ink: 'accent', size: 12, align: 'left', shift: [8, 4] });
  if (apart < visiblyApart) return;
  sketch.glyphs.push({ kind: 'ring', at: apartAt, angle: 0, ink: 'warn' });
}

/** mm. Sides nearer than this to each other are not shown to differ: a pencil line. */
const visiblyApart = 0.5;

/** CSS pixels. A whole pattern of dashes is drawn about so long, whatever the file's own scale. */
const dashPattern = { least: 6, most: 30, perMm: 3 };

/** Shapes drawn with the same dashes together; the key is their lengths in CSS pixels, empty for solid lines. */
function byDash(shapes: readonly DraftShape[]): ReadonlyMap<string, readonly Path[]> {
  const groups = new Map<string, Path[]>();
  for (const { dash = [], path } of shapes) {
    const whole = dash.reduce((sum, length) => sum + length, 0);
    const wanted = Math.min(dashPattern.most, Math.max(dashPattern.least, whole * dashPattern.perMm));
    const key = dash.map((length) => Math.max(1, Math.round((length * wanted) / whole))).join(' ');
    const alike = groups.get(key);
    if (alike === undefined) groups.set(key, [path]);
    else alike.push(path);
  }
  return groups;
}

function drawCorners(sketch: Sketch, draft: BringInDraft): void {
  const path = draft.path!;
  const edges = edgeMiddles(path, draft.corners);
  draft.corners.forEach((corner, index) => {
    const at = segmentPointAt(path[corner.segment]!, corner.t);
    sketch.glyphs.push({ kind: 'node', at, angle: 0, ink: 'accent', state: 'selected' });
    sketch.labels.push(...edgeNames(corner.name, index + 1, edges[index]!));
  });
}

/** CSS pixels. */
const nameSize = 12;

/** Half the width of a letter as a share of the letters' size, on average. */
const halfLetter = 0.26;

/** The name of an edge outside its middle, where the edge is long enough for it on the screen, and else its number. */
function edgeNames(name: string, number: number, { place, length }: EdgeMiddle): Label[] {
  const outward = quarterTurn(place.tangent);
  const look = {
    at: place.point,
    ink: 'ink-soft',
    size: nameSize,
    align: outward.x > 0.4 ? 'left' : outward.x < -0.4 ? 'right' : 'center',
    shift: [outward.x * 12, outward.y * 16 + 4],
  } as const;
  const room = (text: string) => {
    const along = Math.abs(place.tangent.x) * text.length * nameSize * 2 * halfLetter;
    return (along + Math.abs(place.tangent.y) * nameSize * 1.3) / Math.max(length, 1e-9);
  };
  const numbered = String(number);
  return [
    { ...look, text: name, fromZoom: room(name) },
    { ...look, text: numbered, fromZoom: room(numbered), belowZoom: room(name) },
  ];
}

/** Of points so close that their signs would lie on one another only some are drawn; each can still be taken hold of. */
const pointCrowd = { name: 'point', apart: 8 } as const;

/** The points of an outline that can be moved, and the curve handles of the chosen one, table mm. */
export function draftNodesDrawing(draft: BringInDraft): Drawing {
  const before = knownNodes.get(draft);
  if (before !== undefined) return before;
  const sketch = blankSketch();
  const chosen = chosenDraftSpot(draft);
  for (const spot of draftSpots(draft)) {
    if (spot.stem !== null) sketch.shapes.push(stroke([[line(spot.stem, spot.at)]], 'accent', 1, { alpha: 0.8 }));
    const kind = spot.stem === null ? 'node' : 'curve';
    const state = spot === chosen ? 'selected' : 'plain';
    const crowd = spot === chosen || spot.stem !== null ? {} : { crowd: pointCrowd };
    sketch.glyphs.push({ kind, at: spot.at, angle: 0, ink: 'accent', state, ...crowd });
  }
  knownNodes.set(draft, sketch);
  return sketch;
}

const knownNodes = new WeakMap<BringInDraft, Drawing>();

interface EdgeMiddle {
  readonly place: PathPlace;
  /** mm. */
  readonly length: number;
}

/** Middle and length of every edge, each running from its corner to the next, round the closed outline. */
function edgeMiddles(path: Path, corners: BringInDraft['corners']): readonly EdgeMiddle[] {
  const lengths = path.map((segment) => pathLength([segment], 1e-3));
  const before: number[] = [];
  let whole = 0;
  for (const length of lengths) {
    before.push(whole);
    whole += length;
  }
  const along = corners.map(({ segment, t }) => before[segment]! + lengths[segment]! * t);
  return along.map((start, index) => {
    let end = along[(index + 1) % along.length]!;
    if (end <= start) end += whole;
    const middle = ((start + end) / 2) % whole;
    // From the start of its own segment, so that a long outline is not measured once for every edge.
    const own = Math.max(
      0,
      before.findLastIndex((length) => length <= middle),
    );
    return { place: pathPointAt([path[own]!], middle - before[own]!), length: end - start };
  });
}

/** The stitching line inside a cut line, table mm. */
export function insetDrawing(inset: Path): Drawing {
  const before = knownInsets.get(inset);
  if (before !== undefined) return before;
  const sketch = blankSketch();
  sketch.shapes.push(stroke([inset], 'accent', 1.6, { dash: [7, 4] }));
  knownInsets.set(inset, sketch);
  return sketch;
}

const knownInsets = new WeakMap<Path, Drawing>();

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
