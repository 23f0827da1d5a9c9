import { createContext, type ReactNode, use } from 'react';
import { useStore } from 'zustand';
import type { AppCommands, AppStore } from '../store/appCommands';
import type { AppActions, AppState, Shown } from '../store/appState';
import type { BringInState, BringInStore } from '../store/bringIn';
import { shownNow } from '../store/shown';

const StoreContext = createContext<AppStore | null>(null);
const BringInContext = createContext<BringInStore | null>(null);

interface StoreProviderProps {
  readonly store: AppStore;
  readonly bringIn: BringInStore;
  readonly children: ReactNode;
}

export function StoreProvider({ store, bringIn, children }: StoreProviderProps) {
  return (
    <StoreContext value={store}>
      <BringInContext value={bringIn}>{children}</BringInContext>
    </StoreContext>
  );
}

export function useAppStore(): AppStore {
  const store = use(StoreContext);
  if (store === null) throw new Error('The interface was started without its store.');
  return store;
}

/** Reads one thing from the store; `pick` must give back stored values, not new objects. */
export function useApp<T>(pick: (state: AppState) => T): T {
  return useStore(useAppStore(), pick);
}

export function useActions(): AppActions {
  return useAppStore().actions;
}

export function useCommands(): AppCommands {
  return useAppStore().commands;
}

export function useBringInStore(): BringInStore {
  const store = use(BringInContext);
  if (store === null) throw new Error('The interface was started without its store.');
  return store;
}

/** Reads what lies on the table before it is a piece. */
export function useBringIn<T>(pick: (state: BringInState) => T): T {
  return useStore(useBringInStore(), pick);
}

/** The shown document and the report of the version on the table; null on the first screen. */
export function useShown(): Shown | null {
  return useApp(shownNow);
}
