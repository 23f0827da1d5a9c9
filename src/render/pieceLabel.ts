import { fanView } from '../gestures/fanView';
import type { ScenePiece } from '../gestures/scene';
import type { BlockPiece } from '../pattern/garment';
import { sizeWords } from '../pattern/sizeWords';
import type { Ink, Label } from './drawing';
import { fittingZoom, type QuietPlace, quietPlace, type WordBox } from './quietPlace';

/**
 * Name of the piece and how it is cut, small and quiet. It belongs to the block, so it stays put while strips swing, and
 * keeps off the fullness line and the strips below it; the printed label has its own place, which slash lines may run
 * through. Words that would lie across a line are left out until the table is large enough.
 */
export function placeLabel(piece: Pick<ScenePiece, 'block' | 'fan' | 'fanned'>, ink: Ink): Label[] {
  const { name } = piece.block;
  const cut = cutWords(piece.block);
  const nameBox = { half: halfWidth(name, nameSize), up: nameUp, down: nameDown };
  const bothBox = { half: Math.max(nameBox.half, halfWidth(cut, cutSize)), up: nameUp, down: cutDown };
  const { at, obstacles } = restingPlace(piece.block, bothBox, fullnessHeight(piece));
  return [
    {
      at,
      text: name,
      ink,
      size: nameSize,
      bold: true,
      align: 'center',
      fromZoom: fittingZoom(at, nameBox, obstacles),
    },
    {
      at,
      text: cut,
      ink: 'ink-soft',
      size: cutSize,
      align: 'center',
      shift: [0, cutShift],
      fromZoom: fittingZoom(at, bothBox, obstacles),
    },
  ];
}

/** CSS pixels. */
const nameSize = 14;
const cutSize = 11.5;
const cutShift = 17;

/** How far the words reach up and down from the base line of the name, CSS pixels. */
const nameUp = 12;
const nameDown = 5;
const cutDown = cutShift + 5;

/** Half the width of a letter as a share of the letters' size, on average. */
const halfLetter = 0.26;

function halfWidth(words: string, size: number): number {
  return words.length * size * halfLetter + 2;
}

function cutWords(block: BlockPiece): string {
  const cut = block.fold === null ? `cut ${block.cutCount}` : `cut ${block.cutCount} on fold`;
  return block.size === null ? cut : `${sizeWords(block.size)}, ${cut}`;
}

/** The words only look for another place when the fullness line has come this much further, mm. */
const lineStep = 40;

/** Height of the fullness line across the piece, mm in its frame, in steps; null without one. */
function fullnessHeight({ fanned, fan }: Pick<ScenePiece, 'fan' | 'fanned'>): number | null {
  if (fanned === null || fan === null) return null;
  const { sideHinge } = fanView(fanned, fan);
  return sideHinge === null ? null : Math.round(sideHinge.y / lineStep) * lineStep;
}

const places = new WeakMap<BlockPiece, Map<number | null, QuietPlace>>();

function restingPlace(block: BlockPiece, words: WordBox, fullness: number | null): QuietPlace {
  const known = places.get(block) ?? new Map<number | null, QuietPlace>();
  places.set(block, known);
  const place = known.get(fullness) ?? quietPlace(block, words, fullness);
  known.set(fullness, place);
  return place;
}
