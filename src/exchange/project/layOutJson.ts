/** Longest value that is kept on one line, characters. */
const longestLine = 110;

/**
 * Plain data as JSON for people to read: short values stay on one line, longer ones get a line per member. Numbers are
 * written with all their digits, so that reading gives the same doubles (negative zero is written as 0).
 */
export function layOutJson(value: unknown, indent = ''): string {
  const flat = oneLine(value);
  if (typeof value !== 'object' || value === null || indent.length + flat.length <= longestLine) return flat;
  const inner = `${indent}  `;
  const parts = Array.isArray(value)
    ? value.map((item: unknown) => layOutJson(item, inner))
    : Object.entries(value).map(([key, member]) => `${JSON.stringify(key)}: ${layOutJson(member, inner)}`);
  const [open, close] = Array.isArray(value) ? '[]' : '{}';
  return `${open}\n${inner}${parts.join(`,\n${inner}`)}\n${indent}${close}`;
}

function oneLine(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(oneLine).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const members = Object.entries(value).map(([key, member]) => `${JSON.stringify(key)}: ${oneLine(member)}`);
  return `{${members.join(', ')}}`;
}
