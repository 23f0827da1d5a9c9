import { useId, useState } from 'react';
import { pathBounds } from '../../geometry/bounds';
import type { LengthUnit } from '../../pattern/garment';
import type { BringInDraft, DraftShape } from '../../store/bringIn';
import { withStep } from '../../store/draftHistory';
import { formatLength } from '../../units/length';
import { Complaint } from '../controls/Complaint';
import { pathData } from '../outlineSvg';
import { Tray } from '../places/Tray';
import { useApp, useBringInStore } from '../storeContext';
import { outlineChosen } from './chooseOutline';
import { DraftNotes } from './DraftNotes';
import { GapField } from './GapField';
import { keepGroups, unchosen } from './lineChoice';
import { outlinesOf } from './outlinesOf';
import { PutAway } from './PutAway';
import { useWorkshop } from './readerContext';

/** The scale is known; which of the shapes is the piece? */
export function OutlineChoice({ draft }: { readonly draft: BringInDraft }) {
  const id = useId();
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const bringIn = useBringInStore();
  const { actions } = bringIn;
  const workshop = useWorkshop();
  const [complaint, setComplaint] = useState<string | null>(null);
  const closed = draft.shapes.filter((shape) => shape.closed);
  const several = closed.length > 1;
  const [listed, setListed] = useState(listedAtOnce);
  const largest = closed.length <= listed ? closed : largestOf(closed, listed);
  const { groups } = draft;

  const closeGaps = async (gap: number) => {
    const joined = await outlinesOf(unchosen({ ...draft, gap }), workshop);
    setComplaint(joined.ok ? null : joined.sentence);
    if (joined.ok) actions.layDraft(withStep(draft, joined.value, 'the gap that is closed'));
  };

  const choose = async (shape: DraftShape) => {
    const chosen = await outlineChosen(draft, shape, workshop);
    if (bringIn.getState().draft !== draft) return;
    setComplaint(chosen.ok ? null : chosen.sentence);
    if (chosen.ok) actions.layDraft(withStep(draft, chosen.value, 'the choice of outline'));
  };

  return (
    <Tray next="Choose the outline of the piece, here or on the table." onward={null}>
      {closed.length === 0 && (
        <Complaint>
          These lines close nowhere. Let wider gaps be closed{groups === undefined ? '' : ', tick further lines'}, or
          close the outline in the program it was drawn with.
        </Complaint>
      )}
      {complaint !== null && <Complaint>{complaint}</Complaint>}
      <fieldset className="shapes">
        <legend className="unseen">Outline</legend>
        {largest.map((shape) => (
          <label key={shape.id} className="shape">
            <input
              type="radio"
              name={`${id}-outline`}
              checked={shape.id === draft.outline}
              onChange={() => void choose(shape)}
            />
            <ShapeFigure shape={shape} />
            <span>
              {shape.name}
              <span className="quiet shape-size">{sizeOf(shape, unit)}</span>
              {several && shape.told ? <span className="quiet shape-size">{shape.told}</span> : null}
            </span>
          </label>
        ))}
      </fieldset>
      {closed.length > listed && (
        <button type="button" className="button" onClick={() => setListed(listed + listedAtOnce)}>
          Show smaller ones ({closed.length - listed} more)
        </button>
      )}
      {draft.lines !== undefined && <GapField draft={draft} onCommit={(gap) => void closeGaps(gap)} />}
      <DraftNotes draft={draft} />
      {groups !== undefined && (
        <button
          type="button"
          className="button button-plain"
          onClick={() => actions.layDraft(withStep(draft, keepGroups(draft, groups.kept), 'the choice of lines'))}
        >
          Pick other lines
        </button>
      )}
      <PutAway />
    </Tray>
  );
}

/** Of many outlines only so many are listed at first, the largest; every one can be chosen on the table. */
const listedAtOnce = 40;

function largestOf(shapes: readonly DraftShape[], count: number): readonly DraftShape[] {
  const spanOf = ({ path }: DraftShape) => {
    const { minX, minY, maxX, maxY } = pathBounds(path);
    return Math.hypot(maxX - minX, maxY - minY);
  };
  return shapes
    .map((shape) => ({ shape, span: spanOf(shape) }))
    .sort((a, b) => b.span - a.span)
    .slice(0, count)
    .map(({ shape }) => shape);
}

function ShapeFigure({ shape }: { readonly shape: DraftShape }) {
  const { minX, minY, maxX, maxY } = pathBounds(shape.path);
  const margin = Math.max(maxX - minX, maxY - minY) * 0.04;
  return (
    <svg
      width="40"
      height="48"
      viewBox={`${minX - margin} ${minY - margin} ${maxX - minX + 2 * margin} ${maxY - minY + 2 * margin}`}
      aria-hidden="true"
      focusable="false"
    >
      <path
        d={pathData(shape.path, shape.closed)}
        fill="none"
        stroke="currentColor"
        vectorEffect="non-scaling-stroke"
      />
    </svg>
  );
}

function sizeOf(shape: DraftShape, unit: LengthUnit): string {
  const { minX, minY, maxX, maxY } = pathBounds(shape.path);
  return `${formatLength(maxX - minX, unit)} × ${formatLength(maxY - minY, unit)}`;
}
