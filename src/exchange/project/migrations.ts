/** A document of one format as the next format has it. What is damaged passes through unchanged, for the reader to name. */
type Migration = (document: unknown) => unknown;

/** The step at index n - 1 leads from format n to n + 1. A step never changes once a program with it has been handed out. */
const steps: readonly Migration[] = [fromOneToTwo];

/** A document of the given format, taken step by step to the format this program reads. */
export function migrated(document: unknown, version: number): unknown {
  return steps.slice(version - 1).reduce((result, step) => step(result), document);
}

/** Format 2 gives every piece a size of its own; before, a size was at most part of the name, and stays there. */
function fromOneToTwo(document: unknown): unknown {
  if (!isRecord(document) || !isRecord(document.garment)) return document;
  const { blocks } = document.garment;
  if (!Array.isArray(blocks)) return document;
  const sized = blocks.map((block: unknown) => (isRecord(block) ? { ...block, size: null } : block));
  return { ...document, version: 2, garment: { ...document.garment, blocks: sized } };
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
