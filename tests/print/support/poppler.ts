import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type GreyImage, readPgm } from '../../support/pgm';

export const dotsPerMm = 600 / 25.4;

/** Fails with a sentence when poppler is not installed: the checks that need it must not pass by being skipped. */
export function requirePoppler(): void {
  if (spawnSync('pdftoppm', ['-v']).error) {
    throw new Error(
      'pdftoppm is missing. Install poppler (Debian and Ubuntu: apt-get install poppler-utils; macOS: brew install poppler).',
    );
  }
}

/** One page (counted from 1) as poppler draws it at 600 dots per inch. */
export function rasterPage(pdf: Uint8Array, page: number): GreyImage {
  requirePoppler();
  const folder = mkdtempSync(join(tmpdir(), 'print-test-'));
  try {
    const file = join(folder, 'print.pdf');
    writeFileSync(file, pdf);
    const out = join(folder, 'page');
    execFileSync('pdftoppm', ['-r', '600', '-gray', '-f', `${page}`, '-l', `${page}`, '-singlefile', file, out]);
    return readPgm(readFileSync(`${out}.pgm`));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
