import { readFileSync } from 'node:fs';
import { readProject } from '../../../src/exchange/project/projectFile';
import type { Path } from '../../../src/geometry/segment';

/** The outline of a block of a sample garment at true size, mm, our way round. */
export function sampleOutline(sample: 'straight-skirt' | 'sleeveless-top', block: 'front' | 'back'): Path {
  const text = readFileSync(`public/samples/${sample}.json`, 'utf8');
  const garment = readProject(text);
  if (!garment.ok) throw new Error(garment.sentence);
  const piece = garment.value.blocks.find(({ id }) => id === block);
  if (piece === undefined) throw new Error(`${sample} has no ${block}`);
  return piece.edges.flatMap(({ path }) => path);
}
