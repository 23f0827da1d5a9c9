import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

/** What the shelf of saved garments shows without opening one. */
export interface GarmentTitle {
  readonly id: string;
  readonly name: string;
  /** ISO 8601 date-time of the last save. */
  readonly saved: string;
  readonly pieces: number;
  readonly versions: number;
  /** Set once the record could not be read; its bytes are kept. */
  readonly damaged: boolean;
}

/** Where the maker was, to come back to after a reload. */
export interface Session {
  readonly garment: string | null;
  readonly place: string;
  readonly activePiece: string | null;
  readonly activeVersion: string | null;
  readonly ghost: string | null;
}

/** Bytes of a record that could not be read and would otherwise have been written over. */
export interface KeptRecord {
  readonly garment: string;
  readonly kept: string;
  readonly text: string;
}

/**
 * The garment itself is kept as the text of its project file, so that there is one format, one reader and one set of
 * migrations. Titles stand apart, so that listing reads no garment.
 */
export interface HingelineDatabase extends DBSchema {
  garments: { key: string; value: { id: string; text: string } };
  titles: { key: string; value: GarmentTitle };
  kept: { key: number; value: KeptRecord };
  session: { key: string; value: Session };
}

export type Database = IDBPDatabase<HingelineDatabase>;

export function openDatabase(name: string, onGone: () => void): Promise<Database> {
  return openDB<HingelineDatabase>(name, 1, {
    upgrade(database) {
      database.createObjectStore('garments', { keyPath: 'id' });
      database.createObjectStore('titles', { keyPath: 'id' });
      database.createObjectStore('kept', { autoIncrement: true });
      database.createObjectStore('session');
    },
    // Another tab with a newer program wants to change the database: let it, and open anew when needed.
    blocking(_current, _wanted, event) {
      (event.target as IDBDatabase).close();
      onGone();
    },
    terminated: onGone,
  });
}
