import { pathLength, pathPointAt } from '../geometry/path';
import { type Point, point, quarterTurn } from '../geometry/point';
import { line, type Path } from '../geometry/segment';
import { fanView } from '../gestures/fanView';
import type { TablePoint } from '../gestures/frames';
import type { Mark } from '../gestures/gesture';
import { type Handle, handlesOf, sameSelection } from '../gestures/handles';
import { type Hit, shownEdges } from '../gestures/hitTest';
import type { ScenePiece, TableScene } from '../gestures/scene';
import { hemEnds, trueView } from '../gestures/trueView';
import { formatLength } from '../units/length';
import { blankSketch, type Crowd, type Drawing, type Sketch, stroke } from './drawing';

type HandleKey = readonly [TableScene['selection'], Hit | null, TableScene['place'], TableScene['unit'], string | null];

const known = new WeakMap<ScenePiece, { readonly key: HandleKey; readonly drawing: Drawing }>();

/**
 * Live things over the piece being worked on, mm in that piece's frame: handles, what is hovered and selected. The same
 * object comes back as long as nothing about them changed.
 */
export function handleDrawing(scene: TableScene, piece: ScenePiece, hover: Hit | null): Drawing {
  const key: HandleKey = [scene.selection, hover, scene.place, scene.unit, scene.activeVersion];
  const before = known.get(piece);
  if (before?.key.every((part, index) => part === key[index])) return before.drawing;
  const drawing = drawHandles(scene, piece, hover);
  known.set(piece, { key, drawing });
  return drawing;
}

function drawHandles(scene: TableScene, piece: ScenePiece, hover: Hit | null): Drawing {
  const sketch = blankSketch();
  drawSelectedLines(sketch, scene, piece, hover);
  const hovered = hover?.kind === 'handle' ? hover.handle.selection : null;
  for (const handle of handlesOf(scene)) {
    const selected = sameSelection(handle.selection, scene.selection);
    const state = selected ? 'selected' : sameSelection(handle.selection, hovered) ? 'hovered' : 'plain';
    if (handle.stem !== null) {
      sketch.shapes.push(stroke([[line(handle.stem, handle.at)]], 'accent', 1, { alpha: 0.8 }));
    }
    const crowd = state === 'plain' ? crowds[handle.selection.kind] : undefined;
    sketch.glyphs.push({
      kind: handle.shape,
      at: handle.at,
      angle: slant(scene, piece, handle.selection),
      ink: 'accent',
      state,
      ...(crowd === undefined ? {} : { crowd }),
    });
  }
  return sketch;
}

/** With many slash lines close together only some handles are drawn; the others can still be taken hold of. */
const crowds: Partial<Record<Handle['selection']['kind'], Crowd>> = {
  slash: { name: 'slash', apart: 13 },
  opening: { name: 'opening', apart: 14 },
};

/** A slide handle lies across the way it moves. */
function slant(scene: TableScene, piece: ScenePiece, selection: Handle['selection']): number {
  if (selection.kind !== 'slash' || piece.fan === null || piece.fanned === null) return Math.PI / 2;
  const slash = fanView(piece.fanned, piece.fan).slashes.find((candidate) => candidate.id === selection.slash);
  return scene.place === 'fan' && slash !== undefined ? Math.atan2(slash.towardsSide.y, slash.towardsSide.x) : 0;
}

function drawSelectedLines(sketch: Sketch, scene: TableScene, piece: ScenePiece, hover: Hit | null): void {
  const chosen = [scene.selection, hover?.kind === 'line' ? hover.selection : null];
  for (const selection of chosen) {
    if (selection === null || selection.piece !== piece.id) continue;
    const weight = selection === scene.selection ? 2.2 : 1.8;
    if (scene.place === 'fan' && piece.fan !== null && piece.fanned !== null) {
      const view = fanView(piece.fanned, piece.fan);
      if (selection.kind === 'slash' || selection.kind === 'opening') {
        const slash = view.slashes.find((candidate) => candidate.id === selection.slash);
        if (slash !== undefined) sketch.shapes.push(stroke([slash.centreSide, slash.sideSide], 'accent', weight));
      }
      if (selection.kind === 'fullness-line' && view.fullness !== null) {
        sketch.shapes.push(stroke([view.fullness], 'accent', weight));
      }
    }
    if (selection.kind === 'edge') {
      const edge = shownEdges(scene, piece).find((candidate) => candidate.id === selection.edge);
      if (edge !== undefined) drawEdgeMeasure(sketch, scene, edge.name, edge.path);
    }
  }
  if (hover?.kind === 'edge' && hover.piece === piece.id) {
    const edge = shownEdges(scene, piece).find((candidate) => candidate.id === hover.edge);
    const isSelected = scene.selection?.kind === 'edge' && scene.selection.edge === hover.edge;
    if (edge !== undefined && !isSelected) drawEdgeMeasure(sketch, scene, edge.name, edge.path);
  }
  if (scene.place === 'true' && piece.active) drawHemStems(sketch, piece);
}

/** An edge in the accent, with its name and length outside its middle. */
function drawEdgeMeasure(sketch: Sketch, scene: TableScene, name: string, path: Path): void {
  if (path.length === 0) return;
  const length = pathLength(path);
  const middle = pathPointAt(path, length / 2);
  const outward = quarterTurn(middle.tangent);
  sketch.shapes.push(stroke([path], 'accent', 2.2));
  sketch.labels.push({
    at: middle.point,
    text: `${name}  ${formatLength(length, scene.unit)}`,
    ink: 'accent',
    size: 12,
    bold: true,
    align: outward.x > 0.4 ? 'left' : outward.x < -0.4 ? 'right' : 'center',
    shift: [outward.x * 14, outward.y * 18 + 4],
  });
}

function drawHemStems(sketch: Sketch, piece: ScenePiece): void {
  const view = trueView(piece.worked, piece.fan);
  if (view === null) return;
  for (const end of hemEnds) {
    const { corner, handle } = view.ends[end];
    sketch.shapes.push(stroke([[line(corner, handle)]], 'accent', 1, { alpha: 0.5 }));
  }
}

/** Marks of the gesture under way, table mm: what the pointer met, guides, tapes. */
export function markDrawing(marks: readonly Mark[]): Drawing {
  const sketch = blankSketch();
  for (const mark of marks) {
    switch (mark.kind) {
      case 'guide':
        sketch.shapes.push(stroke([[line(asPoint(mark.from), asPoint(mark.to))]], 'accent', 1, { dash: [2, 4] }));
        break;
      case 'snap':
        sketch.glyphs.push({ kind: 'snap', at: asPoint(mark.at), angle: 0, ink: 'accent' });
        sketch.labels.push(wordAt(asPoint(mark.at), mark.word));
        break;
      case 'measure':
        drawTape(sketch, asPoint(mark.from), asPoint(mark.to), mark.text);
        break;
      case 'label':
        sketch.labels.push(wordAt(asPoint(mark.at), mark.text));
        break;
    }
  }
  return sketch;
}

function wordAt(at: Point, text: string) {
  return { at, text, ink: 'accent', size: 11.5, bold: true, align: 'left', shift: [12, -9] } as const;
}

export function drawTape(sketch: Sketch, from: Point, to: Point, text: string): void {
  sketch.shapes.push(stroke([[line(from, to)]], 'accent', 1.4));
  const angle = Math.atan2(to.y - from.y, to.x - from.x);
  sketch.glyphs.push({ kind: 'arrow', at: to, angle, ink: 'accent' });
  sketch.glyphs.push({ kind: 'arrow', at: from, angle: angle + Math.PI, ink: 'accent' });
  if (text === '') return;
  const middle = point((from.x + to.x) / 2, (from.y + to.y) / 2);
  // Beside the tape, never on it: to its upper side.
  const up = Math.cos(angle) >= 0 ? -1 : 1;
  const shift = [-Math.sin(angle) * 14 * up, Math.cos(angle) * 14 * up + 4] as const;
  sketch.labels.push({ at: middle, text, ink: 'accent', size: 13, bold: true, align: 'center', shift });
}

function asPoint(p: TablePoint): Point {
  return point(p.across, p.down);
}
