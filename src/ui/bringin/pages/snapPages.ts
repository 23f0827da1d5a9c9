import type { PagePlace } from '../../../exchange/pdf/pageArrangement';
import { type Meeting, snapByMeetings } from '../../../exchange/pdf/snapPage';
import type { SnapPage } from '../../../gestures/scene';
import type { PagesDraft } from '../../../store/pagesDraft';
import type { DrawingReader } from '../../../workers/drawingReader';

/**
 * Finds where a page laid by hand meets the others. Where it could meet them at all is asked of the worker when the page
 * is first held, as that can take long; until the answer is there the page lies free.
 */
export function snapPages(reader: DrawingReader): SnapPage {
  const known = new WeakMap<PagesDraft, Map<number, readonly Meeting[]>>();

  async function ask(laid: PagesDraft, page: number, meetings: Map<number, readonly Meeting[]>): Promise<void> {
    const isUsed = (place: PagePlace) => place.page !== page && !laid.leftOut.includes(place.page);
    const wanted = { task: 'meet', book: laid.book, pages: null, places: laid.places.filter(isUsed), page } as const;
    const remembered = await reader.read(wanted);
    const forgotten = !remembered.ok && remembered.code === 'pages-forgotten';
    const answer = forgotten ? await reader.read({ ...wanted, pages: laid.pages }) : remembered;
    if (answer.ok) meetings.set(page, answer.value);
  }

  return (laid, page, at, reach) => {
    const meetings = known.get(laid) ?? new Map<number, readonly Meeting[]>();
    known.set(laid, meetings);
    const places = meetings.get(page);
    if (places !== undefined) return snapByMeetings(places, at, reach);
    meetings.set(page, []);
    void ask(laid, page, meetings);
    return null;
  };
}
