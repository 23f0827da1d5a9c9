/** A new id, unique for all practical purposes. The only randomness in the program; nothing below the store makes ids. */
export function newId(): string {
  return crypto.randomUUID();
}
