import { lazy, Suspense, useEffect, useState } from 'react';
import { writeProject } from '../exchange/project/projectFile';
import type { Storage } from '../storage/storage';
import type { AppStore } from '../store/appCommands';
import type { Autosave } from '../store/autosave';
import type { BringInStore } from '../store/bringIn';
import { DeskContext } from './deskContext';
import { fileName } from './download';
import { ErrorBoundary } from './ErrorBoundary';
import { Start } from './start/Start';
import { StoreProvider, useApp } from './storeContext';

// The canvas library is not needed to choose what to open; the first screen fetches it while the maker looks.
const Workbench = lazy(() => import('./bench/Workbench').then(({ Workbench }) => ({ default: Workbench })));

interface AppProps {
  readonly store: AppStore;
  readonly bringIn: BringInStore;
  readonly storage: Storage;
  readonly autosave: Autosave;
  /** Why the last session could not be brought back. */
  readonly complaint: string | null;
}

export function App({ store, bringIn, storage, autosave, complaint }: AppProps) {
  const [desk] = useState({ storage, autosave });
  const save = () => {
    const { garment } = store.getState();
    return garment === null ? null : { name: fileName(garment.name, 'hingeline.json'), text: writeProject(garment) };
  };
  return (
    <ErrorBoundary save={save}>
      <StoreProvider store={store} bringIn={bringIn}>
        <DeskContext value={desk}>
          <Screen complaint={complaint} />
        </DeskContext>
      </StoreProvider>
    </ErrorBoundary>
  );
}

function Screen({ complaint }: { readonly complaint: string | null }) {
  const name = useApp((state) => state.garment?.name);
  useEffect(() => {
    document.title = name === undefined ? 'Hingeline' : `${name} · Hingeline`;
  }, [name]);
  if (name === undefined) return <Start complaint={complaint} />;
  return (
    <Suspense fallback={<p className="opening">Laying out your work…</p>}>
      <Workbench />
    </Suspense>
  );
}
