import { useState } from 'react';
import type { LineGroup } from '../../exchange/drawing/lineGroups';
import type { LengthUnit } from '../../pattern/garment';
import type { BringInDraft, LineChoice } from '../../store/bringIn';
import { withStep } from '../../store/draftHistory';
import { formatLength } from '../../units/length';
import { Complaint } from '../controls/Complaint';
import { Tray } from '../places/Tray';
import { useApp, useBringInStore } from '../storeContext';
import { DraftNotes } from './DraftNotes';
import { GapField } from './GapField';
import { LineSample } from './LineSample';
import { keepGroups } from './lineChoice';
import { PutAway } from './PutAway';
import { useWorkshop } from './readerContext';
import { readyDraft } from './readyDraft';

interface LinePickingProps {
  readonly draft: BringInDraft;
  readonly groups: LineChoice;
}

/** Lines that look alike or share a layer are mostly one size of the pattern: which of them make the piece? */
export function LinePicking({ draft, groups }: LinePickingProps) {
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const { actions } = useBringInStore();
  const workshop = useWorkshop();
  const [complaint, setComplaint] = useState<string | null>(null);

  const keep = (kept: readonly string[]) => {
    setComplaint(null);
    actions.layDraft(withStep(draft, keepGroups(draft, kept), 'the choice of lines'));
  };
  const go = async () => {
    if (groups.kept.length === 0) {
      setComplaint('Tick the lines of the size you want first.');
      return;
    }
    const ready = await readyDraft({ ...draft, groups: { ...groups, settled: true } }, workshop);
    if (ready.ok) actions.layDraft(withStep(draft, ready.value, 'the choice of lines'));
    else setComplaint(ready.sentence);
  };

  return (
    <Tray
      next="Tick the lines of your size; the table shows only those."
      onward={
        <button type="button" className="button button-main button-wide" onClick={() => void go()}>
          Join these lines
        </button>
      }
    >
      {complaint !== null && <Complaint>{complaint}</Complaint>}
      <fieldset className="line-groups">
        <legend className="unseen">Lines of the drawing</legend>
        {groups.all.map((group) => (
          <label key={group.key} className="line-group">
            <input
              type="checkbox"
              checked={groups.kept.includes(group.key)}
              onChange={({ target }) =>
                keep(target.checked ? [...groups.kept, group.key] : groups.kept.filter((key) => key !== group.key))
              }
            />
            <LineSample group={group} />
            <span>
              {group.words}
              <span className="quiet shape-size">{amount(group, unit)}</span>
            </span>
          </label>
        ))}
      </fieldset>
      <div className="tool-row">
        <button type="button" className="button" onClick={() => keep(groups.all.map(({ key }) => key))}>
          Tick all
        </button>
        <button type="button" className="button" onClick={() => keep([])}>
          Tick none
        </button>
      </div>
      <GapField
        draft={draft}
        onCommit={(gap) => actions.layDraft(withStep(draft, { ...draft, gap }, 'the gap that is closed'))}
      />
      <DraftNotes draft={draft} />
      <PutAway />
    </Tray>
  );
}

function amount({ count, length }: LineGroup, unit: LengthUnit): string {
  return `${count === 1 ? '1 line' : `${count} lines`}, ${formatLength(length, unit)} in all`;
}
