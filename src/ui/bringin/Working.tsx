import { useEffect, useState } from 'react';
import type { Work } from '../../store/bringIn';
import { useBringIn } from '../storeContext';
import './working.css';

/** What is done sooner than this is not worth a word, ms. */
const quietFor = 300;
/** Steps that follow each other within this are shown as one, ms. */
const lingers = 120;
/** Without a sign of progress for so long, ms, it is said that it may not come to an end. */
const longSilence = 30_000;

/** Work going on in the background: what is being done, how far it is, and the way to stop it. */
export function Working() {
  const work = useBringIn((state) => state.work);
  const busy = work !== null;
  const atOnce = work?.atOnce === true;
  const [shown, setShown] = useState(false);
  const [last, setLast] = useState<Work | null>(null);
  if (work !== null && work !== last) setLast(work);

  useEffect(() => {
    const timer = setTimeout(() => setShown(busy), atOnce ? 0 : busy ? quietFor : lingers);
    return () => clearTimeout(timer);
  }, [busy, atOnce]);

  return shown && last !== null ? <WorkCard work={last} /> : null;
}

function WorkCard({ work }: { readonly work: Work }) {
  const { doing, share, stop } = work;
  return (
    <section className="working" aria-label="Work under way">
      <p className="working-words" role="status">
        {doing}…
      </p>
      <div
        className={`working-bar ${share === null ? 'working-open' : ''}`}
        role="progressbar"
        aria-label={doing}
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={share === null ? undefined : Math.round(share * 100)}
      >
        <span style={{ inlineSize: share === null ? undefined : `${Math.max(2, share * 100)}%` }} />
      </div>
      <Silence key={`${doing} ${share}`} />
      <button type="button" className="button" onClick={stop}>
        Stop
      </button>
    </section>
  );
}

/** Says so when nothing has been heard for long; mounted anew with every sign of progress. */
function Silence() {
  const [long, setLong] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setLong(true), longSilence);
    return () => clearTimeout(timer);
  }, []);
  return long ? (
    <p className="tray-note" role="status">
      No sign of progress for half a minute. It may still come to an end; stopping loses nothing.
    </p>
  ) : null;
}
