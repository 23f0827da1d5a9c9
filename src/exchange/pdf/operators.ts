/**
 * Numbers of the drawing operators the PDF library hands over; a test compares them with the library's own table.
 * What they do: ISO 32000-1, annex A.
 */
export const op = {
  setLineWidth: 2,
  setDash: 6,
  setGState: 9,
  save: 10,
  restore: 11,
  transform: 12,
  stroke: 20,
  closeStroke: 21,
  fill: 22,
  eoFill: 23,
  fillStroke: 24,
  eoFillStroke: 25,
  closeFillStroke: 26,
  closeEOFillStroke: 27,
  clip: 29,
  eoClip: 30,
  beginText: 31,
  setCharSpacing: 33,
  setWordSpacing: 34,
  setHScale: 35,
  setLeading: 36,
  setFont: 37,
  setTextRenderingMode: 38,
  moveText: 40,
  setLeadingMoveText: 41,
  setTextMatrix: 42,
  nextLine: 43,
  showText: 44,
  setStrokeColorN: 53,
  setFillColorN: 55,
  setStrokeRGBColor: 58,
  setFillRGBColor: 59,
  beginMarkedContent: 69,
  beginMarkedContentProps: 70,
  endMarkedContent: 71,
  paintFormXObjectBegin: 74,
  paintFormXObjectEnd: 75,
  beginGroup: 76,
  endGroup: 77,
  paintImageMaskXObject: 83,
  paintImageXObject: 85,
  paintInlineImageXObject: 86,
  paintImageXObjectRepeat: 88,
  constructPath: 91,
  setStrokeTransparent: 92,
  setFillTransparent: 93,
} as const;

/** Codes inside the numbers of a path. */
export const pathOp = { move: 0, line: 1, cubic: 2, quadratic: 3, close: 4 } as const;

/** Operators of one page, in order, each with its values. The values come from a file: nothing is believed of them. */
export interface OperatorList {
  readonly fnArray: readonly number[];
  readonly argsArray: readonly unknown[];
}

/** A number of an operator, or NaN. */
export function numberAt(values: unknown, index: number): number {
  const value = isList(values) ? values[index] : undefined;
  return typeof value === 'number' ? value : Number.NaN;
}

export function listAt(values: unknown, index: number): ArrayLike<unknown> | null {
  const value = isList(values) ? values[index] : undefined;
  return isList(value) ? value : null;
}

export function isList(value: unknown): value is ArrayLike<unknown> {
  return Array.isArray(value) || (ArrayBuffer.isView(value) && !(value instanceof DataView));
}
