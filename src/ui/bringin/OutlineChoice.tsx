import { useId, useState } from 'react';
import { pathBounds } from '../../geometry/bounds';
import type { LengthUnit } from '../../pattern/garment';
import type { BringInDraft, DraftShape } from '../../store/bringIn';
import { formatLength } from '../../units/length';
import { Complaint } from '../controls/Complaint';
import { pathData } from '../outlineSvg';
import { Tray } from '../places/Tray';
import { useApp, useBringInStore } from '../storeContext';
import { chooseOutline } from './chooseOutline';
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
  const { actions } = useBringInStore();
  const workshop = useWorkshop();
  const [complaint, setComplaint] = useState<string | null>(null);
  const closed = draft.shapes.filter((shape) => shape.closed);
  const several = closed.length > 1;
  const { groups } = draft;

  const closeGaps = async (gap: number) => {
    const joined = await outlinesOf(unchosen({ ...draft, gap }), workshop);
    setComplaint(joined.ok ? null : joined.sentence);
    if (joined.ok) actions.layDraft(joined.value);
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
        {closed.map((shape) => (
          <label key={shape.id} className="shape">
            <input
              type="radio"
              name={`${id}-outline`}
              checked={shape.id === draft.outline}
              onChange={() => actions.layDraft(chooseOutline(draft, shape))}
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
      {draft.lines !== undefined && <GapField draft={draft} onCommit={(gap) => void closeGaps(gap)} />}
      <DraftNotes draft={draft} />
      {groups !== undefined && (
        <button
          type="button"
          className="button button-plain"
          onClick={() => actions.layDraft(keepGroups(draft, groups.kept))}
        >
          Pick other lines
        </button>
      )}
      <PutAway />
    </Tray>
  );
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
