import type { Session } from './database';

/**
 * What a closing page could not save in time. A browser may drop database writes begun while a page closes, but a write
 * to local storage is done before it returns; the next page moves it into the database.
 */
export interface LastMoment {
  /** Project file text. */
  readonly text: string;
  /** ISO 8601 date-time at which it was put down. */
  readonly saved: string;
  /** Where the maker was; null when that was not put down. */
  readonly session: Session | null;
}

export type Box = Pick<globalThis.Storage, 'getItem' | 'setItem' | 'removeItem'>;

const key = 'hingeline last moment';

/** The browser's local storage; null where there is none or the page may not use it. */
export function browserBox(): Box | null {
  try {
    return globalThis.localStorage ?? null;
  } catch {
    return null;
  }
}

/** Puts it down, over whatever lay there. False when there was no room. */
export function putDown(box: Box, left: LastMoment): boolean {
  try {
    box.setItem(key, JSON.stringify(left));
    return true;
  } catch {
    return false;
  }
}

/** What lies there, or null. It stays until `clearAway`. */
export function lookAt(box: Box): LastMoment | null {
  try {
    const left: unknown = JSON.parse(box.getItem(key) ?? 'null');
    if (typeof left !== 'object' || left === null || !('text' in left) || !('saved' in left)) return null;
    return typeof left.text === 'string' && typeof left.saved === 'string'
      ? {
          text: left.text,
          saved: left.saved,
          session: 'session' in left && isSession(left.session) ? left.session : null,
        }
      : null;
  } catch {
    return null;
  }
}

function isSession(value: unknown): value is Session {
  if (typeof value !== 'object' || value === null) return false;
  const { place, ...ids } = value as Record<string, unknown>;
  const names = ['garment', 'activePiece', 'activeVersion', 'ghost'];
  return typeof place === 'string' && names.every((name) => ids[name] === null || typeof ids[name] === 'string');
}

export function clearAway(box: Box): void {
  box.removeItem(key);
}
