import { readProject } from '../../../src/exchange/project/projectFile';
import { reportVersion } from '../../../src/measure/report';
import type { VersionReport } from '../../../src/measure/versionReport';
import type { Garment } from '../../../src/pattern/garment';
import { granted } from '../../support/outcomes';

/** The blocks of a project file, member for member in the order of the file, every number with all its digits. */
export function blocksOf(projectFile: string): string {
  return JSON.stringify((JSON.parse(projectFile) as { garment: { blocks: unknown } }).garment.blocks);
}

export function saved(projectFile: string): Garment {
  return granted(readProject(projectFile));
}

export interface Worked {
  readonly garment: Garment;
  readonly report: VersionReport;
}

/** What the core makes of a saved garment; of its last version unless `version` names another. */
export function worked(projectFile: string, version?: string): Worked {
  const garment = saved(projectFile);
  const chosen =
    version === undefined ? garment.versions.at(-1) : garment.versions.find(({ name }) => name === version);
  if (chosen === undefined) throw new Error(`No version ${version ?? ''} in the saved garment`);
  return { garment, report: granted(reportVersion(garment, chosen.id)) };
}
