import '@fontsource-variable/hanken-grotesk';
import './ui/tokens.css';
import './ui/base.css';
import './ui/controls/controls.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { openStorage } from './storage/storage';
import { attachAutosave } from './store/autosave';
import { createBringInStore } from './store/bringIn';
import { keepUnfinished } from './store/keepUnfinished';
import { restoreSession } from './store/restore';
import { sayWhatIsGone } from './store/sayWhatIsGone';
import { createAppStore } from './store/store';
import { App } from './ui/App';
import { fetchAndLayAgain } from './ui/bringin/fetchAndLayAgain';
import { fileOf } from './ui/bringin/photo/pictureFiles';
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
  const gone = sayWhatIsGone(store, bringIn, tabMemory());
  const lookFor = async (garment: string) => gone.say(await keeper.lookFor(garment));
  const autosave = attachAutosave(store, storage, { onHeld: (garment) => void lookFor(garment) });
  const keeper = keepUnfinished(store, bringIn, {
    shelf: storage.unfinished,
    held: autosave.held,
    fileOf,
    layAgain: (lying, files) => fetchAndLayAgain(lying, files, store, bringIn),
  });
  // Without a garment there is no place for a notice: the first screen says it.
  const lost = store.getState().garment === null ? gone.sentence() : null;
  void autosave.flush().then(() => {
    if (autosave.held() === null) gone.say({ found: 'nothing' });
  });
  root.render(
    <StrictMode>
      <App
        store={store}
        bringIn={bringIn}
        storage={storage}
        autosave={autosave}
        complaint={[restored.ok ? null : restored.sentence, lost].filter((said) => said !== null).join(' ') || null}
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
