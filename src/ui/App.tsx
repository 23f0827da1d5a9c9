import { useEffect, useState } from 'react';
import { writeProject } from '../exchange/project/projectFile';
import type { Storage } from '../storage/storage';
import type { AppStore } from '../store/appCommands';
import type { Autosave } from '../store/autosave';
import type { BringInStore } from '../store/bringIn';
import { Workbench } from './bench/Workbench';
import { DeskContext } from './deskContext';
import { fileName } from './download';
import { ErrorBoundary } from './ErrorBoundary';
import { Start } from './start/Start';
import { StoreProvider, useApp } from './storeContext';

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
  return name === undefined ? <Start complaint={complaint} /> : <Workbench />;
}
