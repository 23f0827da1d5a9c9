import type { Place } from '../../store/appState';
import { places } from '../../store/appState';
import { useActions, useApp } from '../storeContext';
import { placeNames } from './placeNames';
import './path.css';

/** The stations in the maker's own order, laid out as notches along a line of stitching. */
export function ThePath() {
  const here = useApp((state) => state.place);
  const { goTo } = useActions();
  const now = places.indexOf(here);
  return (
    <nav className="path" aria-label="The path of the work">
      <ol>
        {places.map((place: Place, index) => (
          <li key={place}>
            <button
              type="button"
              className={`station ${index < now ? 'station-passed' : ''}`}
              aria-current={place === here ? 'step' : undefined}
              onClick={() => goTo(place)}
            >
              <span className="station-notch" aria-hidden="true" />
              {placeNames[place]}
            </button>
          </li>
        ))}
      </ol>
    </nav>
  );
}
