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

/** What lay on the table of a garment before it was a piece: the small part of it, rewritten with every change. */
export interface UnfinishedRecord {
  readonly id: string;
  readonly garment: string;
  /** ISO 8601 date-time of the last save. */
  readonly saved: string;
  /** Number of the form that `state` has; a program that knows another form leaves it alone. */
  readonly form: number;
  /** What lies there, for the maker: a file name or a few words; null where it lies under a piece. */
  readonly lying: string | null;
  readonly state: unknown;
  /** Ids of its parts: files, lines, pages, which are large and hardly ever change. */
  readonly parts: readonly string[];
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
  unfinished: { key: string; value: UnfinishedRecord; indexes: { garment: string } };
  unfinishedParts: {
    key: [record: string, id: string];
    value: { record: string; id: string; content: unknown };
    indexes: { record: string };
  };
}

export type Database = IDBPDatabase<HingelineDatabase>;

export function openDatabase(name: string, onGone: () => void): Promise<Database> {
  return openDB<HingelineDatabase>(name, 2, {
    // Each form of the database adds to the one before; what was saved in it stays.
    upgrade(database, before) {
      if (before < 1) {
        database.createObjectStore('garments', { keyPath: 'id' });
        database.createObjectStore('titles', { keyPath: 'id' });
        database.createObjectStore('kept', { autoIncrement: true });
        database.createObjectStore('session');
      }
      if (before < 2) {
        database.createObjectStore('unfinished', { keyPath: 'id' }).createIndex('garment', 'garment');
        database.createObjectStore('unfinishedParts', { keyPath: ['record', 'id'] }).createIndex('record', 'record');
      }
    },
    // Another tab with a newer program wants to change the database: let it, and open anew when needed.
    blocking(_current, _wanted, event) {
      (event.target as IDBDatabase).close();
      onGone();
    },
    terminated: onGone,
  });
}
