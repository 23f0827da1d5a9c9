import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';

/** Start-up script: every script index.html loads before anything is clicked. */
export function bundle(): void {
  const dist = pathToFileURL(`${process.cwd()}/dist/`);
  const page = readFileSync(new URL('index.html', dist), 'utf8');
  const scripts = [...page.matchAll(/(?:src|href)="\.\/([^"]+\.js)"/g)].flatMap((match) => match[1] ?? []);
  const bytes = scripts.reduce((sum, name) => sum + gzipSync(readFileSync(new URL(name, dist))).length, 0);
  console.log(`start-up script: ${(bytes / 1000).toFixed(1)} kB gzip in ${scripts.length} files (goal 250 kB)`);
}
