/** A layer of the file (ISO 32000-1, 8.11: optional content group). */
export interface PdfLayer {
  readonly name: string;
  /** Switched on when the file is opened. */
  readonly shown: boolean;
}

/** The layers by the id the operators call them by. */
export type PdfLayers = ReadonlyMap<string, PdfLayer>;

/** The layer that marked content belongs to; null where it is no layer or not one of the file's. */
export function layerOf(properties: unknown, layers: PdfLayers): PdfLayer | null {
  if (typeof properties !== 'object' || properties === null) return null;
  const { id, ids } = properties as { id?: unknown; ids?: unknown };
  if (typeof id === 'string') return layers.get(id) ?? null;
  // A set of layers: named by its first one, seen when any of them is.
  if (!Array.isArray(ids)) return null;
  const members = ids.flatMap((member) => (typeof member === 'string' ? (layers.get(member) ?? []) : []));
  const first = members[0];
  return first ? { name: first.name, shown: members.some((member) => member.shown) } : null;
}
