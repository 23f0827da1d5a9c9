/** Hands the maker a file through the browser's own download. */
export function downloadFile(name: string, content: BlobPart, type: string): void {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // The download has its own hold on the data by the next turn of the event loop.
  setTimeout(() => URL.revokeObjectURL(address), 0);
}

export function downloadText(name: string, text: string): void {
  downloadFile(name, text, 'application/json');
}

/** A file name from a garment's name: letters and figures of any script, dashes between. */
export function fileName(name: string, ending: string): string {
  const plain = name
    .trim()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return `${plain === '' ? 'garment' : plain}.${ending}`;
}
