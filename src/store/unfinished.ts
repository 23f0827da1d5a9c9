import type { BringInState } from './bringIn';

/** What lies on the table that is not a piece yet and would be gone with it: a file name or a few words; null for nothing. */
export function unfinished({ draft, pen, pages, picture }: BringInState): string | null {
  if (draft !== null) return draft.source;
  if (pen.nodes.length > 0) return 'the outline being drawn';
  return picture?.parts[0]?.source ?? pages?.source ?? null;
}
