/** A square drawn in the file to check the scale with. */
export interface TestSquare {
  /** Number of the page, from 1. */
  readonly page: number;
  /** Side the file says it has, mm. Null when the words do not say; then it is only mentioned. */
  readonly stated: number | null;
  /** mm as read. */
  readonly measuredX: number;
  /** mm as read. */
  readonly measuredY: number;
  /** The worse of measuredX / stated - 1 and measuredY / stated - 1; 0 when nothing is stated. */
  readonly error: number;
  /** What to multiply the drawing with so that the square is right, stated / measured (mean of both directions); 1 when nothing is stated. */
  readonly suggestion: number;
  /** Whether the scale may be taken as certain: within 0.5 % both ways. */
  readonly agrees: boolean;
  readonly sentence: string;
}
