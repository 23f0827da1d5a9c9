import { useEffect, useMemo, useState } from 'react';
import { fittingAxes } from '../../exchange/foldInHalf/guessLie';
import type { MirrorAxis } from '../../exchange/foldInHalf/mirrorAxes';
import type { BringInDraft } from '../../store/bringIn';

const none: readonly MirrorAxis[] = [];

/** ms. An outline whose points are being moved is looked at again once it has rested for so long. */
const rest = 250;

/**
 * Lines at which the outline of a draft may be folded. A newly chosen outline is looked at at once; of one whose points
 * are dragged the last known are kept until it rests, since looking at a long trace takes longer than a frame.
 */
export function useAxes({ path, outline, lie }: BringInDraft): readonly MirrorAxis[] {
  const folded = lie?.whole != null;
  const [rested, setRested] = useState({ path, outline });
  const isNew = rested.path === null || rested.outline !== outline;
  const looked = isNew ? path : rested.path;
  useEffect(() => {
    if (folded || (rested.path === path && rested.outline === outline)) return;
    const timer = setTimeout(() => setRested({ path, outline }), isNew ? 0 : rest);
    return () => clearTimeout(timer);
  }, [path, outline, folded, rested, isNew]);
  return useMemo(() => (folded || looked === null ? none : fittingAxes(looked)), [folded, looked]);
}
