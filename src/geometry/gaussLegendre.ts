/** Nodes and weights of a quadrature rule on [0, 1]. */
export interface QuadratureRule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

/**
 * The Gauss-Legendre rule with `count` points on [0, 1], exact for polynomials up to degree 2 count - 1.
 * Roots of the Legendre polynomial by Newton from the usual cosine start (Abramowitz and Stegun 25.4.29, 22.16.6).
 */
export function gaussLegendre(count: number): QuadratureRule {
  const nodes: number[] = [];
  const weights: number[] = [];
  for (let i = 0; i < count; i++) {
    let z = Math.cos((Math.PI * (count - i - 0.25)) / (count + 0.5));
    let slope = 1;
    for (let step = 0; step < 100; step++) {
      let current = 1;
      let previous = 0;
      for (let k = 1; k <= count; k++) {
        const next = ((2 * k - 1) * z * current - (k - 1) * previous) / k;
        previous = current;
        current = next;
      }
      slope = (count * (z * current - previous)) / (z * z - 1);
      const change = current / slope;
      z -= change;
      if (Math.abs(change) < 1e-16) break;
    }
    nodes.push((1 + z) / 2);
    weights.push(1 / ((1 - z * z) * slope * slope));
  }
  return { nodes, weights };
}
