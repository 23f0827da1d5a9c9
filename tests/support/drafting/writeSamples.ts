import { writeFileSync } from 'node:fs';
import { writeProject } from '../../../src/exchange/project/projectFile';
import { draftSleevelessTop } from './sleevelessTop';
import { draftStraightSkirt } from './straightSkirt';

/** Writes the sample garments anew: `npx tsx tests/support/drafting/writeSamples.ts`. A test holds the files to the drafts. */
const samples = [
  { file: 'sleeveless-top.json', garment: draftSleevelessTop() },
  { file: 'straight-skirt.json', garment: draftStraightSkirt() },
];
for (const { file, garment } of samples) {
  writeFileSync(new URL(`../../../public/samples/${file}`, import.meta.url), writeProject(garment));
}
