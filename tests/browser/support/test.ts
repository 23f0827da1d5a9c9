import { test as base, expect } from '@playwright/test';

export { expect };

/**
 * Every job is watched while it runs: a request to anywhere but the app's own server (R26), a script error, or an
 * error on the console fails the job, whatever else it checks.
 */
export const test = base.extend<{ watched: undefined }>({
  watched: [
    async ({ context }, use) => {
      const outside: string[] = [];
      const faults: string[] = [];
      const own = ({ protocol, hostname }: URL) =>
        hostname === '127.0.0.1' || protocol === 'data:' || protocol === 'blob:';
      context.on('request', (request) => {
        if (!own(new URL(request.url()))) outside.push(request.url());
      });
      context.on('page', (page) => page.on('websocket', (socket) => outside.push(socket.url())));
      context.on('weberror', (fault) => faults.push(fault.error().message));
      context.on('console', (line) => {
        if (line.type() === 'error') faults.push(line.text());
      });
      await use(undefined);
      expect(outside, 'nothing is fetched from outside').toEqual([]);
      expect(faults, 'no errors in the page').toEqual([]);
    },
    { auto: true },
  ],
});
