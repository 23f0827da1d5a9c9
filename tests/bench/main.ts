/** `npm run bench`: speed as medians, ratios and growth within one run, PDF output, and the size of the start-up script. */
import { spawnSync } from 'node:child_process';
import { cpus } from 'node:os';
import { againstPaper } from './againstPaper';
import { bundle } from './bundle';
import { drawing } from './drawing';
import { pdf } from './pdf';
import { pdfIn } from './pdfIn';
import { photo } from './photo';
import { growth, recompute } from './recompute';

console.log(`Node ${process.version}, ${cpus().length} cores, ${cpus()[0]?.model ?? 'unknown processor'}`);
recompute();
againstPaper();
growth();
await pdf();
photo();
await pdfIn();
drawing();
if (spawnSync('vite', ['build', '--logLevel', 'error'], { stdio: 'inherit' }).status === 0) bundle();
else console.log('start-up script: the build failed, nothing to weigh');
