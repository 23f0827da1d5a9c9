import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  base: './',
  plugins: [react()],
  resolve: {
    alias: {
      // jspdf imports these three only for its HTML features, which Hingeline never uses.
      html2canvas: new URL('./src/print/absentModule.ts', import.meta.url).pathname,
      canvg: new URL('./src/print/absentModule.ts', import.meta.url).pathname,
      dompurify: new URL('./src/print/absentModule.ts', import.meta.url).pathname,
    },
  },
  build: { target: 'es2022', sourcemap: false },
  server: { port: 5173, strictPort: false },
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'core',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**'],
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
