import type { Outcome } from '../geometry/outcome';
import { reportVersion } from '../measure/report';
import type { VersionReport } from '../measure/versionReport';
import type { Garment } from '../pattern/garment';
import { findVersion } from '../pattern/lookUp';
import type { AppState, Shown } from './appState';

/** Works a version (null: the block) and measures it. */
export type Report = (garment: Garment, version: string | null) => Outcome<VersionReport>;

type Looked = Pick<AppState, 'garment' | 'preview' | 'activeVersion'>;

/**
 * The id of the version on the table: the active one, or one that a preview is about to start; null for the block.
 */
export function shownVersion(state: Looked): string | null {
  const { garment, preview, activeVersion } = state;
  if (!preview) return activeVersion;
  if (activeVersion === null) {
    const started = preview.versions.find((version) => !findVersion(garment ?? preview, version.id));
    return started?.id ?? null;
  }
  return findVersion(preview, activeVersion) ? activeVersion : null;
}

/** Makes the reader of what is shown. It answers the same object as long as document and version are the same. */
export function createShown(report: Report): (state: Looked) => Shown | null {
  let last: { garment: Garment; version: string | null; shown: Shown | null } | null = null;
  return (state) => {
    const garment = state.preview ?? state.garment;
    if (!garment) return null;
    const version = shownVersion(state);
    if (last?.garment === garment && last.version === version) return last.shown;
    const worked = report(garment, version);
    const shown = worked.ok ? { garment, report: worked.value } : null;
    last = { garment, version, shown };
    return shown;
  };
}

/** What the table and the slip show now: preview or committed document with the worked version; null on the first screen. */
export const shownNow = createShown(reportVersion);
