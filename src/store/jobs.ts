export interface Jobs {
  /**
   * Runs jobs one after the other, so that saves and changes of garment never overtake each other. A job that something
   * listening to the store breaks off is done again later: it must not be the last one.
   */
  inTurn(job: () => Promise<void>): Promise<void>;
  tryLater(job: () => Promise<void>): void;
  /** Nothing is tried later any more. */
  stop(): void;
}

/** `retry`: time until a job is tried again, ms. */
export function createJobs(retry: number): Jobs {
  let work: Promise<void> = Promise.resolve();
  let stopped = false;
  const jobs: Jobs = {
    inTurn(job) {
      work = work.then(job).catch((error: unknown) => {
        globalThis.reportError?.(error);
        jobs.tryLater(job);
      });
      return work;
    },
    tryLater(job) {
      setTimeout(() => {
        if (!stopped) void jobs.inTurn(job);
      }, retry);
    },
    stop() {
      stopped = true;
    },
  };
  return jobs;
}
