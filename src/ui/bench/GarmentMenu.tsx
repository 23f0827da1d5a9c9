import { type FormEvent, useState } from 'react';
import { writeProject } from '../../exchange/project/projectFile';
import { mayLeave } from '../bringin/mayLeave';
import { mayPutAway } from '../bringin/mayPutAway';
import { Complaint } from '../controls/Complaint';
import { DownSign } from '../controls/icons';
import { Menu } from '../controls/Menu';
import { Sheet } from '../controls/Sheet';
import { SheetFoot } from '../controls/SheetFoot';
import { useDesk } from '../deskContext';
import { downloadText, fileName } from '../download';
import { useActions, useApp, useAppStore, useBringInStore, useCommands } from '../storeContext';

const savedWords = {
  saved: 'kept on this device',
  saving: 'keeping…',
  failed: '✕ Not kept: save a copy',
} as const;

/** The garment's name, whether it is kept, and what concerns the garment as a whole. */
export function GarmentMenu() {
  const garment = useApp((state) => state.garment);
  const saved = useApp((state) => state.saved);
  const { closeGarment } = useActions();
  const store = useAppStore();
  const bringIn = useBringInStore();
  const desk = useDesk();
  const [renaming, setRenaming] = useState(false);
  if (garment === null) return null;
  const leave = async () => {
    if (!(await mayPutAway(bringIn, 'Leave this garment'))) return;
    // Only what is still not saved after one more try is worth a question.
    await desk?.autosave.flush();
    if (!(await mayLeave(store, bringIn, 'Leave this garment'))) return;
    bringIn.actions.clearAway();
    closeGarment();
  };
  return (
    <>
      <Menu
        className="garment-button"
        label={`Garment: ${garment.name}, ${savedWords[saved]}`}
        items={[
          { label: 'Rename…', onPick: () => setRenaming(true) },
          {
            label: 'Save a copy as a file',
            onPick: () => downloadText(fileName(garment.name, 'hingeline.json'), writeProject(garment)),
          },
          ...(saved === 'failed' && desk !== null
            ? [{ label: 'Keep it in this tab', onPick: () => void desk.autosave.takeOver() }]
            : []),
          { label: 'Open another garment', onPick: () => void leave(), parted: true },
        ]}
      >
        <span>
          <span className="garment-name">{garment.name}</span>{' '}
          <span className={`garment-saved garment-saved-${saved}`}>{savedWords[saved]}</span>
        </span>
        <DownSign />
      </Menu>
      {renaming && <RenameSheet name={garment.name} onClose={() => setRenaming(false)} />}
    </>
  );
}

function RenameSheet({ name, onClose }: { readonly name: string; readonly onClose: () => void }) {
  const { renameGarment } = useCommands();
  const [complaint, setComplaint] = useState<string | null>(null);
  const keep = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const typed = new FormData(event.currentTarget).get('name');
    const renamed = renameGarment(typeof typed === 'string' ? typed : '');
    if (renamed.ok) onClose();
    else setComplaint(renamed.sentence);
  };
  return (
    <Sheet title="Name of the garment" onClose={onClose}>
      <form onSubmit={keep}>
        <div className="field">
          <input name="name" className="text-input" defaultValue={name} aria-label="Name of the garment" />
          {complaint !== null && <Complaint>{complaint}</Complaint>}
        </div>
        <SheetFoot keep="Keep" onClose={onClose} />
      </form>
    </Sheet>
  );
}
