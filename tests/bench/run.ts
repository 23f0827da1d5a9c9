/**
 * `npm run bench`. Bundles the benchmark as production code is bundled before it runs: code that is loaded file by file
 * pays for every import at every call, which is not what a maker's browser runs.
 */
import { spawnSync } from 'node:child_process';
import { build } from 'vite';

const outDir = 'node_modules/.cache/hingeline-bench';
await build({
  configFile: false,
  publicDir: false,
  logLevel: 'warn',
  build: { ssr: 'tests/bench/main.ts', outDir, emptyOutDir: true, target: 'es2022' },
});
// In a process of its own, so that the bundler's memory and threads do not weigh on what is measured.
process.exitCode = spawnSync(process.execPath, [`${outDir}/main.js`], { stdio: 'inherit' }).status ?? 1;
