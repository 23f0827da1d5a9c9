import { useEffect, useId, useRef, useState } from 'react';
import { buildPiece } from '../../exchange/edgeNaming';
import type { Path } from '../../geometry/segment';
import type { BringInDraft } from '../../store/bringIn';
import { newId } from '../../store/newId';
import { Complaint } from '../controls/Complaint';
import { CountStepper } from '../controls/CountStepper';
import { Tray } from '../places/Tray';
import { useActions, useApp, useBringInStore, useCommands } from '../storeContext';
import { withGuesses } from './chooseOutline';
import { DraftNotes } from './DraftNotes';
import { EdgeRow } from './EdgeRow';
import { ToolButton } from './ToolButton';

/** A walk once round the outline: where each edge ends, what it is, which lies on the fold. Then it is a piece. */
export function EdgeWalk({ draft, path }: { readonly draft: BringInDraft; readonly path: Path }) {
  const id = useId();
  const tool = useApp((state) => state.tool);
  const { goTo, pickTool } = useActions();
  const { addPiece } = useCommands();
  const { actions } = useBringInStore();
  const [fold, setFold] = useState('');
  const [cutCount, setCutCount] = useState(1);
  const [complaint, setComplaint] = useState<string | null>(null);

  useEffect(() => {
    pickTool('corner');
    return () => pickTool('hand');
  }, [pickTool]);

  const { layDraft } = actions;
  // An outline drawn by hand comes without a word about its edges.
  const unnamed = draft.corners.length > 1 && draft.corners.every(({ role }) => role === 'other');
  const guessed = useRef(false);
  useEffect(() => {
    if (unnamed && !guessed.current) layDraft(withGuesses(draft));
    guessed.current = true;
  }, [unnamed, draft, layDraft]);

  const make = () => {
    const piece = buildPiece({
      id: newId(),
      name: draft.name,
      outline: path,
      corners: draft.corners,
      fold: fold === '' ? null : Number(fold),
      grainline: 'default',
      notches: [],
      drillHoles: [],
      cutCount,
    });
    const added = piece.ok ? addPiece({ ...piece.value, locked: false }) : piece;
    if (!added.ok) {
      setComplaint(added.sentence);
      return;
    }
    actions.layDraft(null);
    goTo('mark');
  };

  return (
    <Tray
      next="Walk round the piece and say what each edge is; click the outline to part it, a corner to take it away."
      onward={
        <button type="button" className="button button-main button-wide" onClick={make}>
          Make it a piece
        </button>
      }
    >
      <div className="field">
        <label className="field-label" htmlFor={`${id}-name`}>
          Name of the piece
        </label>
        <input
          id={`${id}-name`}
          className="text-input"
          value={draft.name}
          onChange={(event) => actions.layDraft({ ...draft, name: event.target.value })}
        />
      </div>
      <div className="edge-walk">
        {draft.corners.map((corner, index) => (
          <EdgeRow
            key={`${corner.segment} ${corner.t}`}
            number={index + 1}
            name={corner.name}
            role={corner.role}
            onChange={(changed) =>
              actions.setCorners(draft.corners.map((other, at) => (at === index ? { ...other, ...changed } : other)))
            }
          />
        ))}
        {draft.corners.length < 2 && (
          <p className="tray-note">Click the outline where one edge ends and the next begins, at two places or more.</p>
        )}
        <div className="tool-row">
          <ToolButton tool="corner" now={tool} label="Corners" />
          <ToolButton tool="measure" now={tool} label="Measure" />
        </div>
        <button type="button" className="button button-plain" onClick={() => actions.layDraft(withGuesses(draft))}>
          Guess the edges again
        </button>
      </div>
      <div className="pair">
        <div className="field">
          <label className="field-label" htmlFor={`${id}-fold`}>
            On the fold
          </label>
          <select id={`${id}-fold`} className="pick" value={fold} onChange={(event) => setFold(event.target.value)}>
            <option value="">no edge</option>
            {draft.corners.map((corner, index) => (
              <option key={`${corner.segment} ${corner.t}`} value={index}>
                {corner.name}
              </option>
            ))}
          </select>
        </div>
        <CountStepper label="Cut how many" value={cutCount} least={1} most={20} onCommit={setCutCount} />
      </div>
      {complaint !== null && <Complaint>{complaint}</Complaint>}
      <DraftNotes draft={draft} />
      {draft.shapes.length > 1 && (
        <button
          type="button"
          className="button button-plain"
          onClick={() => actions.layDraft({ ...draft, outline: null, path: null, corners: [], outlineNote: null })}
        >
          Choose another outline
        </button>
      )}
      <button type="button" className="button button-plain" onClick={() => actions.layDraft(null)}>
        Put it away
      </button>
    </Tray>
  );
}
