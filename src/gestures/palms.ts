import type { PointerSample } from './gesture';

/** What is known about pens, so that the hand holding one is not taken for fingers. */
export interface Palms {
  /** A pen has been used on this table; from then on fingers only pan and pinch. */
  readonly penSeen: boolean;
  readonly penDown: boolean;
  /** When a pen was last heard of, ms. */
  readonly lastPen: number;
}

export const noPalms: Palms = { penSeen: false, penDown: false, lastPen: Number.NEGATIVE_INFINITY };

/** A hand rests on the sheet a little longer than the pen touches it, ms. */
const restAfterPen = 500;

/** A fingertip seldom leaves a wider mark than this, CSS pixels; the side of a hand does. */
const widestFinger = 60;

export function notePen(palms: Palms, time: number, down: boolean): Palms {
  return { ...palms, penSeen: true, penDown: down, lastPen: time };
}

/** Whether a touch is the resting hand of someone who writes with a pen. Without a pen no touch is a palm. */
export function isPalm(palms: Palms, touch: PointerSample): boolean {
  if (!palms.penSeen) return false;
  return palms.penDown || touch.time - palms.lastPen < restAfterPen || touch.contact > widestFinger;
}
