/** One change the maker made to a draft: how it was before, and what was done to it. */
export interface DraftStep<Draft> {
  /** What taking it back undoes: `the last move of a point`. */
  readonly what: string;
  /** The draft as it was; its own history is the steps before this one. */
  readonly before: Draft;
}

/** Anything that carries its own history, oldest step first. */
interface WithHistory<Draft> {
  readonly earlier?: readonly DraftStep<Draft>[];
}

/** Steps kept. Whoever goes back further than this takes the outline up anew. */
const mostSteps = 100;

/**
 * The changed draft, with one step to take back to the draft as it was. Every change the maker makes goes through here;
 * what is only shown while something is dragged, or done by the app itself, does not. `typing` joins a change to the last
 * step when that did the same, so that a word typed letter by letter is one step.
 */
export function withStep<Draft extends WithHistory<Draft>>(
  before: Draft,
  after: Draft,
  what: string,
  how: 'at-once' | 'typing' = 'at-once',
): Draft {
  const { earlier = [] } = before;
  if (how === 'typing' && earlier.at(-1)?.what === what) return { ...after, earlier };
  return { ...after, earlier: [...earlier, { what, before: { ...before, earlier: [] } }].slice(-mostSteps) };
}

/** The draft before its last step; null when there is none to take back. */
export function stepTakenBack<Draft extends WithHistory<Draft>>({ earlier = [] }: Draft): Draft | null {
  const last = earlier.at(-1);
  return last === undefined ? null : { ...last.before, earlier: earlier.slice(0, -1) };
}
