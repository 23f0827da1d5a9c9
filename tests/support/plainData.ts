/** A copy in which -0 is 0, as it is once written to JSON; everything else, NaN and undefined too, stays as it is. */
export function withoutNegativeZero(value: unknown): unknown {
  if (typeof value === 'number') return value === 0 ? 0 : value;
  if (Array.isArray(value)) return value.map(withoutNegativeZero);
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, withoutNegativeZero(part)]));
  }
  return value;
}
