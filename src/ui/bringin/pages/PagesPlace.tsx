import { useState } from 'react';
import { type PagesDraft, pagesFrame } from '../../../store/pagesDraft';
import { Complaint } from '../../controls/Complaint';
import { Fold } from '../../controls/Fold';
import { Tray } from '../../places/Tray';
import { useBringInStore } from '../../storeContext';
import { useWorkshop } from '../readerContext';
import { ColumnsByNumber } from './ColumnsByNumber';
import { draftFromPages } from './draftFromPages';
import { OnePageByNumber } from './OnePageByNumber';
import { arrangementWords, pageRemark } from './pageWords';
import './pages.css';

/** The pages of a tiled pattern on the table: do they lie right? Each can be dragged, typed or left out. */
export function PagesPlace({ laid }: { readonly laid: PagesDraft }) {
  const { actions } = useBringInStore();
  const workshop = useWorkshop();
  const [complaint, setComplaint] = useState<string | null>(null);
  const { pages, leftOut, arranged, square } = laid;
  const used = pages.length - leftOut.length;

  const lay = (changed: PagesDraft) => {
    setComplaint(null);
    actions.layPages(changed);
  };
  const use = (page: number, wanted: boolean) => {
    const without = leftOut.filter((other) => other !== page);
    const changed = { ...laid, leftOut: wanted ? without : [...without, page] };
    lay({ ...changed, frame: pagesFrame(changed) });
  };
  const go = async () => {
    if (used === 0) {
      setComplaint('Tick the pages that hold the pattern first.');
      return;
    }
    const draft = await draftFromPages(laid, workshop);
    if (draft.ok) actions.layDraft(draft.value);
    else setComplaint(draft.sentence);
  };

  return (
    <Tray
      next={
        arranged.how === 'side-by-side'
          ? 'Drag each page to where its lines go on; near the right place it snaps.'
          : 'Look whether the pages lie right, and drag any that does not.'
      }
      onward={
        <button type="button" className="button button-main button-wide" onClick={() => void go()}>
          These pages are right
        </button>
      }
    >
      {complaint !== null && <Complaint>{complaint}</Complaint>}
      {arrangementWords(arranged).map((sentence) => (
        <p key={sentence} className="tray-note">
          {sentence}
        </p>
      ))}
      {square !== null && <p className="tray-note">{square.sentence}</p>}
      <fieldset className="page-ticks">
        <legend className="field-label">Pages that hold the pattern</legend>
        {pages.map((page) => (
          <label key={page.number} className="tick">
            <input
              type="checkbox"
              aria-label={`Page ${page.number}${pageRemark(page)}`}
              checked={!leftOut.includes(page.number)}
              onChange={({ target }) => use(page.number, target.checked)}
            />
            <span>
              {page.number}
              <span className="quiet">{pageRemark(page)}</span>
            </span>
          </label>
        ))}
      </fieldset>
      <Fold label="Lay them in rows">
        <ColumnsByNumber laid={laid} onLay={lay} />
      </Fold>
      <Fold label="One page by numbers">
        <OnePageByNumber laid={laid} onLay={lay} />
      </Fold>
      <button
        type="button"
        className="button button-plain"
        onClick={() =>
          lay({ ...laid, places: arranged.places, frame: pagesFrame({ ...laid, places: arranged.places }) })
        }
      >
        Lay them as they were found
      </button>
      <button type="button" className="button button-plain" onClick={() => actions.layPages(null)}>
        Put this file away
      </button>
    </Tray>
  );
}
