import type { Bounds } from '../../geometry/bounds';
import { type Failure, fail } from '../../geometry/outcome';
import { type Affine, mapPoint, meanScale } from '../drawing/affine';
import { controlBox, type PlacedText } from '../drawing/nearText';
import {
  afterLook,
  clippedTo,
  clippedToBox,
  firstState,
  type GraphicsState,
  overlap,
  readMatrix,
  transformed,
} from './graphicsState';
import { layerOf, type PdfLayer, type PdfLayers } from './layers';
import { pdfLimits } from './limits';
import { isList, listAt, numberAt, type OperatorList, op } from './operators';
import { readStrokes, type Stroke } from './pathNumbers';
import type { PdfShape } from './pdfReading';
import type { PdfWarnings } from './pdfWarnings';
import { afterText } from './textOperators';
import { TextRuns } from './textRuns';

/** A picture as it is laid on the page: `map` takes the unit square (y up) to mm. `source` is what the operator named. */
export interface LaidPicture {
  readonly map: Affine;
  readonly source: unknown;
}

export type DrawnOnPage = Omit<PdfShape, 'id' | 'nearText'>;

const strokes: ReadonlySet<number> = new Set([
  op.stroke,
  op.closeStroke,
  op.fillStroke,
  op.eoFillStroke,
  op.closeFillStroke,
  op.closeEOFillStroke,
]);
const fills: ReadonlySet<number> = new Set([
  op.fill,
  op.eoFill,
  op.fillStroke,
  op.eoFillStroke,
  op.closeFillStroke,
  op.closeEOFillStroke,
]);

/** A shape this large both ways, as a share of the page, with a fill and no line is the page's background. */
const backgroundShare = 0.95;

/** mm. A shape that the page does not show is kept only to tell how pages lie; smaller ones are letters and ticks. */
const smallestUnseen = 15;

/** Follows the operators of one page and gathers what is drawn, mm on the page. Never throws, whatever they hold. */
export class PageDrawing {
  readonly shapes: DrawnOnPage[] = [];
  readonly pictures: LaidPicture[] = [];
  segments = 0;
  failure: Failure | null = null;
  private readonly runs = new TextRuns();
  private state: GraphicsState;
  private readonly saved: GraphicsState[] = [];
  private clipNext = false;
  /** Layers entered; null for marked content that is no layer. */
  private readonly layerStack: (PdfLayer | null)[] = [];
  /** Inside groups that only make a mask. */
  private masks = 0;
  private readonly groups: boolean[] = [];

  constructor(
    private readonly page: { readonly width: number; readonly height: number; readonly map: Affine },
    private readonly layers: PdfLayers,
    private readonly warnings: PdfWarnings,
  ) {
    this.state = firstState(page.map, { minX: 0, minY: 0, maxX: page.width, maxY: page.height });
  }

  get texts(): PlacedText[] {
    return this.runs.texts();
  }

  follow({ fnArray, argsArray }: OperatorList): void {
    for (let i = 0; i < fnArray.length && !this.failure; i++) this.obey(fnArray[i]!, argsArray[i]);
  }

  private obey(operator: number, args: unknown): void {
    switch (operator) {
      case op.save:
        this.save();
        break;
      case op.restore:
        this.restore();
        break;
      case op.transform:
        this.state = transformed(this.state, readMatrix(args));
        break;
      case op.paintFormXObjectBegin:
        this.save();
        this.state = transformed(this.state, readMatrix(listAt(args, 0)));
        this.state = clippedToBox(this.state, listAt(args, 1));
        break;
      case op.paintFormXObjectEnd:
        this.restore();
        break;
      case op.beginGroup:
        this.beginGroup(args);
        break;
      case op.endGroup:
        if (this.groups.pop()) this.masks--;
        this.restore();
        break;
      case op.beginMarkedContent:
        this.layerStack.push(null);
        break;
      case op.beginMarkedContentProps:
        this.layerStack.push(isList(args) && args[0] === 'OC' ? layerOf(args[1], this.layers) : null);
        break;
      case op.endMarkedContent:
        this.layerStack.pop();
        break;
      case op.clip:
      case op.eoClip:
        this.clipNext = true;
        break;
      case op.constructPath:
        this.path(args);
        break;
      case op.paintImageXObject:
      case op.paintInlineImageXObject:
      case op.paintImageMaskXObject:
      case op.paintImageXObjectRepeat:
        if (this.pictures.length < pdfLimits.texts) {
          this.pictures.push({ map: this.state.map, source: isList(args) ? args[0] : null });
        }
        break;
      default:
        this.state =
          afterText(operator, args, this.state, this.masks === 0 ? this.runs : null) ??
          afterLook(operator, args, this.state);
    }
  }

  private save(): void {
    this.saved.push(this.state);
  }

  private restore(): void {
    const state = this.saved.pop();
    if (state) this.state = state;
  }

  private beginGroup(args: unknown): void {
    this.save();
    const group = isList(args) ? args[0] : null;
    const { smask, bbox, matrix } = (typeof group === 'object' && group !== null ? group : {}) as {
      smask?: unknown;
      bbox?: unknown;
      matrix?: unknown;
    };
    const isMask = smask !== null && smask !== undefined;
    this.groups.push(isMask);
    if (isMask) this.masks++;
    const placed = transformed(this.state, readMatrix(matrix));
    this.state = { ...this.state, clip: clippedToBox(placed, bbox).clip };
  }

  private path(args: unknown): void {
    const paint = numberAt(args, 0);
    const data = listAt(listAt(args, 1), 0) as ArrayLike<number> | null;
    const clips = this.clipNext;
    this.clipNext = false;
    if (!data) return;
    const { state } = this;
    const stroked = strokes.has(paint) && state.stroke !== null;
    const filled = fills.has(paint) && state.fill !== null;
    const drawn = (stroked || filled) && this.masks === 0;
    if (!clips && !drawn) return;
    const read = readStrokes(data, state.map, fills.has(paint));
    this.segments += read.count;
    if (this.segments > pdfLimits.pageSegments) this.failure ??= tooManyPoints();
    if (clips) this.state = clippedTo(state, boxOfAll(read.strokes));
    if (!drawn) return;
    this.warnings.note('too-far', read.tooFar);
    const lined = stroked && state.strokeOpacity > 0 && !isWhite(state.stroke);
    if (!lined && !(filled && state.fillOpacity > 0 && !isWhite(state.fill))) {
      this.warnings.note('white', read.strokes.length);
      return;
    }
    for (const stroke of read.strokes) this.keep(stroke, lined);
    if (this.shapes.length > pdfLimits.pageShapes) this.failure ??= tooManyShapes();
  }

  private keep({ path, closed }: Stroke, lined: boolean): void {
    const { state, page } = this;
    const box = controlBox(path);
    const isBackground =
      !lined &&
      box.maxX - box.minX > backgroundShare * page.width &&
      box.maxY - box.minY > backgroundShare * page.height &&
      path.length <= 5;
    if (isBackground) {
      this.warnings.note('background');
      return;
    }
    const seen = seenPart(box, state.clip);
    if (!seen && Math.hypot(box.maxX - box.minX, box.maxY - box.minY) < smallestUnseen) return;
    const layer = this.layerStack.findLast((entered) => entered !== null) ?? null;
    if (this.layerStack.some((entered) => entered && !entered.shown)) this.warnings.note('hidden-layer');
    const scale = meanScale(state.map);
    this.shapes.push({
      path,
      closed,
      strokeDash: lined && state.dash.length > 0 ? state.dash.map((length) => inMm(length * scale)).join(' ') : null,
      colour: lined ? state.stroke : state.fill,
      lineWidth: lined ? Number(inMm(state.lineWidth * scale)) : 0,
      filled: !lined,
      layer: layer ? layer.name.slice(0, pdfLimits.words) : null,
      name: null,
      seen,
    });
  }
}

/** mm with as many digits as a dash needs to be told from another. */
function inMm(length: number): string {
  return String(Number(length.toFixed(3)));
}

function isWhite(colour: string | null): boolean {
  return colour === '#ffffff';
}

function boxOfAll(all: readonly Stroke[]): Bounds {
  return controlBox(all.flatMap(({ path }) => path));
}

/** What can be seen of a box through a window; null for nothing. A line along the window's edge is seen. */
function seenPart(box: Bounds, clip: Bounds): Bounds | null {
  const part = overlap(box, clip);
  return part.minX <= part.maxX && part.minY <= part.maxY ? part : null;
}

/** mm box of a picture: the unit square under its map. */
export function pictureBox(map: Affine): Bounds {
  const corners = [0, 1].flatMap((x) => [0, 1].map((y) => mapPoint(map, { x, y })));
  return {
    minX: Math.min(...corners.map(({ x }) => x)),
    minY: Math.min(...corners.map(({ y }) => y)),
    maxX: Math.max(...corners.map(({ x }) => x)),
    maxY: Math.max(...corners.map(({ y }) => y)),
  };
}

function tooManyPoints(): Failure {
  return fail(
    'pdf-too-many-points',
    `A page of this file holds more than ${pdfLimits.pageSegments.toLocaleString('en')} points. Save only the pages with the pattern pieces and open those.`,
  );
}

function tooManyShapes(): Failure {
  return fail(
    'pdf-too-many-shapes',
    `A page of this file holds more than ${pdfLimits.pageShapes.toLocaleString('en')} separate lines. Save only the pages with the pattern pieces and open those.`,
  );
}
