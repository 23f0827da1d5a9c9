/** The files of the pictures on the table. The worker is handed them with every question, should it have been stopped. */
const files = new Map<string, Blob>();

export function keepFile(id: string, file: Blob): void {
  files.set(id, file);
}

export function fileOf(id: string): Blob {
  return files.get(id) ?? new Blob();
}

/** Lets go of these files, or of all. */
export function forgetFiles(ids: Iterable<string> = [...files.keys()]): void {
  for (const id of ids) files.delete(id);
}
