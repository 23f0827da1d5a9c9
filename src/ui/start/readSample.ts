import { readProject } from '../../exchange/project/projectFile';
import { fail, type Outcome } from '../../geometry/outcome';
import type { Garment } from '../../pattern/garment';
import type { Sample } from './samples';

const read = new Map<string, Promise<Outcome<Garment>>>();

/** Reads a shipped sample, once. */
export function readSample(sample: Sample): Promise<Outcome<Garment>> {
  const known = read.get(sample.file);
  if (known !== undefined) return known;
  const reading = fetchSample(sample);
  read.set(sample.file, reading);
  void reading.then((garment) => {
    // A sample that did not come is asked for again.
    if (!garment.ok) read.delete(sample.file);
  });
  return reading;
}

async function fetchSample(sample: Sample): Promise<Outcome<Garment>> {
  try {
    const answer = await fetch(`${import.meta.env.BASE_URL}${sample.file}`);
    if (!answer.ok) throw new Error(String(answer.status));
    return readProject(await answer.text());
  } catch {
    return fail('sample-missing', `The sample “${sample.name}” could not be loaded. Reload the page and try again.`);
  }
}
