import type { LengthUnit } from '../../pattern/garment';
import { formatLength } from '../../units/length';

/** A difference or deviation, mm, in words fine enough to judge it by: tenths of a mm, or 1/32 in. */
export function smallLength(length: number, unit: LengthUnit): string {
  if (unit !== 'in') return formatLength(length, 'mm', { decimals: 1 });
  const least = 25.4 / 32;
  if (Math.abs(length) < least / 20) return '0 in';
  if (Math.abs(length) < least) return 'under 1/32 in';
  return formatLength(length, 'in', { inchParts: 32 });
}

/** The same with its sign written out, since more or less is what matters. */
export function signedSmallLength(length: number, unit: LengthUnit): string {
  const text = smallLength(Math.abs(length), unit);
  if (/^0(\.0)? /.test(text) || text.startsWith('under')) return text;
  return `${length < 0 ? '−' : '+'}${text}`;
}
