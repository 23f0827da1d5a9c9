import type { Failure } from '../../geometry/outcome';
import { type Affine, affine, chain, identity, mapPoint, meanScale } from '../drawing/affine';
import type { DrawnMark, DrawnShape } from '../drawing/drawingReading';
import { controlBox, type PlacedText, textNear } from '../drawing/nearText';
import { placePath } from '../drawing/placePath';
import type { Block, DxfDocument } from './document';
import type { DxfWarning, WarningCount } from './dxfWarnings';
import { planeMap } from './frame';
import { dxfLimits } from './limits';
import { type Look, lookOf } from './look';
import { drawsLine, outlineOf, passedOver, silent } from './outlines';
import { type Entry, hasFlag, numberIn } from './pairs';
import { isPieceBlock, layerInWords, pieceName, wordsOf } from './pieceFile';
import { PieceMarks } from './pieceMarks';
import { placingOf } from './placing';
import { refusals } from './refusals';

/** What surrounds an entity while the drawing is walked. */
interface Place {
  readonly map: Affine;
  readonly layer: string | null;
  readonly colour: string | null;
  readonly dash: string | null;
  /** Name of the block it stands in; null outside and in blocks named by the program. */
  readonly block: string | null;
  /** The piece it belongs to, in a file that knows pieces. */
  readonly piece: PieceMarks | null;
  readonly depth: number;
}

/** DXF counts y upward, we count it downward. */
const upsideDown = affine(1, 0, 0, -1, 0, 0);

/** Walks a drawing and gathers its shapes and marks, in its own units, y down. */
export class Drawing {
  private readonly drawn: Omit<DrawnShape, 'id'>[] = [];
  private readonly marks: DrawnMark[] = [];
  private readonly texts: PlacedText[] = [];
  private readonly copying = new Set<Block>();
  private readonly placed = new Set<Block>();
  private readonly pieces: ReadonlySet<Block>;
  private readonly budget = { left: dxfLimits.splineFits };
  private met = 0;
  private pairsMet = 0;
  private segments = 0;
  private splineWork = 0;
  private failure: Failure | null = null;

  constructor(
    private readonly document: DxfDocument,
    private readonly warnings: WarningCount,
  ) {
    this.pieces = new Set([...document.blocks.values()].filter(isPieceBlock));
  }

  gather(): { readonly shapes: readonly DrawnShape[]; readonly marks: readonly DrawnMark[] | null } | Failure {
    const outermost = { map: upsideDown, layer: null, colour: null, dash: null, block: null, piece: null, depth: 0 };
    this.walk(this.document.entities, outermost);
    for (const block of this.pieces) {
      if (this.placed.has(block) || this.failure) continue;
      this.warnings.note('unplaced');
      this.walkBlock(block, outermost);
    }
    if (this.failure) return this.failure;
    const shapes = this.drawn.map((shape, i) => ({
      ...shape,
      id: idOf(i),
      nearText: shape.nearText ?? textNear(controlBox(shape.path), this.texts),
    }));
    return { shapes, marks: this.pieces.size > 0 ? this.marks : null };
  }

  private walk(entries: readonly Entry[], place: Place): void {
    for (let i = 0; i < entries.length && !this.failure; i++) {
      const entry = entries[i]!;
      let next = i + 1;
      if (entry.type === 'POLYLINE') while (entries[next]?.type === 'VERTEX') next++;
      for (const counted of next === i + 1 ? [entry] : entries.slice(i, next)) this.count(counted);
      if (!this.failure) this.visit(entry, entries.slice(i + 1, next), place);
      i = next - 1;
    }
  }

  /** Counts everything looked at, so that copies of copies come to an end. */
  private count(entry: Entry): void {
    this.met += entry.type === 'VERTEX' ? 0 : 1;
    const size = entry.to - entry.from;
    this.pairsMet += size;
    if (entry.type === 'SPLINE') this.splineWork += size;
    if (this.met > dxfLimits.drawn || this.pairsMet > dxfLimits.drawnPairs) this.failure ??= refusals.copies();
    if (this.splineWork > dxfLimits.splineWork) this.failure ??= refusals.splines();
  }

  private visit(entry: Entry, vertices: readonly Entry[], place: Place): void {
    const { type } = entry;
    if (silent.has(type) && !place.piece) return;
    const why = this.unseen(entry);
    const look = lookOf(entry, place, this.document);
    if (why) this.warnings.note(why);
    else if (look.hidden && (type !== 'INSERT' || look.hidden === 'frozen')) this.noteLayer(look.layer, type);
    else if (type === 'INSERT') this.insert(entry, look, place);
    else if (drawsLine(type)) this.draw(entry, vertices, look, place);
    else if (type === 'POINT') place.piece?.meet(entry, look.layer, place.map);
    else if (silent.has(type)) return;
    else if (wordsOf(entry) !== null) this.keepText(entry, place);
    else this.notePassed(type);
  }

  private unseen(entry: Entry): DxfWarning | null {
    if (numberIn(entry, 67, 0) === 1) return 'paper';
    return hasFlag(entry, 60, 1) ? 'hidden' : null;
  }

  private noteLayer(layer: string, type: string): void {
    if (!silent.has(type)) this.warnings.note('layer-off', layer.slice(0, dxfLimits.words));
  }

  private notePassed(type: string): void {
    const known = passedOver.get(type);
    if (known) this.warnings.note(known);
    else this.warnings.note('unknown', /^[A-Z0-9_]{1,30}$/.test(type) ? type : 'no proper name');
  }

  private insert(entry: Entry, look: Look, place: Place): void {
    const placing = placingOf(entry);
    const plane = planeMap(entry);
    if (!placing || !plane) {
      this.warnings.note(placing ? 'tilted' : 'unreadable');
      return;
    }
    const block = this.document.blocks.get(placing.block.toUpperCase());
    if (place.depth >= dxfLimits.depth) this.failure ??= refusals.depth();
    else if (!block) this.warnings.note('missing');
    else if (block.external) this.warnings.note('outside');
    else if (this.copying.has(block)) this.warnings.note('loop');
    else if (placing.columns * placing.rows > dxfLimits.drawn) this.failure ??= refusals.copies();
    else {
      const around = { ...place, layer: look.layer, colour: look.colour, dash: look.dash };
      const outer = chain(place.map, plane);
      for (let row = 0; row < placing.rows; row++) {
        for (let column = 0; column < placing.columns && !this.failure; column++) {
          this.count(entry);
          this.walkBlock(block, { ...around, map: chain(outer, placing.copy(block, column, row)) });
        }
      }
    }
  }

  private walkBlock(block: Block, around: Place): void {
    this.placed.add(block);
    this.copying.add(block);
    const isPiece = this.pieces.has(block) && around.piece === null;
    const piece = isPiece ? new PieceMarks(this.drawn.length, pieceName(block)) : around.piece;
    const name = block.name.startsWith('*') || block.name === '' ? around.block : block.name.slice(0, dxfLimits.words);
    this.walk(block.entries, { ...around, block: name, piece, depth: around.depth + 1 });
    if (isPiece && piece) this.settle(piece);
    this.copying.delete(block);
  }

  /** Marks of a piece belong to its outline: the largest shape on layer 1 that its block drew. */
  private settle(piece: PieceMarks): void {
    const outline = piece.outlineIn(this.drawn);
    for (const mark of piece.marks) {
      if (outline === null) this.warnings.note('no-outline');
      else if (this.marks.length < dxfLimits.marks) this.marks.push({ ...mark, shape: idOf(outline) });
    }
  }

  private draw(entry: Entry, vertices: readonly Entry[], look: Look, place: Place): void {
    const outline = outlineOf(entry, vertices, this.budget);
    if (outline.kind === 'too-much') this.failure ??= refusals.splines();
    if (outline.kind === 'left-out') this.warnings.note(outline.why);
    if (outline.kind !== 'line') return;
    for (const note of outline.notes) this.warnings.note(note);
    this.segments += outline.segments.length;
    if (this.segments > dxfLimits.segments) this.failure ??= refusals.segments();
    const shape = placePath(outline.segments, outline.closed, chain(place.map, outline.plane), dxfLimits.coordinate);
    if (!shape) {
      this.warnings.note('too-far');
      return;
    }
    const layer = look.layer.slice(0, dxfLimits.words);
    place.piece?.meet(entry, look.layer, place.map);
    this.drawn.push({
      ...shape,
      strokeDash: look.dash,
      colour: look.colour,
      layer: this.pieces.size > 0 ? layerInWords(layer) : layer,
      name: place.block,
      nearText: place.piece?.name ?? null,
    });
    if (this.drawn.length > dxfLimits.shapes) this.failure ??= refusals.shapes();
  }

  private keepText(entry: Entry, place: Place): void {
    const words = wordsOf(entry) ?? '';
    const plane = entry.type === 'MTEXT' ? place.map : chain(place.map, planeMap(entry) ?? identity);
    // A text that is centred or set to the right is placed by its second point.
    const upright = numberIn(entry, entry.type === 'ATTRIB' ? 74 : 73, 0);
    const aligned = entry.type !== 'MTEXT' && numberIn(entry, 72, 0) + upright > 0;
    const at = mapPoint(plane, {
      x: numberIn(entry, aligned ? 11 : 10, 0),
      y: numberIn(entry, aligned ? 21 : 20, 0),
    });
    const size = numberIn(entry, 40, 1) * meanScale(plane);
    const isSound = Math.abs(at.x) <= dxfLimits.coordinate && Math.abs(at.y) <= dxfLimits.coordinate && size > 0;
    if (words !== '' && isSound && this.texts.length < dxfLimits.texts) this.texts.push({ words, ...at, size });
  }
}

function idOf(index: number): string {
  return `shape-${index + 1}`;
}
