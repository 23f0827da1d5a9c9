import type { Locks } from '../../src/storage/tabGuard';

interface Asked {
  readonly options: LockOptions;
  readonly callback: (lock: Lock | null) => unknown;
  resolve(value: unknown): void;
  reject(error: unknown): void;
}

/**
 * A lock manager after the Web Locks API (exclusive locks, ifAvailable, steal, signal), since Node 22 has none. Give
 * one to every "tab" of a test.
 */
export function createFakeLocks(): Locks {
  const holders = new Map<string, Asked>();
  const waiting = new Map<string, Asked[]>();

  function grant(name: string, asked: Asked): void {
    holders.set(name, asked);
    const settle = (finish: () => void) => {
      if (holders.get(name) !== asked) return;
      holders.delete(name);
      finish();
      const next = waiting.get(name)?.shift();
      if (next) grant(name, next);
    };
    Promise.resolve()
      .then(() => asked.callback({ name, mode: 'exclusive' }))
      .then(
        (value) => settle(() => asked.resolve(value)),
        (error: unknown) => settle(() => asked.reject(error)),
      );
  }

  function request(name: string, options: LockOptions, callback: (lock: Lock | null) => unknown): Promise<unknown> {
    return new Promise((resolve, reject) => {
      const asked: Asked = { options, callback, resolve, reject };
      const holder = holders.get(name);
      if (!holder) return grant(name, asked);
      if (options.ifAvailable) {
        Promise.resolve()
          .then(() => callback(null))
          .then(resolve, reject);
        return;
      }
      if (options.steal) {
        holders.delete(name);
        holder.reject(new DOMException('The lock was stolen.', 'AbortError'));
        return grant(name, asked);
      }
      const line = waiting.get(name) ?? [];
      waiting.set(name, [...line, asked]);
      options.signal?.addEventListener('abort', () => {
        waiting.set(
          name,
          (waiting.get(name) ?? []).filter((other) => other !== asked),
        );
        reject(new DOMException('The request was aborted.', 'AbortError'));
      });
    });
  }

  return { request: request as Locks['request'] };
}
