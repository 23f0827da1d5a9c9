/** Weight of a residual in units of its spread: Tukey's biweight (Beaton and Tukey 1974, from memory), 0 beyond 4.685. */
export function tukey(z: number): number {
  const u = z / 4.685;
  return u * u >= 1 ? 0 : (1 - u * u) ** 2;
}

/**
 * Spread of residuals that a share of strangers does not upset: 1.4826 times the median absolute residual (the factor
 * makes it the standard deviation of a Gaussian). After a first round only those that belong are asked.
 */
export function robustSpread(rest: Float64Array, belongs: Float64Array, all: boolean): number {
  const sizes = new Float64Array(rest.length);
  let count = 0;
  for (let j = 0; j < rest.length; j++) if (all || belongs[j]! > 0) sizes[count++] = Math.abs(rest[j]!);
  if (count === 0) return 0;
  const known = sizes.subarray(0, count).sort();
  return 1.4826 * known[count >> 1]!;
}

/**
 * Spread of single residuals about their neighbours' middle, so that a bow of them all does not count: the same robust
 * measure on r(j) - (r(j-1) + r(j+1)) / 2, whose spread is sqrt(3/2) of one residual's.
 */
export function scatter(rest: Float64Array, belongs: Float64Array): number {
  const differences = new Float64Array(rest.length);
  let count = 0;
  for (let j = 1; j + 1 < rest.length; j++) {
    if (belongs[j - 1]! > 0 && belongs[j]! > 0 && belongs[j + 1]! > 0) {
      differences[count++] = rest[j]! - (rest[j - 1]! + rest[j + 1]!) / 2;
    }
  }
  return robustSpread(differences.subarray(0, count), belongs, true) / Math.sqrt(1.5);
}
