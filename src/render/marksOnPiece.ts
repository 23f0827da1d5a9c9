import { pathEnd, pathPointAt, pathStart, startTangent } from '../geometry/path';
import { add, distance, heading, mix, type Point, quarterTurn, scale, subtract, unit } from '../geometry/point';
import { line, type Path } from '../geometry/segment';
import type { NotchStyle, Piece } from '../pattern/piece';
import { type Ink, type Sketch, stroke } from './drawing';

/** How strongly a piece is drawn: the one being worked on, and the others. */
export interface Tone {
  readonly ink: Ink;
  readonly outline: number;
  readonly fine: number;
}

export const fullTone: Tone = { ink: 'ink', outline: 1.6, fine: 1 };
export const softTone: Tone = { ink: 'ink-soft', outline: 1.1, fine: 0.8 };

/** Centre line on the fabric fold: long dash, dot; CSS pixels. */
export const foldDash = [14, 4, 2, 4] as const;
export const ghostDash = [5, 4] as const;
const innerDash = [7, 4] as const;

/** Depth and reach of the fold bracket, mm and share of the edge. */
const bracketDepth = 11;
const bracketFrom = 0.3;
const bracketTo = 0.7;

/** The outline edge by edge: solid, the one on the fold as dash-dot with its bracket. */
export function drawOutline(sketch: Sketch, piece: Piece, tone: Tone): void {
  const plain = piece.edges.filter((edge) => edge.id !== piece.fold).map((edge) => edge.path);
  sketch.shapes.push(stroke(plain, tone.ink, tone.outline));
  const fold = piece.edges.find((edge) => edge.id === piece.fold);
  if (fold !== undefined) drawFold(sketch, [fold.path], tone);
}

/** The fold as dash-dot, in one part or several, with the bracket whose arrows point at the longest. */
export function drawFold(sketch: Sketch, parts: readonly Path[], tone: Tone): void {
  sketch.shapes.push(stroke(parts, tone.ink, tone.outline, { dash: foldDash }));
  const chord = (path: Path) => distance(pathStart(path), pathEnd(path));
  const path = [...parts].sort((a, b) => chord(b) - chord(a))[0];
  if (path === undefined) return;
  const start = pathStart(path);
  const end = pathEnd(path);
  const inward = scale(quarterTurn(startTangent(path)), -1);
  const first = mix(start, end, bracketFrom);
  const last = mix(start, end, bracketTo);
  const inner = [add(first, scale(inward, bracketDepth)), add(last, scale(inward, bracketDepth))] as const;
  const bracket = [line(first, inner[0]), line(inner[0], inner[1]), line(inner[1], last)];
  sketch.shapes.push(stroke([bracket], tone.ink, tone.fine));
  const outward = heading(scale(inward, -1));
  sketch.glyphs.push({ kind: 'arrow', at: first, angle: outward, ink: tone.ink });
  sketch.glyphs.push({ kind: 'arrow', at: last, angle: outward, ink: tone.ink });
}

export function drawGrainline(
  sketch: Sketch,
  grainline: { readonly start: Point; readonly end: Point } | null,
  tone: Tone,
): void {
  if (grainline === null) return;
  const { start, end } = grainline;
  const along = heading(subtract(end, start));
  sketch.shapes.push(stroke([[line(start, end)]], tone.ink, tone.fine));
  sketch.glyphs.push({ kind: 'arrow', at: end, angle: along, ink: tone.ink });
  sketch.glyphs.push({ kind: 'arrow', at: start, angle: along + Math.PI, ink: tone.ink });
}

/** A notch on an edge, drawn into the piece square to the edge. `tangent` is the direction of travel. */
export function drawNotch(sketch: Sketch, at: Point, tangent: Point, style: NotchStyle, tone: Tone): void {
  const inward = heading(scale(quarterTurn(unit(tangent)), -1));
  sketch.glyphs.push({ kind: style === 'double' ? 'notch-double' : 'notch-single', at, angle: inward, ink: tone.ink });
}

export function drawDart(sketch: Sketch, legs: readonly [Point, Point], apex: Point, tone: Tone): void {
  sketch.shapes.push(stroke([[line(legs[0], apex), line(apex, legs[1])]], tone.ink, tone.fine));
  const middle = mix(legs[0], legs[1], 0.5);
  sketch.shapes.push(stroke([[line(middle, apex)]], tone.ink, tone.fine, { dash: innerDash, alpha: 0.6 }));
}

export function drawInner(sketch: Sketch, paths: readonly Path[], tone: Tone): void {
  if (paths.length > 0) sketch.shapes.push(stroke(paths, tone.ink, tone.fine, { dash: innerDash, alpha: 0.8 }));
}

/** Every mark of an ordinary piece. */
export function drawMarks(sketch: Sketch, piece: Piece, tone: Tone): void {
  drawInner(
    sketch,
    piece.internalLines.map((inner) => inner.path),
    tone,
  );
  for (const dart of piece.darts) drawDart(sketch, dart.legs, dart.apex, tone);
  drawGrainline(sketch, piece.grainline, tone);
  for (const notch of piece.notches) {
    const edge = piece.edges.find((candidate) => candidate.id === notch.edge);
    if (edge === undefined) continue;
    const place = pathPointAt(edge.path, notch.distance);
    drawNotch(sketch, place.point, place.tangent, notch.style, tone);
  }
  for (const hole of piece.drillHoles) sketch.glyphs.push({ kind: 'drill', at: hole.at, angle: 0, ink: tone.ink });
}
