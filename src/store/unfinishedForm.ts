import type { BringInState } from './bringIn';
import { withPathChanges, withPaths } from './pathChanges';
import type { PictureDraft } from './pictureDraft';

/** Number of the form below. It goes up whenever an older program could not read what is written. */
export const unfinishedForm = 1;

/** What is kept of the table; the rest is of the moment. */
export type Lying = Pick<BringInState, 'draft' | 'pen' | 'pages' | 'picture' | 'underlay'>;

/** Members that are large and as a rule stay the very same object while the small ones about them change. */
const large: ReadonlySet<string> = new Set(['shapes', 'lines', 'pages', 'path', 'doubtful', 'straightened', 'sheets']);

/** Names the parts that were written already, by the object itself. */
export interface PartNames {
  nameOf(part: object): string;
  remember(part: object, name: string): void;
}

export function createPartNames(newId: () => string): PartNames {
  const names = new WeakMap<object, string>();
  return {
    nameOf(part) {
      const name = names.get(part) ?? newId();
      names.set(part, name);
      return name;
    },
    remember: (part, name) => void names.set(part, name),
  };
}

interface Taken {
  readonly state: unknown;
  readonly parts: ReadonlyMap<string, object>;
}

/** Parts the small and changing from the large; each large part stands as `{ part: name }` in what is left. */
export function takeApart({ draft, pen, pages, picture, underlay }: Lying, names: PartNames): Taken {
  const parts = new Map<string, object>();
  const small = (value: unknown, key: string): unknown => {
    if (typeof value !== 'object' || value === null) return value;
    if (large.has(key) && !isShort(value)) {
      const name = names.nameOf(value);
      parts.set(name, value);
      return { part: name };
    }
    if (Array.isArray(value)) return value.map((one) => small(one, ''));
    return Object.fromEntries(Object.entries(value).map(([name, member]) => [name, small(member, name)]));
  };
  const short = draft === null ? null : withPathChanges(draft);
  const state = small({ draft: short, pen: { nodes: pen.nodes, next: null }, pages, picture, underlay }, 'table');
  return { state, parts };
}

/** An empty list, or one of numbers, is no large part. */
function isShort(value: object): boolean {
  return Array.isArray(value) && typeof (value[0] ?? 0) === 'number';
}

/** The table as it was taken apart; null where a part is missing. */
export function putTogether(state: unknown, parts: ReadonlyMap<string, unknown>, names: PartNames): Lying | null {
  let whole = true;
  const full = (value: unknown): unknown => {
    if (typeof value !== 'object' || value === null) return value;
    if (Array.isArray(value)) return value.map(full);
    const entries = Object.entries(value);
    const [first] = entries;
    if (entries.length === 1 && first?.[0] === 'part' && typeof first[1] === 'string') {
      const part = parts.get(first[1]);
      if (typeof part !== 'object' || part === null) whole = false;
      else names.remember(part, first[1]);
      return part;
    }
    return Object.fromEntries(entries.map(([name, member]) => [name, full(member)]));
  };
  const table = full(state);
  if (!whole || !isLying(table)) return null;
  return table.draft === null ? table : { ...table, draft: withPaths(table.draft) };
}

/** Only the outermost is looked at: the number of the form vouches for the rest, as only this program writes it. */
function isLying(table: unknown): table is Lying {
  if (typeof table !== 'object' || table === null || !('pen' in table)) return false;
  const nullOrObject = ['draft', 'pages', 'picture', 'underlay'].every(
    (name) => typeof (table as Record<string, unknown>)[name] === 'object',
  );
  return nullOrObject && typeof table.pen === 'object' && table.pen !== null && 'nodes' in table.pen;
}

export function isClear({ draft, pen, pages, picture, underlay }: Lying): boolean {
  return draft === null && pen.nodes.length === 0 && pages === null && picture === null && underlay === null;
}

/** Ids of the files that the pictures of the table were read from. */
export function filesNeeded({ picture, underlay }: Pick<Lying, 'picture' | 'underlay'>): readonly string[] {
  const laid = [picture, underlay?.picture ?? null].filter((one): one is PictureDraft => one !== null);
  return [...new Set(laid.flatMap(({ parts, book }) => [...parts.map(({ id }) => id), ...(book ? [book.id] : [])]))];
}

/** What came back, for the maker; null where only a picture lies under a piece. */
export function lyingSentence({ draft, pen, pages, picture }: Lying): string | null {
  if (pen.nodes.length > 0) return 'The outline you were drawing lies on the table as you left it.';
  if (draft !== null) return `The outline from ${draft.source} lies on the table as you left it.`;
  if (picture !== null) return `The photograph ${picture.parts[0]?.source ?? ''} lies on the table as you left it.`;
  return pages === null ? null : `The pages of ${pages.source} lie on the table as you left them.`;
}
