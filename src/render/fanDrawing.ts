import { nearestOnPath } from '../geometry/nearest';
import { pathPointAt } from '../geometry/path';
import { add, distance, mix, type Point, quarterTurn, scale, subtract, unit } from '../geometry/point';
import { line, type Path } from '../geometry/segment';
import type { DartView } from '../gestures/dartView';
import { fanView } from '../gestures/fanView';
import { openingAtHem } from '../gestures/openingDrag';
import type { ScenePiece } from '../gestures/scene';
import { fullnessCutId } from '../operations/fan';
import type { FannedPiece, WorkedEdge } from '../operations/worked';
import type { LengthUnit } from '../pattern/garment';
import { formatLength } from '../units/length';
import { fill, type Sketch, stroke } from './drawing';
import { joinRuns } from './joinRuns';
import { drawDart, drawFold, drawGrainline, drawInner, drawNotch, ghostDash, type Tone } from './marksOnPiece';

/** A piece cut along its slash lines and swung open: strips on their wedges, hinges, and what each opening measures. */
export function drawFan(sketch: Sketch, piece: ScenePiece, unitShown: LengthUnit, tone: Tone): void {
  const { fanned, fan } = piece;
  if (fanned === null || fan === null) return;
  const view = fanView(fanned, fan);
  const wedges = fanned.edges.flatMap((edge) => edge.segments.map((traced) => traced.segment));
  sketch.shapes.push(fill([wedges], 'accent-wash'));
  for (const panel of view.panels) sketch.shapes.push(fill([panel], 'sheet'));

  drawClosedDarts(sketch, view.darts);

  // The cuts, both sides of each, under the outline.
  const cuts = view.slashes.flatMap((slash) => [slash.centreSide, slash.sideSide]);
  const lineDash = piece.proposed ? { dash: [6, 4] } : {};
  sketch.shapes.push(stroke(cuts, 'accent', 1, lineDash));
  if (view.fullness !== null) {
    sketch.shapes.push(stroke(stripTops(piece), 'accent', 1, { alpha: 0.7 }));
    sketch.shapes.push(stroke([view.fullness], 'accent', 1.4, lineDash));
  }

  for (const edge of fanned.edges) drawFannedEdge(sketch, edge, edge.id === fanned.source.fold, tone);
  drawCarriedMarks(sketch, fanned, tone);

  if (piece.proposed) return;
  for (const slash of view.slashes) {
    sketch.glyphs.push({ kind: 'dot', at: slash.hinge, angle: 0, ink: 'accent' });
    if (piece.active) drawOpeningMeasure(sketch, piece, slash, unitShown);
  }
  for (const dart of view.darts) {
    sketch.glyphs.push({ kind: 'dot', at: dart.apex, angle: 0, ink: 'accent' });
    if (!piece.active) continue;
    const { closed, hemCentre, hemSide, apex } = dart;
    drawMeasure(
      sketch,
      closed.opening,
      { hemCentre, hemSide, hinge: apex },
      unitShown,
      view.slashes.length > 0 ? dartRow : slashRow,
    );
  }
  if (view.sideHinge !== null) sketch.glyphs.push({ kind: 'dot', at: view.sideHinge, angle: 0, ink: 'accent' });
}

/** The wedges below closed darts, as other wedges, and faintly where the legs lay and where they meet now. */
function drawClosedDarts(sketch: Sketch, darts: readonly DartView[]): void {
  if (darts.length === 0) return;
  sketch.shapes.push(
    fill(
      darts.flatMap(({ wedge }) => wedge),
      'accent-wash',
    ),
  );
  sketch.shapes.push(
    stroke(
      darts.flatMap(({ banks }) => banks),
      'accent',
      1,
    ),
  );
  const legs = darts.map(({ closed: { before } }) => [
    line(before.legs[0], before.apex),
    line(before.apex, before.legs[1]),
  ]);
  sketch.shapes.push(stroke(legs, 'ink-soft', 1, { dash: ghostDash, alpha: 0.8 }));
  const seams = darts.flatMap(({ seam }) => seam);
  if (seams.length > 0) sketch.shapes.push(stroke(seams, 'ink-soft', 1));
}

/** An edge of the fanned piece: what was cut from the block in ink, what bridges an opening as a thin dashed line. */
function drawFannedEdge(sketch: Sketch, edge: WorkedEdge, isFold: boolean, tone: Tone): void {
  const kept = edge.segments.filter((traced) => traced.origin.kind === 'own').map((traced) => traced.segment);
  const bridged = edge.segments.filter((traced) => traced.origin.kind !== 'own').map((traced) => traced.segment);
  const parts = joinRuns(kept);
  if (isFold) drawFold(sketch, parts, tone);
  else sketch.shapes.push(stroke(parts, tone.ink, tone.outline));
  if (bridged.length > 0) {
    sketch.shapes.push(
      stroke(
        bridged.map((segment) => [segment]),
        'accent',
        1,
        { dash: [3, 3] },
      ),
    );
  }
}

/** The upper ends of the strips: the parts of their boundaries that lay on the fullness line. */
function stripTops(piece: ScenePiece): Path[] {
  const { fanned, fan } = piece;
  if (fanned === null || fan === null) return [];
  const view = fanView(fanned, fan);
  const slashTops = view.slashes;
  // From the centre line to the side hinge the strips' tops run through the slash hinges; the first one starts where
  // the centre strip was cut off.
  const tops: Path[] = [];
  const centre = centreTop(fanned, fan.centre);
  let from = centre;
  for (const slash of slashTops) {
    if (from !== null) tops.push([{ kind: 'line', start: from, end: slash.hinge }]);
    from = slash.hinge;
  }
  if (from !== null && view.sideHinge !== null) tops.push([{ kind: 'line', start: from, end: view.sideHinge }]);
  return tops;
}

/** The upper end of the centre strip: the far end of the bridge on the centre line. */
function centreTop(fanned: FannedPiece, centre: string): Point | null {
  const edge = fanned.edges.find((candidate) => candidate.id === centre);
  const bridge = edge?.segments.find((traced) => traced.origin.kind !== 'own');
  if (edge === undefined || bridge === undefined) return null;
  const cut = fanned.cuts.find((candidate) => bridge.origin.kind === 'gap' && candidate.id === bridge.origin.cut);
  if (cut === undefined) return null;
  const unmoved = cut.path[0]!.start;
  const { start, end } = bridge.segment;
  return distance(start, unmoved) < distance(end, unmoved) ? end : start;
}

function drawCarriedMarks(sketch: Sketch, fanned: FannedPiece, tone: Tone): void {
  const { marks } = fanned;
  // The fullness line is among them, but here it is drawn as the cut it is.
  for (const inner of marks.internalLines) if (inner.id !== fullnessCutId) drawInner(sketch, inner.paths, tone);
  for (const dart of marks.darts) drawDart(sketch, dart.legs, dart.apex, tone);
  drawGrainline(sketch, marks.grainline, tone);
  for (const hole of marks.drillHoles) sketch.glyphs.push({ kind: 'drill', at: hole.at, angle: 0, ink: tone.ink });
  for (const notch of marks.notches) {
    const edge = fanned.edges.find((candidate) => candidate.id === notch.edge);
    if (edge === undefined || edge.segments.length === 0) continue;
    const path = edge.segments.map((traced) => traced.segment);
    const { tangent } = pathPointAt(path, nearestOnPath(path, notch.at).along);
    drawNotch(sketch, notch.at, tangent, notch.style, tone);
  }
}

/** Openings narrower than this are drawn without their measure, mm. */
const smallestMeasure = 2;

/** The measure of an opening, below the hem in the middle of its wedge. */
function drawOpeningMeasure(
  sketch: Sketch,
  piece: ScenePiece,
  slash: ReturnType<typeof fanView>['slashes'][number],
  unitShown: LengthUnit,
): void {
  const opening = openingAtHem(piece, slash.id);
  if (opening !== null) drawMeasure(sketch, opening, slash, unitShown, slashRow);
}

/** Where measures stand: how far outside the hem, CSS pixels. */
interface MeasureRow {
  readonly name: string;
  readonly out: number;
}

const slashRow: MeasureRow = { name: 'opening', out: 16 };

/** Further out: a slash line may run through the wedge of a dart, and the middles of both fall together. */
const dartRow: MeasureRow = { name: 'dart-opening', out: 34 };

interface OpeningEnds {
  readonly hemCentre: Point;
  readonly hemSide: Point;
  readonly hinge: Point;
}

function drawMeasure(
  sketch: Sketch,
  opening: number,
  { hemCentre, hemSide, hinge }: OpeningEnds,
  unitShown: LengthUnit,
  row: MeasureRow,
): void {
  if (Math.abs(opening) < smallestMeasure) return;
  const middle = mix(hemCentre, hemSide, 0.5);
  const across = unit(subtract(hemSide, hemCentre));
  // Out of the piece: away from the hinge.
  const normal = quarterTurn(across);
  const outward = distance(add(middle, normal), hinge) > distance(middle, hinge) ? normal : scale(normal, -1);
  sketch.labels.push({
    at: middle,
    text: formatLength(opening, unitShown, { bare: true }),
    ink: 'accent',
    size: 12,
    bold: true,
    align: 'center',
    shift: [outward.x * row.out, outward.y * row.out + 4],
    crowd: { name: row.name, apart: 36 },
  });
}
