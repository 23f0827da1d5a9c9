import { lazy, Suspense } from 'react';
import type { PrintDesk } from '../print/printDesk';
import { useApp } from '../storeContext';
import { FanPlace } from './FanPlace';
import { FinishPlace } from './FinishPlace';
import { MarkPlace } from './MarkPlace';
import { Tray } from './Tray';
import { TruePlace } from './TruePlace';

// What reads drawings and what lays out pages is loaded when it is first needed.
const BringInPlace = lazy(() => import('./BringInPlace').then(({ BringInPlace }) => ({ default: BringInPlace })));
const PrintPlace = lazy(() => import('./PrintPlace').then(({ PrintPlace }) => ({ default: PrintPlace })));

export function CurrentPlace({ desk }: { readonly desk: PrintDesk }) {
  const place = useApp((state) => state.place);
  switch (place) {
    case 'bring-in':
      return (
        <Suspense fallback={<Tray next="One moment…" />}>
          <BringInPlace />
        </Suspense>
      );
    case 'mark':
      return <MarkPlace />;
    case 'fan':
      return <FanPlace />;
    case 'true':
      return <TruePlace />;
    case 'finish':
      return <FinishPlace />;
    case 'print':
      return (
        <Suspense fallback={<Tray next="Laying out the pages…" />}>
          <PrintPlace desk={desk} />
        </Suspense>
      );
  }
}
