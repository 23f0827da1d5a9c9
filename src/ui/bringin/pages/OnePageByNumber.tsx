import { useId, useState } from 'react';
import { succeed } from '../../../geometry/outcome';
import { type PagesDraft, pagesFrame } from '../../../store/pagesDraft';
import { LengthField } from '../../controls/LengthField';
import { useApp } from '../../storeContext';

/** mm. Farther out no pattern reaches. */
const farthest = 20_000;

interface OnePageByNumberProps {
  readonly laid: PagesDraft;
  readonly onLay: (laid: PagesDraft) => void;
}

/** Where the upper left corner of one page lies on the table, typed instead of dragged. */
export function OnePageByNumber({ laid, onLay }: OnePageByNumberProps) {
  const id = useId();
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const used = laid.pages.filter(({ number }) => !laid.leftOut.includes(number));
  const [chosen, setChosen] = useState(used[0]?.number ?? 1);
  const place = laid.places.find(({ page }) => page === chosen);
  if (place === undefined) return null;

  const put = (at: { readonly x: number; readonly y: number }) => {
    const places = laid.places.map((other) => (other.page === chosen ? { page: chosen, at } : other));
    onLay({ ...laid, places, frame: pagesFrame({ ...laid, places }) });
    return succeed(null);
  };
  return (
    <>
      <div className="field">
        <label className="field-label" htmlFor={id}>
          Page
        </label>
        <select id={id} className="pick" value={chosen} onChange={({ target }) => setChosen(Number(target.value))}>
          {used.map(({ number }) => (
            <option key={number} value={number}>
              {number}
            </option>
          ))}
        </select>
      </div>
      <div className="pair">
        <LengthField
          label="To the right"
          unit={unit}
          value={place.at.x}
          least={-farthest}
          most={farthest}
          onCommit={(x) => put({ ...place.at, x })}
        />
        <LengthField
          label="Down"
          unit={unit}
          value={place.at.y}
          least={-farthest}
          most={farthest}
          onCommit={(y) => put({ ...place.at, y })}
        />
      </div>
    </>
  );
}
