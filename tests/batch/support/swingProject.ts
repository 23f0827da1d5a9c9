import { readFileSync } from 'node:fs';
import { readProject, writeProject } from '../../../src/exchange/project/projectFile';
import type { Outcome } from '../../../src/geometry/outcome';
import { defaultFan } from '../../../src/operations/fan';
import { defaultFinish } from '../../../src/operations/finish';
import { matchPartner } from '../../../src/operations/matchPartner';
import { defaultTrue } from '../../../src/operations/true';
import type { Garment } from '../../../src/pattern/garment';

export function must<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`${outcome.code}: ${outcome.sentence}`);
  return outcome.value;
}

/** The sample top with one version: four slashes of 1 1/2 in on the front, trued, finished, and matched on the back. */
export function swingGarment(): Garment {
  const sample = new URL('../../../public/samples/sleeveless-top.json', import.meta.url);
  const garment = must(readProject(readFileSync(sample, 'utf8')));
  const front = garment.blocks.find((b) => b.id === 'front')!;
  const fan = must(defaultFan(front, { downSide: 50, slashes: 4, opening: 38.1 }));
  const version = {
    id: 'v1',
    name: 'Swing',
    note: 'A-line',
    made: '2026-02-14T10:00:00Z',
    recipes: { front: [fan, defaultTrue(), defaultFinish()] },
  };
  return must(matchPartner({ ...garment, versions: [version] }, 'v1', 'front'));
}

export function swingProject(): string {
  return writeProject(swingGarment());
}

/** The sample skirt with one version: the front's waist dart closed into the hem, then one slash right through, and trued; half of the back's. */
export function dartedGarment(): Garment {
  const sample = new URL('../../../public/samples/straight-skirt.json', import.meta.url);
  const garment = must(readProject(readFileSync(sample, 'utf8')));
  const edges = { centre: 'centre-front', hem: 'hem', side: 'side' };
  const closing = { kind: 'close-dart', dart: 'waist-dart', ...edges, share: 1, foot: null } as const;
  const front = garment.blocks.find((b) => b.id === 'front')!;
  const fan = { ...must(defaultFan(front, { slashes: 1, opening: 30 })), fullness: null };
  const version = {
    id: 'v1',
    name: 'Flared',
    note: '',
    made: '2026-02-14T10:00:00Z',
    recipes: {
      front: [closing, fan, defaultTrue()],
      back: [{ ...closing, centre: 'centre-back', share: 0.5 }],
    },
  };
  return { ...garment, versions: [version] };
}

export function dartedProject(): string {
  return writeProject(dartedGarment());
}
