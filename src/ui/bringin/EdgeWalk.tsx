import { useEffect, useId, useMemo, useRef, useState } from 'react';
import { buildPiece } from '../../exchange/edgeNaming';
import { fail, succeed } from '../../geometry/outcome';
import type { Path } from '../../geometry/segment';
import type { BringInDraft } from '../../store/bringIn';
import { withStep } from '../../store/draftHistory';
import { newId } from '../../store/newId';
import { Complaint } from '../controls/Complaint';
import { CountStepper } from '../controls/CountStepper';
import { Caution } from '../places/Caution';
import { Tray } from '../places/Tray';
import { useActions, useApp, useBringInStore, useCommands } from '../storeContext';
import { stitchingLine } from './allowances';
import { withGuesses } from './chooseOutline';
import { DraftNotes } from './DraftNotes';
import { EdgeRow } from './EdgeRow';
import { foldOf } from './foldDraft';
import { HowItLies, saysWhatIsOpen, useLieGuess } from './HowItLies';
import { unchosen } from './lineChoice';
import { marksOfFile } from './marksOfFile';
import { PutAway } from './PutAway';
import { SeamOrCut } from './SeamOrCut';
import { ToolButton } from './ToolButton';

const notSaid = fail(
  'outline-unsaid',
  'Say first whether this outline is the stitching line, or the cut line with allowances included.',
);

/** A walk once round the outline: where each edge ends, what it is, which lies on the fold. Then it is a piece. */
export function EdgeWalk({ draft, path }: { readonly draft: BringInDraft; readonly path: Path }) {
  const id = useId();
  const tool = useApp((state) => state.tool);
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const { goTo, notify, pickTool } = useActions();
  const { addPiece } = useCommands();
  const { actions } = useBringInStore();
  const [complaint, setComplaint] = useState<string | null>(null);
  const complaintLine = useRef<HTMLParagraphElement>(null);

  useEffect(() => {
    pickTool('corner');
    return () => pickTool('hand');
  }, [pickTool]);

  const { layDraft } = actions;
  // An outline drawn by hand comes without a word about its edges.
  const unnamed =
    draft.corners.length > 1 && draft.corners.every(({ role, name }) => role === 'other' && /^Edge( \d+)?$/.test(name));
  const guessed = useRef(false);
  useEffect(() => {
    if (unnamed && !guessed.current) layDraft(withGuesses(draft));
    guessed.current = true;
  }, [unnamed, draft, layDraft]);

  const folded = foldOf(draft);
  const { outlineIs = null } = draft;
  const sewn = useMemo(() => {
    if (outlineIs === null) return notSaid;
    if (outlineIs === 'cut-line') return stitchingLine(draft, path, folded, unit);
    return succeed({ outline: path, corners: draft.corners, notes: [] });
  }, [outlineIs, draft, path, folded, unit]);
  const inset = outlineIs === 'cut-line' && sewn.ok ? sewn.value.outline : null;
  const { showInset } = actions;
  useEffect(() => {
    showInset(inset);
    return () => showInset(null);
  }, [inset, showInset]);

  const guess = useLieGuess(draft);
  const unsaid = complaint !== null && outlineIs === null;
  useEffect(() => {
    if (complaint !== null) complaintLine.current?.scrollIntoView({ block: 'nearest' });
  }, [complaint]);

  const make = () => {
    if (!sewn.ok) {
      setComplaint(sewn.sentence);
      return;
    }
    const unsettled = saysWhatIsOpen(draft, guess);
    if (unsettled !== null) {
      setComplaint(unsettled);
      return;
    }
    const { leftOut, ...marks } = marksOfFile(draft, path, sewn.value.outline);
    const piece = buildPiece({
      id: newId(),
      name: draft.name,
      size: draft.size ?? null,
      outline: sewn.value.outline,
      corners: sewn.value.corners,
      fold: folded,
      ...marks,
      cutCount: draft.cutCount ?? 1,
    });
    const added = piece.ok ? addPiece({ ...piece.value, locked: false }) : piece;
    if (!added.ok) {
      setComplaint(added.sentence);
      return;
    }
    if (piece.ok) actions.leaveUnder(piece.value.id);
    actions.layDraft(null);
    actions.layPages(null);
    goTo('mark');
    if (leftOut !== null) notify({ tone: 'warning', sentence: leftOut });
  };

  return (
    <Tray
      next="Walk round the piece and say what each edge is."
      onward={
        <button type="button" className="button button-main button-wide" onClick={make}>
          Make it a piece
        </button>
      }
    >
      <div className="pair pair-name">
        <div className="field">
          <label className="field-label" htmlFor={`${id}-name`}>
            Name of the piece
          </label>
          <input
            id={`${id}-name`}
            className="text-input"
            value={draft.name}
            onChange={(event) =>
              actions.layDraft(
                withStep(draft, { ...draft, name: event.target.value }, 'the name of the piece', 'typing'),
              )
            }
          />
        </div>
        <div className="field">
          <label className="field-label" htmlFor={`${id}-size`}>
            Size, if any
          </label>
          <input
            id={`${id}-size`}
            className="text-input"
            value={draft.size ?? ''}
            onChange={(event) =>
              actions.layDraft(withStep(draft, { ...draft, size: event.target.value }, 'the size', 'typing'))
            }
          />
        </div>
      </div>
      {unsaid && <Complaint ref={complaintLine}>{complaint}</Complaint>}
      <SeamOrCut
        draft={draft}
        fold={folded}
        complaint={outlineIs === 'cut-line' && !sewn.ok ? sewn.sentence : null}
        notes={sewn.ok ? sewn.value.notes : []}
        onChange={(changed, what) => {
          setComplaint(null);
          actions.layDraft(what === null ? changed : withStep(draft, changed, what, 'typing'));
        }}
      />
      <HowItLies
        draft={draft}
        guess={guess}
        onChange={(changed, what) => {
          setComplaint(null);
          actions.layDraft(withStep(draft, changed, what));
        }}
      />
      {draft.heed !== undefined && draft.heed.length > 0 && <Caution>{draft.heed.join(' ')}</Caution>}
      <div className="edge-walk">
        {draft.corners.map((corner, index) => (
          <EdgeRow
            key={`${corner.segment} ${corner.t}`}
            number={index + 1}
            name={corner.name}
            role={corner.role}
            onChange={(changed) =>
              actions.setCorners(
                draft.corners.map((other, at) => (at === index ? { ...other, ...changed } : other)),
                'what an edge is',
              )
            }
          />
        ))}
        {tool === 'corner' && draft.corners.length >= 2 && (
          <p className="tray-note">Click the outline to part an edge, a corner to take it away.</p>
        )}
        {draft.corners.length < 2 && (
          <p className="tray-note">Click the outline where one edge ends and the next begins, at two places or more.</p>
        )}
        <div className="tool-row">
          <ToolButton tool="corner" now={tool} label="Corners" />
          <ToolButton tool="measure" now={tool} label="Measure" />
          <ToolButton tool="hand" now={tool} label="Move points" />
        </div>
        <button
          type="button"
          className="button button-plain"
          onClick={() => actions.layDraft(withStep(draft, withGuesses(draft), 'the new guess at the edges'))}
        >
          Guess the edges again
        </button>
      </div>
      <CountStepper
        label="Cut how many"
        value={draft.cutCount ?? 1}
        least={1}
        most={20}
        onCommit={(cutCount) => actions.layDraft(withStep(draft, { ...draft, cutCount }, 'how many to cut', 'typing'))}
      />
      {complaint !== null && !unsaid && <Complaint ref={complaintLine}>{complaint}</Complaint>}
      <DraftNotes draft={draft} />
      {draft.shapes.length > 1 && (
        <button
          type="button"
          className="button button-plain"
          onClick={() => actions.layDraft(withStep(draft, unchosen(draft), 'the outline put back'))}
        >
          Choose another outline
        </button>
      )}
      <PutAway label="Put it away" />
    </Tray>
  );
}
