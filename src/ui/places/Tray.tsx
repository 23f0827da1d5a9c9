import { type ReactNode, useEffect, useRef } from 'react';
import type { Place } from '../../store/appState';
import { places } from '../../store/appState';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { worksByKey } from '../lastInput';
import { placeNames } from '../path/placeNames';
import { useActions, useApp } from '../storeContext';
import './tray.css';

interface TrayProps {
  /** The one sentence that says what to do next. */
  readonly next: string;
  readonly children?: ReactNode;
  /** Whether the next station may be offered as the thing to do. */
  readonly ready?: boolean;
  /** What leads on from here instead of the next station; null for nothing. */
  readonly onward?: ReactNode;
}

/** What every place has in common: which piece, the one sentence, its few controls, the way on. */
export function Tray({ next, children, ready = false, onward }: TrayProps) {
  const place = useApp((state) => state.place);
  const sentence = useRef<HTMLParagraphElement>(null);

  useEffect(() => {
    // The button that led here is gone; whoever pressed it by key goes on from the sentence.
    if (worksByKey() && document.activeElement === document.body) sentence.current?.focus({ preventScroll: true });
  }, []);

  return (
    <>
      <div className="tray-scroll">
        {place !== 'bring-in' && place !== 'print' && <PieceChoice />}
        <p ref={sentence} className="tray-next" tabIndex={-1} aria-live="polite">
          {next}
        </p>
        {children}
      </div>
      <div className="tray-foot">{onward === undefined ? <NextStation ready={ready} /> : onward}</div>
    </>
  );
}

function NextStation({ ready }: { readonly ready: boolean }) {
  const place = useApp((state) => state.place);
  const { goTo } = useActions();
  const next: Place | undefined = places[places.indexOf(place) + 1];
  if (next === undefined) return null;
  return (
    <button type="button" className={`button button-wide ${ready ? 'button-main' : ''}`} onClick={() => goTo(next)}>
      {ready ? 'Next: ' : 'On to '}
      {placeNames[next]}
    </button>
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
