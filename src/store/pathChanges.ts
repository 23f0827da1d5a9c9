import type { Path, Segment } from '../geometry/segment';
import type { BringInDraft } from './bringIn';
import type { DraftStep } from './draftHistory';

/** How an outline differs from the one after it. */
type PathChange =
  /** Other segments at these places; as many as there were, so that a move across the start stays small. */
  | { readonly instead: readonly (readonly [index: number, segment: Segment])[] }
  /** `gone` segments from `at` on stand in place of these. */
  | { readonly at: number; readonly gone: number; readonly put: Path };

/** A step whose outline is told by its difference from the next one. */
type ShortStep = Omit<DraftStep<BringInDraft>, 'before'> & {
  readonly before: Omit<BringInDraft, 'path'> & { readonly pathChange?: PathChange; readonly path?: Path | null };
};

/** Changes of more segments than this are not told as a difference. */
const mostSegments = 8;

/**
 * The draft with the outlines of its steps told by their differences, as a hundred steps of an outline of thousands of
 * segments would be a hundred outlines: 80 MB instead of one.
 */
export function withPathChanges(draft: BringInDraft): object {
  const { earlier } = draft;
  if (earlier === undefined) return draft;
  const steps = earlier.map((step, index): ShortStep => {
    const { path, ...rest } = step.before;
    const next = earlier[index + 1]?.before.path ?? (index + 1 === earlier.length ? draft.path : null);
    const pathChange = path === null || next === null ? null : changeBetween(path, next);
    return pathChange === null ? step : { ...step, before: { ...rest, pathChange } };
  });
  return { ...draft, earlier: steps };
}

/** The draft with every outline whole again; outlines share the segments that are the same. */
export function withPaths(draft: BringInDraft): BringInDraft {
  const { earlier } = draft;
  if (earlier === undefined) return draft;
  let next = draft.path;
  const steps: DraftStep<BringInDraft>[] = [];
  for (const step of [...(earlier as readonly ShortStep[])].reverse()) {
    const { pathChange, ...before } = step.before;
    const path = pathChange === undefined || next === null ? (before.path ?? null) : changed(next, pathChange);
    steps.push({ ...step, before: { ...before, path } });
    next = path;
  }
  return { ...draft, earlier: steps.reverse() };
}

/** Null where too much of it is another. Segments are the same where they are the same object. */
function changeBetween(path: Path, next: Path): PathChange | null {
  if (path.length === next.length) {
    const instead: [number, Segment][] = [];
    for (let index = 0; index < path.length && instead.length <= mostSegments; index++) {
      if (path[index] !== next[index]) instead.push([index, path[index]!]);
    }
    return instead.length > mostSegments ? null : { instead };
  }
  const shorter = Math.min(path.length, next.length);
  let at = 0;
  while (at < shorter && path[at] === next[at]) at += 1;
  let same = 0;
  while (same < shorter - at && path[path.length - 1 - same] === next[next.length - 1 - same]) same += 1;
  const put = path.slice(at, path.length - same);
  return put.length > mostSegments ? null : { at, gone: next.length - same - at, put };
}

function changed(next: Path, change: PathChange): Path {
  const path: Segment[] = [...next];
  if ('at' in change) path.splice(change.at, change.gone, ...change.put);
  else if (change.instead.length === 0) return next;
  else for (const [index, segment] of change.instead) path[index] = segment;
  return path;
}
