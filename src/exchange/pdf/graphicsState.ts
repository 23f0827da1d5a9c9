import type { Bounds } from '../../geometry/bounds';
import { type Affine, affine, chain, mapPoint } from '../drawing/affine';
import { isList, listAt, numberAt, op } from './operators';

/** What a PDF page remembers while it is drawn (ISO 32000-1, 8.4). Kept unchangeable: saving it is keeping it. */
export interface GraphicsState {
  /** From the units being drawn in to mm on the page. */
  readonly map: Affine;
  /** In the units being drawn in. */
  readonly lineWidth: number;
  readonly dash: readonly number[];
  /** `#rrggbb`; null for a pattern or nothing. */
  readonly stroke: string | null;
  readonly fill: string | null;
  readonly strokeOpacity: number;
  readonly fillOpacity: number;
  /** The window outside of which nothing shows, mm on the page. */
  readonly clip: Bounds;
  readonly text: TextState;
}

export interface TextState {
  readonly size: number;
  readonly charSpacing: number;
  readonly wordSpacing: number;
  /** 1 for letters of their own width. */
  readonly stretch: number;
  readonly leading: number;
  readonly invisible: boolean;
}

export function firstState(map: Affine, page: Bounds): GraphicsState {
  return {
    map,
    lineWidth: 1,
    dash: [],
    stroke: '#000000',
    fill: '#000000',
    strokeOpacity: 1,
    fillOpacity: 1,
    clip: page,
    text: { size: 0, charSpacing: 0, wordSpacing: 0, stretch: 1, leading: 0, invisible: false },
  };
}

/** A matrix of six numbers, or null where there is none that can be used. */
export function readMatrix(values: unknown): Affine | null {
  if (!isList(values) || values.length < 6) return null;
  const [a, b, c, d, e, f] = [0, 1, 2, 3, 4, 5].map((i) => numberAt(values, i)) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  return [a, b, c, d, e, f].every(Number.isFinite) ? affine(a, b, c, d, e, f) : null;
}

export function transformed(state: GraphicsState, matrix: Affine | null): GraphicsState {
  return matrix ? { ...state, map: chain(state.map, matrix) } : state;
}

/** The state with everything outside a box (x0, y0, x1, y1 in the units being drawn in) cut off. */
export function clippedToBox(state: GraphicsState, box: unknown): GraphicsState {
  if (!isList(box) || box.length < 4) return state;
  const [x0, y0, x1, y1] = [0, 1, 2, 3].map((i) => numberAt(box, i)) as [number, number, number, number];
  const corners = [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ].map((corner) => mapPoint(state.map, corner));
  if (!corners.every(({ x, y }) => Number.isFinite(x) && Number.isFinite(y))) return state;
  const xs = corners.map(({ x }) => x);
  const ys = corners.map(({ y }) => y);
  return clippedTo(state, {
    minX: Math.min(...xs),
    minY: Math.min(...ys),
    maxX: Math.max(...xs),
    maxY: Math.max(...ys),
  });
}

export function clippedTo(state: GraphicsState, box: Bounds): GraphicsState {
  return { ...state, clip: overlap(state.clip, box) };
}

/** What two rectangles share; minX > maxX or minY > maxY where they share nothing. */
export function overlap(a: Bounds, b: Bounds): Bounds {
  return {
    minX: Math.max(a.minX, b.minX),
    minY: Math.max(a.minY, b.minY),
    maxX: Math.min(a.maxX, b.maxX),
    maxY: Math.min(a.maxY, b.maxY),
  };
}

/** The state after an operator about colour, width or dash; the same state for any other. */
export function afterLook(operator: number, args: unknown, state: GraphicsState): GraphicsState {
  switch (operator) {
    case op.setLineWidth: {
      const lineWidth = numberAt(args, 0);
      return isSize(lineWidth) ? { ...state, lineWidth } : state;
    }
    case op.setDash:
      return { ...state, dash: readDash(listAt(args, 0)) };
    case op.setGState:
      return withSettings(state, listAt(args, 0));
    case op.setStrokeRGBColor:
      return { ...state, stroke: readColour(args) };
    case op.setFillRGBColor:
      return { ...state, fill: readColour(args) };
    case op.setStrokeColorN:
    case op.setStrokeTransparent:
      return { ...state, stroke: null };
    case op.setFillColorN:
    case op.setFillTransparent:
      return { ...state, fill: null };
    default:
      return state;
  }
}

/** Settings given as a dictionary of their own: line width, dash, opacity. */
function withSettings(state: GraphicsState, settings: unknown): GraphicsState {
  if (!Array.isArray(settings)) return state;
  let now = state;
  for (const setting of settings) {
    if (!Array.isArray(setting)) continue;
    const [key, value] = setting as [unknown, unknown];
    if (key === 'LW' && isSize(value)) now = { ...now, lineWidth: value };
    else if (key === 'D') now = { ...now, dash: readDash(isList(value) ? value[0] : null) };
    else if (key === 'CA' && isSize(value)) now = { ...now, strokeOpacity: value };
    else if (key === 'ca' && isSize(value)) now = { ...now, fillOpacity: value };
    else if (key === 'Font' && isList(value)) now = withText(now, { size: finite(numberAt(value, 1)) });
  }
  return now;
}

export function withText(state: GraphicsState, change: Partial<TextState>): GraphicsState {
  return { ...state, text: { ...state.text, ...change } };
}

/** Lengths of dashes and gaps; empty for a solid line, which a pattern of nothing but zeros is too. */
function readDash(values: unknown): readonly number[] {
  if (!isList(values) || values.length > 20) return [];
  const lengths = Array.from(values);
  if (!lengths.every(isSize) || !lengths.some((length) => length > 0)) return [];
  return lengths;
}

function readColour(values: unknown): string | null {
  const colour = isList(values) ? values[0] : null;
  return typeof colour === 'string' && /^#[0-9a-f]{6}$/i.test(colour) ? colour.toLowerCase() : null;
}

function isSize(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value) && value >= 0;
}

function finite(value: number): number {
  return Number.isFinite(value) ? value : 0;
}
