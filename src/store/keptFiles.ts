/** A picked file as it is stored: browsers differ in keeping files themselves. */
interface KeptFile {
  readonly bytes: ArrayBuffer;
  readonly name: string;
  readonly type: string;
}

/** The part that a picked file is stored as. */
export const fileName = (id: string) => `file ${id}`;

/** What is stored of a file; null where it has nothing in it or cannot be read any more. */
export async function readFile(file: Blob): Promise<KeptFile | null> {
  const bytes = await file.arrayBuffer().catch(() => null);
  if (bytes === null || bytes.byteLength === 0) return null;
  return { bytes, name: file instanceof File ? file.name : '', type: file.type };
}

/** The files among the parts of a record, by their own ids. */
export function filesOf(parts: ReadonlyMap<string, unknown>): ReadonlyMap<string, Blob> {
  const files = new Map<string, Blob>();
  for (const [name, content] of parts) {
    if (!name.startsWith(fileName('')) || typeof content !== 'object' || content === null) continue;
    const { bytes, name: called, type } = content as KeptFile;
    files.set(name.slice(fileName('').length), new File([bytes], called, { type }));
  }
  return files;
}
