import '@fontsource-variable/hanken-grotesk';
import './ui/tokens.css';
import './ui/base.css';
import './ui/controls/controls.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { openStorage } from './storage/storage';
import { attachAutosave } from './store/autosave';
import { createBringInStore } from './store/bringIn';
import { restoreSession } from './store/restore';
import { sayWhatIsGone } from './store/sayWhatIsGone';
import { createAppStore } from './store/store';
import { App } from './ui/App';
import { keepForOffline } from './ui/offline';
import { applyLight, chosenLight, systemLight } from './ui/theme';

applyLight(chosenLight() ?? systemLight());

const store = createAppStore();
const bringIn = createBringInStore();
const storage = openStorage();
const root = createRoot(document.getElementById('app')!);

root.render(<p className="opening">Laying out your work…</p>);

/** The last session is brought back before anything is saved, so that an empty table never overwrites it. */
void restoreSession(store, storage).then((restored) => {
  const autosave = attachAutosave(store, storage);
  sayWhatIsGone(store, bringIn, tabMemory());
  root.render(
    <StrictMode>
      <App
        store={store}
        bringIn={bringIn}
        storage={storage}
        autosave={autosave}
        complaint={restored.ok ? null : restored.sentence}
      />
    </StrictMode>,
  );
});

keepForOffline();

/** What this tab remembers over a reload; null where the browser keeps nothing. */
function tabMemory(): Storage | null {
  try {
    return sessionStorage;
  } catch {
    return null;
  }
}
