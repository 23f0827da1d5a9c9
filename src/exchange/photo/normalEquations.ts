/**
 * A small symmetric positive system A x = b, n by n, row by row: its solution and the inverse of A, by Cholesky's method
 * on the matrix scaled to a diagonal of ones (parameters of very different size keep their digits). Null when A is not
 * positive definite to rounding.
 */
export function solveNormal(a: Float64Array, b: Float64Array): { x: Float64Array; inverse: Float64Array } | null {
  const n = b.length;
  const size = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const d = a[i * n + i]!;
    if (!(d > 0)) return null;
    size[i] = 1 / Math.sqrt(d);
  }
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j]! * size[i]! * size[j]!;
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!;
      if (i !== j) l[i * n + j] = sum / l[j * n + j]!;
      else if (sum > 1e-14) l[i * n + i] = Math.sqrt(sum);
      else return null;
    }
  }
  const inverse = new Float64Array(n * n);
  const column = new Float64Array(n);
  for (let c = 0; c < n; c++) {
    for (let i = 0; i < n; i++) {
      let sum = i === c ? 1 : 0;
      for (let k = 0; k < i; k++) sum -= l[i * n + k]! * column[k]!;
      column[i] = sum / l[i * n + i]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = column[i]!;
      for (let k = i + 1; k < n; k++) sum -= l[k * n + i]! * column[k]!;
      column[i] = sum / l[i * n + i]!;
    }
    for (let i = 0; i < n; i++) inverse[i * n + c] = column[i]! * size[i]! * size[c]!;
  }
  const x = new Float64Array(n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) x[i] = x[i]! + inverse[i * n + j]! * b[j]!;
  return { x, inverse };
}
