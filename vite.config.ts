import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

const absentModule = fileURLToPath(new URL('./src/print/absentModule.ts', import.meta.url));

/**
 * Emits sw.js, which keeps every file of this build so that the app opens with no network at all.
 * A new build waits until the last tab of the old one is closed, so a running page never loses its own files. Servers
 * that answer with `Vary: Origin` are served from the cache all the same: the files do not differ by who asks.
 */
function offline(): Plugin {
  return {
    name: 'hingeline-offline',
    apply: 'build',
    generateBundle(_options, bundle) {
      const shipped = readdirSync('public', { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => `${entry.parentPath}/${entry.name}`.replace(/^public\//, ''));
      const files = ['./', ...Object.keys(bundle), ...shipped].filter((name) => name !== 'index.html');
      const hash = createHash('sha256').update(files.join('\n'));
      for (const name of shipped) hash.update(readFileSync(`public/${name}`));
      const stamp = hash.digest('hex').slice(0, 12);
      const source = `const kept = 'hingeline-${stamp}';
const files = ${JSON.stringify(files)};
self.addEventListener('install', (event) => {
  event.waitUntil(caches.open(kept).then((cache) => cache.addAll(files)));
});
self.addEventListener('activate', (event) => {
  event.waitUntil(
    caches.keys()
      .then((names) => Promise.all(names.filter((name) => name.startsWith('hingeline-') && name !== kept).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});
self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return;
  event.respondWith(caches.open(kept).then((cache) => cache.match(event.request, { ignoreSearch: true, ignoreVary: true })).then((hit) => hit ?? fetch(event.request)));
});
`;
      this.emitFile({ type: 'asset', fileName: 'sw.js', source });
    },
  };
}

export default defineConfig({
  base: './',
  plugins: [react(), offline()],
  resolve: {
    alias: {
      // jspdf imports these three only for its HTML features, which Hingeline never uses.
      html2canvas: absentModule,
      canvg: absentModule,
      dompurify: absentModule,
    },
  },
  build: { target: 'es2022' },
  worker: { format: 'es' },
  test: {
    // By default one core is left idle; on two cores that doubles the time.
    maxWorkers: '100%',
    projects: [
      {
        extends: true,
        test: {
          name: 'core',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**'],
          setupFiles: ['tests/support/propertySeed.ts'],
          testTimeout: 60_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'ui',
          environment: 'happy-dom',
          include: ['tests/**/*.test.tsx'],
          setupFiles: ['tests/support/happyDomSetup.ts'],
        },
      },
    ],
  },
});
