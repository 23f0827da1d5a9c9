import { angleBetween, distance, type Point, point, subtract } from '../geometry/point';
import { invert, movePoint } from '../geometry/rigidMove';
import { openingOfShare, shareOfOpening } from '../operations/closeDart';
import type { ClosedDart } from '../operations/worked';
import { formatLength } from '../units/length';
import { type DartView, dartViews } from './dartView';
import { type Drag, reduceDrag, startDrag } from './drag';
import type { Order, PointerSample, Step, TableEvent } from './gesture';
import { reachMm } from './reach';
import type { ScenePiece, TableScene } from './scene';
import { snapNumber, wholeStep } from './wholeUnits';

/** The hem corner of a closed dart's wedge held by the pointer; the value is the opening at the hem, mm. */
export interface DartOpeningDrag extends Drag<number> {
  readonly kind: 'dart-opening';
  readonly piece: string;
  /** As it was at the press. */
  readonly view: DartView;
}

export function startDartOpening(
  pointer: PointerSample,
  scene: TableScene,
  piece: ScenePiece,
  dart: string,
): DartOpeningDrag | null {
  const view = closedDartOf(piece, dart);
  if (view === null) return null;
  return { ...startDrag(pointer, scene, view.closed.opening), kind: 'dart-opening', piece: piece.id, view };
}

/** A closed dart of a piece as it lies on the table; null when it is open. */
export function closedDartOf({ fanned }: ScenePiece, dart: string): DartView | null {
  return fanned === null ? null : (dartViews(fanned).find(({ closed }) => closed.dart === dart) ?? null);
}

/** Opens the wedge so that its hem corner follows the pointer round the dart's point, from none of the dart to all of it. */
export function dragDartOpening(drag: DartOpeningDrag, event: TableEvent, scene: TableScene): Step<DartOpeningDrag> {
  const { closed } = drag.view;
  const most = openingOfShare(closed, 1);
  return reduceDrag(drag, event, scene, {
    cursor: 'ew-resize',
    same: (a, b) => a === b,
    valueAt: (right, down, pointer) => {
      const { x, y } = drag.view.hemSide;
      const snapped = snapNumber(openingTo(drag.view, point(x + right, y + down), most), {
        stops: [
          { value: drag.initial, word: 'as it was' },
          { value: 0, word: 'the dart stays open' },
          { value: most, word: 'the dart is closed' },
        ],
        step: wholeStep(scene.unit, scene.camera.pixelsPerMm),
        reach: reachMm('snap', pointer.kind, scene.camera) / 2,
        free: pointer.alt,
      });
      return { value: Math.min(most, Math.max(0, snapped.value)), word: snapped.word };
    },
    says: (value) => `From the dart ${formatLength(value, scene.unit)} at the hem`,
    order: (value) => dartOpeningOrder(drag.piece, closed, value),
  });
}

/** The opening for which the hem corner points at `target`, as seen from the dart's point. */
function openingTo({ closed, move }: DartView, target: Point, most: number): number {
  const { apex, centreFoot, sideFoot } = closed.wedge;
  const from = subtract(centreFoot, apex);
  const way = Math.sign(angleBetween(from, subtract(sideFoot, apex))) || 1;
  const angle = way * angleBetween(from, subtract(movePoint(invert(move), target), apex));
  if (angle <= 0) return 0;
  return Math.min(most, 2 * distance(apex, centreFoot) * Math.sin(Math.min(angle, closed.dartAngle) / 2));
}

/** Closes as much of a dart as opens the hem by so many mm. */
export function dartOpeningOrder(piece: string, dart: ClosedDart, opening: number): Order {
  return (commands, mode) => commands.closeDart(piece, dart.dart, shareOfOpening(dart, Math.max(0, opening)), mode);
}
