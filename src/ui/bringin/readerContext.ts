import { createContext, use } from 'react';
import { createDrawingReader, type DrawingReader } from '../../workers/drawingReader';
import { useBringInStore } from '../storeContext';
import type { Workshop } from './watched';

/** One for the whole page; its worker starts when it is first asked something. */
export const ReaderContext = createContext<DrawingReader>(createDrawingReader());

/** What drawings are read and joined with. */
export function useWorkshop(): Workshop {
  const reader = use(ReaderContext);
  const bringIn = useBringInStore();
  return { reader, bringIn };
}
