export interface RecentGarment {
  readonly id: string;
  readonly name: string;
  /** ISO 8601 date-time of the last save. */
  readonly saved: string;
}

interface RecentListProps {
  readonly recent: readonly RecentGarment[];
  readonly onOpen: (id: string) => void;
}

const shown = 5;

export function RecentList({ recent, onOpen }: RecentListProps) {
  return (
    <section className="recent">
      <h2 className="quiet">Go on with</h2>
      <ul>
        {recent.slice(0, shown).map((garment) => (
          <li key={garment.id}>
            <button type="button" onClick={() => onOpen(garment.id)}>
              <span className="recent-name">{garment.name}</span>
              <span className="quiet">{dayOf(garment.saved)}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function dayOf(moment: string): string {
  const date = new Date(moment);
  if (Number.isNaN(date.getTime())) return '';
  return date.toLocaleDateString(undefined, { day: 'numeric', month: 'short' });
}
