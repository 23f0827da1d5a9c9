import type { Outcome } from '../geometry/outcome';
import { helper } from './client';
import type { Report } from './messages';
import type { PhotoAnswer, PhotoAsk } from './photoMessages';

/** Works on pictures away from the page, which stays free meanwhile. */
export interface PhotoHelper {
  ask<Kind extends PhotoAsk['kind']>(
    ask: Extract<PhotoAsk, { readonly kind: Kind }>,
    report?: Report,
  ): Promise<Outcome<Extract<PhotoAnswer, { readonly kind: Kind }>>>;
  /** Stops at once whatever is under way; it answers with the failure `cancelled`. */
  stop(): void;
}

export function createPhotoHelper(): PhotoHelper {
  const worker = helper<PhotoAsk, PhotoAnswer>(
    () => new Worker(new URL('./photoWorker.ts', import.meta.url), { type: 'module' }),
  );
  return {
    // What was asked decides what comes back; a message cannot carry that in its type.
    ask: (ask, report) => worker.ask(ask, report) as never,
    stop: worker.stop,
  };
}
