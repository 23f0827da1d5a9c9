import { type FormEvent, useState } from 'react';
import { Complaint } from '../controls/Complaint';
import { Sheet } from '../controls/Sheet';
import { SheetFoot } from '../controls/SheetFoot';
import { useCommands } from '../storeContext';

/** Keeps what is on the table under a name of its own. */
export function SaveAsSheet({ onClose }: { readonly onClose: () => void }) {
  const { saveVersionAs } = useCommands();
  const [complaint, setComplaint] = useState<string | null>(null);
  const save = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const typed = new FormData(event.currentTarget).get('name');
    const saved = saveVersionAs(typeof typed === 'string' ? typed : '');
    if (saved.ok) onClose();
    else setComplaint(saved.sentence);
  };
  return (
    <Sheet title="Save as a new version" onClose={onClose}>
      <form onSubmit={save}>
        <p className="quiet">The version you took down stays as it is now; this one hangs beside it.</p>
        <div className="field">
          <label className="field-label" htmlFor="save-as-name">
            Name
          </label>
          <input id="save-as-name" name="name" className="text-input" autoComplete="off" />
          {complaint !== null && <Complaint>{complaint}</Complaint>}
        </div>
        <SheetFoot keep="Save" onClose={onClose} />
      </form>
    </Sheet>
  );
}
