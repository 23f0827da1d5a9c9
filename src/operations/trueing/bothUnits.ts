import { formatLength } from '../../units/length';

/** A length for a sentence, in centimetres and inches: an operation does not know which the maker reads. */
export function bothUnits(length: number): string {
  return `${formatLength(length, 'cm', { decimals: 1 })} (${formatLength(length, 'in')})`;
}
