/** A size as it stands on a label: `size 12`, or as written where the word is there already. */
export function sizeWords(size: string): string {
  return /^size\b/i.test(size) ? size.replace(/^size/i, 'size') : `size ${size}`;
}

/** The piece's name with its size, as it is shown where pieces of several sizes may lie side by side. */
export function nameAndSize({ name, size }: { readonly name: string; readonly size: string | null }): string {
  return size === null ? name : `${name}, ${sizeWords(size)}`;
}
