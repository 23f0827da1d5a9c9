/**
 * What the tests need beside npm packages: a Chromium and poppler's pdftoppm.
 * Uses what the machine has; otherwise asks Debian's package manager, then (for the browser) Playwright's own download.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const systemBrowsers = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome-stable'];

/** Path of a Chromium that the system provides, or undefined when Playwright's own should be used. */
export function systemBrowser(): string | undefined {
  return systemBrowsers.find((path) => existsSync(path));
}

function runs(command: string, args: readonly string[]): boolean {
  return spawnSync(command, args, { stdio: 'ignore' }).status === 0;
}

function installDebianPackages(packages: readonly string[]): boolean {
  if (!runs('apt-get', ['--version'])) return false;
  const prefix = process.getuid?.() === 0 ? [] : ['sudo', '-n'];
  const call = (args: readonly string[]): boolean => {
    const [command = 'apt-get', ...rest] = [...prefix, 'apt-get', ...args];
    return (
      spawnSync(command, rest, { stdio: 'inherit', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } })
        .status === 0
    );
  };
  return call(['update', '-qq']) && call(['install', '-y', '-qq', '--no-install-recommends', ...packages]);
}

/** Makes sure both tools are there; answers the sentences of what is still missing. */
export function ensureTools(): readonly string[] {
  const missing: string[] = [];
  const hasPoppler = () => runs('pdftoppm', ['-v']);
  const wanted = [...(systemBrowser() ? [] : ['chromium']), ...(hasPoppler() ? [] : ['poppler-utils'])];
  if (wanted.length > 0) {
    console.log(`Installing for the tests: ${wanted.join(', ')}`);
    installDebianPackages(wanted);
  }
  if (!hasPoppler()) {
    missing.push('pdftoppm is missing: install poppler (Debian: poppler-utils, macOS: brew install poppler).');
  }
  if (!systemBrowser() && !runs('npx', ['playwright', 'install', 'chromium'])) {
    missing.push('No Chromium: install one, or let `npx playwright install chromium` download it.');
  }
  return missing;
}
