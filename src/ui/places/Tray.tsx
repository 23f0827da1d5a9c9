import type { ReactNode } from 'react';
import type { Place } from '../../store/appState';
import { places } from '../../store/appState';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { placeNames } from '../path/placeNames';
import { useActions, useApp } from '../storeContext';
import './tray.css';

interface TrayProps {
  /** The one sentence that says what to do next. */
  readonly next: string;
  readonly children?: ReactNode;
  /** Whether the next station may be offered as the thing to do. */
  readonly ready?: boolean;
}

/** What every place has in common: which piece, the one sentence, its few controls, the way on. */
export function Tray({ next, children, ready = false }: TrayProps) {
  const place = useApp((state) => state.place);
  const { goTo } = useActions();
  const onward: Place | undefined = places[places.indexOf(place) + 1];
  return (
    <>
      <div className="tray-scroll">
        {place !== 'bring-in' && place !== 'print' && <PieceChoice />}
        <p className="tray-next" aria-live="polite">
          {next}
        </p>
        {children}
      </div>
      {onward !== undefined && (
        <button
          type="button"
          className={`button button-wide tray-onward ${ready ? 'button-main' : ''}`}
          onClick={() => goTo(onward)}
        >
          {ready ? 'Next: ' : 'On to '}
          {placeNames[onward]}
        </button>
      )}
    </>
  );
}

function PieceChoice() {
  const blocks = useApp((state) => state.garment?.blocks);
  const piece = useApp((state) => state.activePiece);
  const { pickPiece } = useActions();
  if (blocks === undefined || blocks.length < 2 || piece === null) return null;
  return (
    <div className="tray-piece">
      <ChoiceGroup
        label="Piece"
        labelHidden
        choices={blocks.map((block) => ({ value: block.id, label: block.name }))}
        value={piece}
        onChoose={pickPiece}
      />
    </div>
  );
}
