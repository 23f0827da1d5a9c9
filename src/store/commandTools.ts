import type { Outcome } from '../geometry/outcome';
import type { Garment } from '../pattern/garment';
import type { Mode } from './appCommands';
import type { Change } from './appState';

/** What every group of commands is built on. */
export interface CommandTools {
  /** Previews or commits a change of the document. */
  run(label: string, change: Change, mode?: Mode): Outcome<Garment>;
  /** The same for a change of the version on the table; with the block on the table a new version is started first. */
  runOnVersion(
    label: string,
    edit: (garment: Garment, version: string) => Outcome<Garment>,
    mode?: Mode,
  ): Outcome<Garment>;
  /** Shows why a command could not even be tried. */
  refuse<T>(outcome: Outcome<T>): Outcome<T>;
}
