import { dot, type Point, point, scale, subtract } from '../geometry/point';
import { fan } from '../operations/fan';
import type { Piece } from '../pattern/piece';
import type { FanStep } from '../pattern/recipe';
import { openedBy } from '../store/fanChanges';
import { formatLength } from '../units/length';
import { type Drag, reduceDrag, startDrag } from './drag';
import { fanView, hemCornerOf } from './fanView';
import type { Order, PointerSample, Step, TableEvent } from './gesture';
import { reachMm } from './reach';
import { pieceOf, type ScenePiece, type TableScene } from './scene';
import { snapNumber, wholeStep } from './wholeUnits';

/** The hem corner of an opening held by the pointer; the value is the opening at the hem, mm. */
export interface OpeningDrag extends Drag<number> {
  readonly kind: 'opening';
  readonly piece: string;
  readonly slash: string;
  /** As it was at the press. */
  readonly step: FanStep;
  /** Equal openings stay equal: all slash lines open together. */
  readonly together: boolean;
  /** The held corner at the press, in the piece's frame. */
  readonly corner: Point;
}

/** With Shift held one slash line of an even fan opens alone. */
export function startOpening(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  slash: string,
): OpeningDrag | null {
  const { fan: step, fanned } = piece;
  if (step === null || fanned === null) return null;
  const shown = fanView(fanned, step).slashes.find((candidate) => candidate.id === slash);
  const opening = openingAtHem(piece, slash);
  if (shown === undefined || opening === null) return null;
  return {
    ...startDrag(pointer, scene, opening),
    kind: 'opening',
    piece: piece.id,
    step,
    slash,
    together: openTogether(step) && !pointer.shift,
    corner: shown.hemSide,
  };
}

/** Opens a slash so that its hem corner follows the pointer as closely as its swing allows. */
export function dragOpening(drag: OpeningDrag, event: TableEvent, scene: TableScene): Step<OpeningDrag> {
  const piece = pieceOf(scene, drag.piece);
  if (piece === null) return { state: null, preview: null };
  return reduceDrag(drag, event, scene, {
    cursor: 'ew-resize',
    same: (a, b) => a === b,
    valueAt: (right, down, pointer) => {
      const target = point(drag.corner.x + right, drag.corner.y + down);
      const { hem, speed } = openingToReach(piece.fanned?.source ?? piece.block, drag, target);
      return snapNumber(hem, {
        stops: [
          { value: drag.initial, word: 'as it was' },
          { value: 0, word: 'closed' },
        ],
        // The corner of an even fan moves by all the openings together, so each may stop at finer steps.
        step: wholeStep(scene.unit, scene.camera.pixelsPerMm * speed),
        reach: reachMm('snap', pointer.kind, scene.camera) / (2 * speed),
        free: pointer.alt,
      });
    },
    says: (value) => {
      const amount = formatLength(value, scene.unit);
      const count = drag.step.slashes.length;
      return drag.together && count > 1 ? `${amount} at each of ${count} slash lines` : `Opening ${amount} at the hem`;
    },
    order: (value) => openingOrder(drag.piece, drag.slash, value, drag.together),
  });
}

/** Opens one slash line, or all of them, by so many mm at the hem. */
export function openingOrder(piece: string, slash: string, hem: number, together: boolean): Order {
  return (commands, mode) =>
    together ? commands.setOpeningForAll(piece, hem, mode) : commands.setOpening(piece, slash, hem, mode);
}

/** How far a slash line stands open at the hem, mm: as typed, or as it came out where an angle was given. */
export function openingAtHem(piece: ScenePiece, slash: string): number | null {
  const line = piece.fan?.slashes.find((candidate) => candidate.id === slash);
  if (line === undefined) return null;
  if (line.opening.measure !== 'angle') return line.opening.hem;
  return piece.fanned?.cuts.find((cut) => cut.id === slash)?.chord ?? null;
}

/** Whether the slash lines open as one: all by the same amount in the same measure. */
export function openTogether(step: FanStep): boolean {
  const first = step.slashes[0]?.opening;
  return step.slashes.every(({ opening }) => {
    if (first === undefined || opening.measure !== first.measure) return false;
    if (opening.measure === 'angle') return first.measure === 'angle' && opening.angle === first.angle;
    return first.measure !== 'angle' && opening.hem === first.hem;
  });
}

/** Change of opening used to feel how fast the corner moves, mm. */
const probe = 0.2;

/** Rounds of the search for an opening; each after the first costs one fan. */
const mostRounds = 6;

/** The corner is on the pointer when it is this near, mm along its way; far below a pixel at the largest zoom. */
const nearEnough = 1e-4;

/**
 * The opening for which the held corner comes nearest to `target` (mm, piece's frame), felt out on the fan itself so
 * that every centre rule is followed exactly: the corner's way is taken once by a small probe, then by the last two
 * places tried. Where the fan refuses, the last amount that worked is kept. `speed` is how far the corner moves per mm.
 */
function openingToReach(
  block: Piece,
  drag: OpeningDrag,
  target: Point,
): { readonly hem: number; readonly speed: number } {
  const cornerAt = (hem: number): Point | null => {
    const slashes = drag.step.slashes.map((line) =>
      drag.together || line.id === drag.slash ? { ...line, opening: openedBy(line.opening, hem) } : line,
    );
    const step = { ...drag.step, slashes };
    const fanned = fan(block, step);
    return fanned.ok ? hemCornerOf(fanned.value, step, drag.slash) : null;
  };
  let last = { hem: drag.value + probe, corner: cornerAt(drag.value + probe) };
  let here = { hem: drag.value, corner: cornerAt(drag.value) };
  let speed = 1;
  for (let round = 0; round < mostRounds; round++) {
    if (here.corner === null || last.corner === null) return { hem: drag.value, speed };
    const run = here.hem - last.hem;
    const slope = scale(subtract(here.corner, last.corner), 1 / run);
    const squared = dot(slope, slope);
    if (run === 0 || squared === 0) break;
    speed = Math.sqrt(squared);
    const move = dot(subtract(target, here.corner), slope) / squared;
    if (Math.abs(move) < nearEnough) break;
    last = here;
    here = { hem: here.hem + move, corner: cornerAt(here.hem + move) };
  }
  return { hem: here.corner === null ? drag.value : here.hem, speed };
}
