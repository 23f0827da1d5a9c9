/**
 * The way round a closed strip of `count` columns with `across` places each that collects the highest scores, when going
 * from one column to the next may move by one place and costs `bendCost` then (dynamic programming). It is begun before
 * the first column and ended after the last, so that both ends meet. Answers the place in every column.
 */
export function bestClosedPath(scores: Float32Array, count: number, across: number, bendCost: number): Int32Array {
  const spare = Math.min(count, 300);
  const steps = count + 2 * spare;
  const came = new Int8Array(steps * across);
  let before = new Float32Array(across);
  let now = new Float32Array(across);
  for (let step = 0; step < steps; step++) {
    const column = ((step - spare + count) % count) * across;
    for (let k = 0; k < across; k++) {
      let best = before[k]!;
      let from = 0;
      if (k > 0 && before[k - 1]! - bendCost > best) {
        best = before[k - 1]! - bendCost;
        from = -1;
      }
      if (k < across - 1 && before[k + 1]! - bendCost > best) {
        best = before[k + 1]! - bendCost;
        from = 1;
      }
      now[k] = best + scores[column + k]!;
      came[step * across + k] = from;
    }
    [before, now] = [now, before];
  }
  let at = 0;
  for (let k = 1; k < across; k++) if (before[k]! > before[at]!) at = k;
  const path = new Int32Array(count);
  for (let step = steps - 1; step >= spare; step--) {
    if (step < spare + count) path[step - spare] = at;
    at += came[step * across + at]!;
  }
  return path;
}
