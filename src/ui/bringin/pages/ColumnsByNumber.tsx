import { useState } from 'react';
import { succeed } from '../../../geometry/outcome';
import type { PagesDraft } from '../../../store/pagesDraft';
import { CountStepper } from '../../controls/CountStepper';
import { LengthField } from '../../controls/LengthField';
import { useApp } from '../../storeContext';
import { layInColumns } from './layInColumns';

/** mm. Pages never lie further over each other than this. */
const widestOverlap = 100;

interface ByNumberProps {
  readonly laid: PagesDraft;
  readonly onLay: (laid: PagesDraft) => void;
}

/** Pages in reading order: how many side by side, and how far they lie over each other. */
export function ColumnsByNumber({ laid, onLay }: ByNumberProps) {
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const used = laid.pages.length - laid.leftOut.length;
  const [columns, setColumns] = useState(Math.max(1, Math.round(Math.sqrt(used))));
  const [overlap, setOverlap] = useState(0);
  return (
    <>
      <div className="pair">
        <CountStepper label="Side by side" value={columns} least={1} most={Math.max(1, used)} onCommit={setColumns} />
        <LengthField
          label="Overlap"
          unit={unit}
          value={overlap}
          least={0}
          most={widestOverlap}
          onCommit={(length) => {
            setOverlap(length);
            return succeed(null);
          }}
        />
      </div>
      <button type="button" className="button" onClick={() => onLay(layInColumns(laid, columns, overlap))}>
        Lay them in reading order
      </button>
    </>
  );
}
