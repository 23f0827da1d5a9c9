import { dot, point } from '../geometry/point';
import type { FanStep } from '../pattern/recipe';
import { formatLength } from '../units/length';
import { type Drag, reduceDrag, startDrag } from './drag';
import { fanView } from './fanView';
import type { Order, PointerSample, Step, TableEvent } from './gesture';
import { reachMm } from './reach';
import type { ScenePiece, TableScene } from './scene';
import { type Stop, snapNumber, wholeStep } from './wholeUnits';

/** A slash line held by the pointer; the value is `across`, the fraction of the width from the centre line. */
export interface SlashDrag extends Drag<number> {
  readonly kind: 'slash';
  readonly piece: string;
  /** As it was at the press. */
  readonly step: FanStep;
  readonly slash: string;
  /** The direction on the table in which the line moves with the pointer, mm to mm. */
  readonly towardsSide: { readonly x: number; readonly y: number };
  /** mm that one unit of `across` stands for. */
  readonly width: number;
}

/** Strips stay at least this wide, mm. */
const narrowestStrip = 5;

export function startSlash(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  slash: string,
): SlashDrag | null {
  const { fan, fanned } = piece;
  const line = fan?.slashes.find((candidate) => candidate.id === slash);
  if (fan === null || line === undefined || fanned === null) return null;
  const view = fanView(fanned, fan);
  const shown = view.slashes.find((candidate) => candidate.id === slash);
  return {
    ...startDrag(pointer, scene, line.across),
    kind: 'slash',
    piece: piece.id,
    step: fan,
    slash,
    towardsSide: shown?.towardsSide ?? view.towardsSide,
    width: view.width,
  };
}

/** Slides a slash line sideways between its neighbours; it follows the pointer along the strip it is hinged on. */
export function dragSlash(drag: SlashDrag, event: TableEvent, scene: TableScene): Step<SlashDrag> {
  return reduceDrag(drag, event, scene, {
    cursor: 'ew-resize',
    same: (a, b) => a === b,
    valueAt: (right, down, pointer) => {
      const moved = dot(point(right, down), drag.towardsSide);
      const snapped = snapNumber(drag.initial * drag.width + moved, {
        stops: acrossStops(drag),
        step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
        reach: reachMm('snap', pointer.kind, scene.camera) / 2,
        free: pointer.alt,
      });
      const [least, most] = acrossRange(drag.step, drag.slash, drag.width);
      const value =
        snapped.value === drag.initial * drag.width
          ? drag.initial
          : Math.min(most, Math.max(least, snapped.value / drag.width));
      return { value, word: snapped.word };
    },
    says: (value) => `Slash line ${formatLength(value * drag.width, scene.unit)} from the centre line`,
    order: (value) => slashOrder(drag.piece, drag.slash, value),
  });
}

export function slashOrder(piece: string, slash: string, across: number): Order {
  return (commands, mode) => commands.moveSlash(piece, slash, across, mode);
}

/** Where a slash line may stand, between its neighbours. */
export function acrossRange(step: FanStep, slash: string, width: number): readonly [number, number] {
  const index = step.slashes.findIndex((line) => line.id === slash);
  const room = narrowestStrip / width;
  return [(step.slashes[index - 1]?.across ?? 0) + room, (step.slashes[index + 1]?.across ?? 1) - room];
}

function acrossStops(drag: SlashDrag): Stop[] {
  const index = drag.step.slashes.findIndex((line) => line.id === drag.slash);
  const before = drag.step.slashes[index - 1]?.across ?? 0;
  const after = drag.step.slashes[index + 1]?.across ?? 1;
  return [
    { value: drag.initial * drag.width, word: 'as it was' },
    { value: ((before + after) / 2) * drag.width, word: 'halfway' },
  ];
}
