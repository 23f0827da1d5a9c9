/** Registers the service worker that keeps the app's own files, so that it opens without a network. Built pages only. */
export function keepForOffline(): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  navigator.serviceWorker.register('./sw.js').catch(() => {
    // Private windows and file: pages refuse workers; the app still runs, it only needs its server next time.
  });
}
