/** The dots of pictures, kept outside the stores by id: what the table paints, and every dot for the magnifier. */
export interface Pixels {
  /** Small enough to be drawn at every frame. */
  readonly small: HTMLCanvasElement;
  readonly full: ImageBitmap;
}

const kept = new Map<string, Pixels>();

/** Keeps the dots of a picture under an id. The small bitmap is used up. */
export function keepPixels(id: string, small: ImageBitmap, full: ImageBitmap): void {
  releasePixels(id);
  const canvas = document.createElement('canvas');
  canvas.width = small.width;
  canvas.height = small.height;
  // Handed over, not drawn: a copy of a large picture would hold the page up.
  canvas.getContext('bitmaprenderer')?.transferFromImageBitmap(small);
  kept.set(id, { small: canvas, full });
}

export function pixelsOf(id: string): Pixels | null {
  return kept.get(id) ?? null;
}

/** Gives the memory of every picture back but of those still needed. */
export function releaseAllBut(needed: ReadonlySet<string>): void {
  for (const id of [...kept.keys()]) if (!needed.has(id)) releasePixels(id);
}

function releasePixels(id: string): void {
  const pixels = kept.get(id);
  if (pixels === undefined) return;
  pixels.full.close();
  // A canvas without size holds no memory.
  pixels.small.width = 0;
  kept.delete(id);
}
