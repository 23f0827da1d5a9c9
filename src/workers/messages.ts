import type { Outcome } from '../geometry/outcome';

/** One thing asked of a worker. `id` tells its answer from others under way. */
export interface WorkerAsk<Ask> {
  readonly id: number;
  readonly ask: Ask;
}

export type WorkerAnswer<Answer> =
  | { readonly id: number; readonly kind: 'progress'; readonly progress: Progress }
  | { readonly id: number; readonly kind: 'answer'; readonly answer: Outcome<Answer> };

/** How far a long piece of work has come. */
export interface Progress {
  /** 0 to 1. */
  readonly share: number;
  /** What is being done, for the maker: `Looking for the sheet`. */
  readonly doing: string;
}

export type Report = (progress: Progress) => void;
