import { readFile, writeFile } from 'node:fs/promises';
import { runBatch } from './run';

const fontFile = new URL('../../public/fonts/DejaVuSans.ttf', import.meta.url);

process.exitCode = await runBatch(process.argv.slice(2), {
  readText: (path) => readFile(path, 'utf8'),
  write: (path, content) => writeFile(path, content),
  loadFont: async () => new Uint8Array(await readFile(fontFile)),
  say: (line) => console.log(line),
  complain: (line) => console.error(line),
  today: () => {
    const now = new Date();
    const two = (n: number) => String(n).padStart(2, '0');
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  },
});
