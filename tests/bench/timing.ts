/** Timings of a repeated call, milliseconds. */
export interface Timing {
  readonly runs: number;
  readonly median: number;
  readonly p95: number;
}

/** Runs `work` `warm` times uncounted, then `runs` times counted. `work` gets the run's number, so that nothing can be cached. */
export function time(work: (run: number) => unknown, runs: number, warm = Math.ceil(runs / 4)): Timing {
  for (let run = 0; run < warm; run += 1) work(-1 - run);
  const spans: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const start = performance.now();
    work(run);
    spans.push(performance.now() - start);
  }
  spans.sort((a, b) => a - b);
  return { runs, median: quantile(spans, 0.5), p95: quantile(spans, 0.95) };
}

function quantile(sorted: readonly number[], q: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? Number.NaN;
}

export function show(ms: number): string {
  return `${ms.toFixed(ms < 10 ? 3 : 1)} ms`;
}
