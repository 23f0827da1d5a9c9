/**
 * The name of an edge as it reads within a sentence: "Side seam" becomes "side seam". A name with capitals elsewhere
 * ("CF line", "Side A") is the maker's own way of writing it and stays.
 */
export function nameInSentence(name: string): string {
  const [first = '', ...others] = name;
  const rest = others.join('');
  return rest === rest.toLowerCase() && rest !== '' ? first.toLowerCase() + rest : name;
}
