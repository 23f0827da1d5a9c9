/** A name to start from: the file's, without its ending and with its dashes read as spaces. */
export function nameFromFile(fileName: string): string {
  const words = fileName
    .replace(/\.[^.]*$/, '')
    .replace(/[_-]+/g, ' ')
    .trim();
  return words === '' ? 'New piece' : words.charAt(0).toUpperCase() + words.slice(1);
}

/** A file's name short enough for a sentence. */
export function shortName(fileName: string): string {
  return fileName.length <= 48 ? fileName : `${fileName.slice(0, 30)}…${fileName.slice(-16)}`;
}
