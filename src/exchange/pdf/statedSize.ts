/** A length as people write it beside a test square: `10 cm`, `100mm`, `4 in`, `4"`, `1 inch`, `10 x 10 cm`. */
const written = /(\d{1,3}(?:[.,]\d{1,2})?)\s*(?:[x×]\s*\d{1,3}(?:[.,]\d{1,2})?\s*)?(mm|cm|inch(?:es)?|in\b|"|″|”|'')/gi;

/** The lengths a text states, mm. */
export function statedSizes(words: string): readonly number[] {
  return [...words.matchAll(written)].flatMap(([, number, unit]) => {
    const length = Number(number!.replace(',', '.')) * mmOf(unit!.toLowerCase());
    return length >= 10 && length <= 400 ? [length] : [];
  });
}

function mmOf(unit: string): number {
  return unit === 'mm' ? 1 : unit === 'cm' ? 10 : 25.4;
}
