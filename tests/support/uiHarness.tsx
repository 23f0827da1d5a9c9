import { readFileSync } from 'node:fs';
import { render } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import type { ReactNode } from 'react';
import { readProject } from '../../src/exchange/project/projectFile';
import type { Garment } from '../../src/pattern/garment';
import type { AppStore } from '../../src/store/appCommands';
import { type BringInStore, createBringInStore } from '../../src/store/bringIn';
import { createAppStore } from '../../src/store/store';
import { ReaderContext } from '../../src/ui/bringin/readerContext';
import type { Workshop } from '../../src/ui/bringin/watched';
import { StoreProvider } from '../../src/ui/storeContext';
import type { DrawingReader } from '../../src/workers/drawingReader';
import { type DrawingAsk, readDrawing } from '../../src/workers/readDrawing';

export type SampleName = 'sleeveless-top' | 'straight-skirt';

/** The text of a sample as it ships. */
export function sampleText(name: SampleName): string {
  return readFileSync(`public/samples/${name}.json`, 'utf8');
}

export function sampleGarment(name: SampleName): Garment {
  const garment = readProject(sampleText(name));
  if (!garment.ok) throw new Error(garment.sentence);
  return garment.value;
}

export interface Bench {
  readonly store: AppStore;
  readonly bringIn: BringInStore;
  readonly workshop: Workshop;
  readonly user: ReturnType<typeof userEvent.setup>;
}

/** The real readers, in this process: there are no workers here. */
const readerHere: DrawingReader = {
  read: (ask, report) => readDrawing(ask as DrawingAsk, report ?? (() => undefined)) as never,
  stop: () => undefined,
};

/** Renders a part of the interface over fresh stores; with a sample open unless null is given. */
export function renderOnBench(
  part: ReactNode,
  sample: SampleName | null = 'sleeveless-top',
  reader = readerHere,
): Bench {
  const store = createAppStore();
  const bringIn = createBringInStore();
  if (sample !== null) store.actions.openGarment(sampleGarment(sample));
  render(
    <StoreProvider store={store} bringIn={bringIn}>
      <ReaderContext value={reader}>{part}</ReaderContext>
    </StoreProvider>,
  );
  return { store, bringIn, workshop: { bringIn, reader }, user: userEvent.setup() };
}
