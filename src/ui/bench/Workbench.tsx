import { lazy, Suspense, useEffect, useState } from 'react';
import { formatLength } from '../../units/length';
import { useFileDoor } from '../bringin/fileDoor';
import { PutAwayAsked } from '../bringin/PutAwayAsked';
import { useDroppedFile } from '../bringin/useDroppedFile';
import { Working } from '../bringin/Working';
import { HingeMark } from '../controls/icons';
import { ThePath } from '../path/ThePath';
import { CurrentPlace } from '../places/CurrentPlace';
import { usePrintDesk } from '../print/printDesk';
import { Rack } from '../rack/Rack';
import { Slip } from '../slip/Slip';
import { useApp, useShown } from '../storeContext';
import { TableCanvas } from '../table/TableCanvas';
import { useShortcuts } from '../useShortcuts';
import { useTakeBack } from '../useTakeBack';
import { GarmentMenu } from './GarmentMenu';
import { HistoryButtons } from './HistoryButtons';
import { LightSwitch } from './LightSwitch';
import { NoticeLine } from './NoticeLine';
import { UnitSwitch } from './UnitSwitch';
import './bench.css';

const PagePreview = lazy(() => import('../print/PagePreview').then(({ PagePreview }) => ({ default: PagePreview })));

/** Below this width the slip is folded away until it is asked for, CSS pixels. */
const roomForSlip = 1180;

/** The cutting table: the path along the top, the tray and the slip beside the sheet, the rack below. */
export function Workbench() {
  const place = useApp((state) => state.place);
  const [slipOpen, setSlipOpen] = useSlipFold();
  const desk = usePrintDesk();
  const openFile = useFileDoor();
  useShortcuts(useTakeBack().takeBack);

  const over = useDroppedFile((file) => void openFile(file));

  return (
    <div className={`bench ${slipOpen ? '' : 'bench-slip-folded'} ${over ? 'bench-over' : ''}`}>
      <header className="bench-top">
        <div className="bench-name">
          <HingeMark />
          <GarmentMenu />
        </div>
        <ThePath />
        <div className="bench-tools">
          <HistoryButtons />
          <UnitSwitch />
          <LightSwitch />
        </div>
      </header>
      <section className="bench-tray" aria-label="What to do here">
        <CurrentPlace desk={desk} />
      </section>
      <main className="bench-sheet">
        <TableCanvas hidden={place === 'print'} />
        {place === 'print' && (
          <Suspense fallback={null}>
            <PagePreview desk={desk} />
          </Suspense>
        )}
        <NoticeLine />
        <Working />
        <PutAwayAsked />
      </main>
      <aside className="bench-slip" aria-label="The slip: what this change does">
        <button type="button" className="slip-fold" aria-expanded={slipOpen} onClick={() => setSlipOpen(!slipOpen)}>
          {slipOpen ? 'The slip' : <FoldedFigures />}
          <span aria-hidden="true">{slipOpen ? '›' : '‹'}</span>
        </button>
        {slipOpen && <Slip />}
      </aside>
      <div className="bench-rack">
        <Rack />
      </div>
    </div>
  );
}

function useSlipFold() {
  const [open, setOpen] = useState(() => innerWidth >= roomForSlip);
  useEffect(() => {
    const wide = matchMedia(`(min-width: ${roomForSlip}px)`);
    const follow = () => setOpen(wide.matches);
    wide.addEventListener('change', follow);
    return () => wide.removeEventListener('change', follow);
  }, []);
  return [open, setOpen] as const;
}

/** Even folded away the slip tells the one figure that matters most. */
function FoldedFigures() {
  const shown = useShown();
  const after = shown?.report.garmentSweepAfter ?? null;
  if (shown === null || after === null) return 'The slip';
  const minds = new Set(shown.report.pieces.flatMap((piece) => piece.warnings)).size;
  const figure = `The slip: hem ${formatLength(after, shown.garment.unit)}`;
  return minds === 0 ? figure : `${figure}, ! ${minds} to mind`;
}
