import { useState } from 'react';
import { MoreSign } from '../controls/icons';
import { Menu } from '../controls/Menu';
import { Sheet } from '../controls/Sheet';

export interface RecentGarment {
  readonly id: string;
  readonly name: string;
  /** ISO 8601 date-time of the last save. */
  readonly saved: string;
  /** It could not be read, but its data is kept. */
  readonly damaged: boolean;
}

interface RecentListProps {
  readonly recent: readonly RecentGarment[];
  readonly onOpen: (id: string) => void;
  readonly onSaveCopy: (garment: RecentGarment) => void;
  readonly onDelete: (id: string) => void;
}

/** What is kept on this device, newest first. */
export function RecentList({ recent, onOpen, onSaveCopy, onDelete }: RecentListProps) {
  const [asked, setAsked] = useState<RecentGarment | null>(null);
  return (
    <section className="recent">
      <h2 className="quiet">Go on with</h2>
      <ul>
        {recent.map((garment) => (
          <li key={garment.id}>
            <button type="button" className="recent-open" onClick={() => onOpen(garment.id)}>
              <span className="recent-name">{garment.name}</span>
              <span className="quiet">{garment.damaged ? '! damaged' : dayOf(garment.saved)}</span>
            </button>
            <Menu
              className="icon-button"
              label={`More for ${garment.name}`}
              items={[
                { label: 'Save a copy as a file', onPick: () => onSaveCopy(garment) },
                { label: 'Delete…', onPick: () => setAsked(garment), parted: true },
              ]}
            >
              <MoreSign />
            </Menu>
          </li>
        ))}
      </ul>
      {asked !== null && (
        <Sheet title={`Delete “${asked.name}”?`} onClose={() => setAsked(null)}>
          <p>The garment and all its versions go from this device for good.</p>
          <div className="dialog-foot">
            <button type="button" className="button" onClick={() => setAsked(null)}>
              Keep it
            </button>
            <button
              type="button"
              className="button button-main"
              onClick={() => {
                setAsked(null);
                onDelete(asked.id);
              }}
            >
              Delete for good
            </button>
          </div>
        </Sheet>
      )}
    </section>
  );
}

function dayOf(moment: string): string {
  const date = new Date(moment);
  if (Number.isNaN(date.getTime())) return '';
  return date.toLocaleDateString(undefined, { day: 'numeric', month: 'short' });
}
