import { useEffect, useState } from 'react';
import type { KeptRecordFound } from '../../storage/storage';
import { Complaint } from '../controls/Complaint';
import { Fold } from '../controls/Fold';
import { Sheet } from '../controls/Sheet';
import { useDesk } from '../deskContext';
import { downloadText, fileName } from '../download';

/**
 * What was stored here, could not be read, and was put aside before something was saved over it: to be taken out as a
 * file, or thrown away. Not there where nothing was put aside, which is nearly always.
 */
export function KeptRecords() {
  const desk = useDesk();
  const [kept, setKept] = useState<readonly KeptRecordFound[]>([]);
  const [asked, setAsked] = useState<KeptRecordFound | null>(null);
  const [complaint, setComplaint] = useState<string | null>(null);

  useEffect(() => {
    let here = true;
    void desk?.storage.listKept().then((records) => {
      if (here && records.ok) setKept(records.value);
    });
    return () => {
      here = false;
    };
  }, [desk]);

  const throwAway = async ({ key }: KeptRecordFound) => {
    setAsked(null);
    const gone = await desk?.storage.deleteKept(key);
    if (gone?.ok) setKept((before) => before.filter((record) => record.key !== key));
    else if (gone !== undefined) setComplaint(gone.sentence);
  };

  if (kept.length === 0) return null;
  return (
    <section className="kept">
      <Fold label={kept.length === 1 ? 'A damaged record is kept' : `${kept.length} damaged records are kept`}>
        <p className="quiet">
          {kept.length === 1
            ? 'It could not be read, so its data was put aside before anything was saved over it. Take it out as a file before you throw it away.'
            : 'They could not be read, so their data was put aside before anything was saved over them. Take them out as files before you throw them away.'}
        </p>
        <ul>
          {kept.map((record) => (
            <li key={record.key}>
              <span>Put aside {momentOf(record.kept)}</span>
              <button
                type="button"
                className="button button-plain"
                aria-label={`Save the record of ${momentOf(record.kept)} as a file`}
                onClick={() =>
                  downloadText(fileName(`damaged ${record.kept.slice(0, 16)}`, 'hingeline.json'), record.text)
                }
              >
                Save as a file
              </button>
              <button
                type="button"
                className="button button-plain"
                aria-label={`Throw the record of ${momentOf(record.kept)} away…`}
                onClick={() => setAsked(record)}
              >
                Throw away…
              </button>
            </li>
          ))}
        </ul>
        {complaint !== null && <Complaint>{complaint}</Complaint>}
      </Fold>
      {asked !== null && (
        <Sheet title="Throw the damaged record away?" onClose={() => setAsked(null)}>
          <p>What was put aside {momentOf(asked.kept)} goes from this device for good.</p>
          <div className="dialog-foot">
            <button type="button" className="button" onClick={() => void throwAway(asked)}>
              Throw it away for good
            </button>
            <button type="button" className="button button-main" onClick={() => setAsked(null)}>
              Keep it
            </button>
          </div>
        </Sheet>
      )}
    </section>
  );
}

function momentOf(moment: string): string {
  const date = new Date(moment);
  if (Number.isNaN(date.getTime())) return 'earlier';
  return `on ${date.toLocaleString(undefined, { day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' })}`;
}
