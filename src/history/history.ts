/** One undo step: the whole document before and after it, and what to call it. */
export interface Step<Document> {
  readonly label: string;
  readonly before: Document;
  readonly after: Document;
}

/** Steps that can be undone, oldest first, and steps that can be redone, next first. Documents share what did not change. */
export interface History<Document> {
  readonly past: readonly Step<Document>[];
  readonly future: readonly Step<Document>[];
}

/** A new step on top; what could be redone is gone. */
export function record<Document>(history: History<Document>, step: Step<Document>): History<Document> {
  return { past: [...history.past, step], future: [] };
}

/** The step to take back and the history without it; null when there is nothing to undo. */
export function stepBack<Document>(
  history: History<Document>,
): { readonly step: Step<Document>; readonly history: History<Document> } | null {
  const step = history.past.at(-1);
  return step ? { step, history: { past: history.past.slice(0, -1), future: [step, ...history.future] } } : null;
}

/** The step to do again and the history with it; null when there is nothing to redo. */
export function stepForward<Document>(
  history: History<Document>,
): { readonly step: Step<Document>; readonly history: History<Document> } | null {
  const [step, ...rest] = history.future;
  return step ? { step, history: { past: [...history.past, step], future: rest } } : null;
}
