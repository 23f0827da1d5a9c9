/** The two functions of npm `dxf` 5.3.1 that the tests compare with; it brings no types of its own. */
declare module 'dxf' {
  interface Polyline {
    readonly rgb: readonly number[];
    readonly vertices: readonly (readonly [number, number])[];
  }
  export function parseString(text: string): object;
  export function toPolylines(parsed: object): { readonly polylines: readonly Polyline[] };
  export const colors: readonly (readonly [number, number, number])[];
  export const config: { verbose: boolean };
}
