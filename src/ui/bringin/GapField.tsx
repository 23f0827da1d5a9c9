import { succeed } from '../../geometry/outcome';
import { joinGap } from '../../geometry/tolerance';
import type { BringInDraft } from '../../store/bringIn';
import { LengthField } from '../controls/LengthField';

/** mm. Beyond this, lines that have nothing to do with each other would be joined. */
const widestGap = 20;

interface GapFieldProps {
  readonly draft: BringInDraft;
  readonly onCommit: (gap: number) => void;
}

/** How far apart two ends may lie and still be joined; in mm for everyone, as it is about the width of a pencil line. */
export function GapField({ draft, onCommit }: GapFieldProps) {
  return (
    <LengthField
      label="Gap that may be closed"
      unit="mm"
      value={draft.gap ?? joinGap}
      least={0}
      most={widestGap}
      onCommit={(gap) => {
        onCommit(gap);
        return succeed(null);
      }}
    />
  );
}
