/**
 * Whether two plain-data values say the same: records and lists member by member. Parts that
 * two documents share are the same object and are not looked into, so comparing two states of a document is quick.
 */
export function sameData(a: unknown, b: unknown): boolean {
  if (a === b || (Number.isNaN(a) && Number.isNaN(b))) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const keys = Object.keys(a);
  if (keys.length !== Object.keys(b).length) return false;
  return keys.every((key) => Object.hasOwn(b, key) && sameData(a[key as keyof typeof a], b[key as keyof typeof b]));
}
