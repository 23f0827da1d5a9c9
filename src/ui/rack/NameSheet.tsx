import { useId, useState } from 'react';
import type { Version } from '../../pattern/garment';
import { Complaint } from '../controls/Complaint';
import { Sheet } from '../controls/Sheet';
import { SheetFoot } from '../controls/SheetFoot';
import { useCommands } from '../storeContext';

/** Name and note of a version; each is its own undo step. */
export function NameSheet({ version, onClose }: { readonly version: Version; readonly onClose: () => void }) {
  const id = useId();
  const { renameVersion, noteVersion } = useCommands();
  const [name, setName] = useState(version.name);
  const [note, setNote] = useState(version.note);
  const [complaint, setComplaint] = useState<string | null>(null);

  const keep = () => {
    if (name.trim() !== version.name) {
      const renamed = renameVersion(version.id, name);
      if (!renamed.ok) {
        setComplaint(renamed.sentence);
        return;
      }
    }
    if (note !== version.note) noteVersion(version.id, note);
    onClose();
  };

  return (
    <Sheet title="Name and note" onClose={onClose}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          keep();
        }}
      >
        <div className="field">
          <label className="field-label" htmlFor={`${id}-name`}>
            Name
          </label>
          <input
            id={`${id}-name`}
            className="text-input"
            value={name}
            aria-invalid={complaint !== null}
            aria-describedby={complaint === null ? undefined : `${id}-complaint`}
            onChange={(event) => setName(event.target.value)}
          />
          {complaint !== null && <Complaint id={`${id}-complaint`}>{complaint}</Complaint>}
        </div>
        <div className="field">
          <label className="field-label" htmlFor={`${id}-note`}>
            Note: fabric, fitting, the drop after hanging
          </label>
          <textarea
            id={`${id}-note`}
            className="text-input"
            value={note}
            onChange={(event) => setNote(event.target.value)}
          />
        </div>
        <SheetFoot keep="Keep" onClose={onClose} />
      </form>
    </Sheet>
  );
}
