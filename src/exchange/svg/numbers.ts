import { svgLimits } from './limits';

/** Reads numbers, flags and separators out of one attribute from left to right, by SVG's own grammar. */
export class NumberReader {
  at = 0;

  constructor(readonly text: string) {}

  get done(): boolean {
    return this.at >= this.text.length;
  }

  skipSpace(): void {
    while (this.at < this.text.length && isSpace(this.text.charCodeAt(this.at))) this.at++;
  }

  /** White space with at most one comma in it. True when there was a comma. */
  skipSeparator(): boolean {
    this.skipSpace();
    if (this.text.charCodeAt(this.at) !== 44) return false;
    this.at++;
    this.skipSpace();
    return true;
  }

  /**
   * The next number, or null (without moving) where none stands or it is too large to be a place on a drawing.
   * A number ends where the next can begin, so `.5.5` is two and `1-2` is two.
   */
  number(): number | null {
    const start = this.at;
    const { text } = this;
    let at = start;
    const sign = text.charCodeAt(at);
    if (sign === 43 || sign === 45) at++;
    const whole = at;
    while (isDigit(text.charCodeAt(at))) at++;
    let digits = at - whole;
    if (text.charCodeAt(at) === 46) {
      const fraction = at + 1;
      let end = fraction;
      while (isDigit(text.charCodeAt(end))) end++;
      // `1.` was a number in the older SVG and some programs still write it; a bare point never was.
      if (digits > 0 || end > fraction) {
        digits += end - fraction;
        at = end;
      }
    }
    if (digits === 0) return null;
    at = afterExponent(text, at);
    const value = Number(text.slice(start, at));
    if (!(Math.abs(value) <= svgLimits.coordinate)) return null;
    this.at = at;
    return value;
  }

  /** An arc flag: one character, 0 or 1, with no separator needed after it. */
  flag(): boolean | null {
    const code = this.text.charCodeAt(this.at);
    if (code !== 48 && code !== 49) return null;
    this.at++;
    return code === 49;
  }
}

function afterExponent(text: string, at: number): number {
  const mark = text.charCodeAt(at);
  if (mark !== 101 && mark !== 69) return at;
  let end = at + 1;
  const sign = text.charCodeAt(end);
  if (sign === 43 || sign === 45) end++;
  if (!isDigit(text.charCodeAt(end))) return at;
  while (isDigit(text.charCodeAt(end))) end++;
  return end;
}

function isDigit(code: number): boolean {
  return code >= 48 && code <= 57;
}

function isSpace(code: number): boolean {
  return code === 32 || code === 10 || code === 9 || code === 13 || code === 12;
}
