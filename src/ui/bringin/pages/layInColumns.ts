import { type PagesDraft, pagesFrame } from '../../../store/pagesDraft';

/** The used pages in reading order, so many side by side, each lying `overlap` mm over the one before it and above it. */
export function layInColumns(laid: PagesDraft, columns: number, overlap: number): PagesDraft {
  const used = laid.pages.filter(({ number }) => !laid.leftOut.includes(number));
  const widest = Math.max(0, ...used.map(({ width }) => width));
  const tallest = Math.max(0, ...used.map(({ height }) => height));
  const order = new Map(used.map(({ number }, index) => [number, index]));
  const places = laid.places.map((place) => {
    const index = order.get(place.page);
    if (index === undefined) return place;
    const at = {
      x: (index % columns) * (widest - overlap),
      y: Math.floor(index / columns) * (tallest - overlap),
    };
    return { page: place.page, at };
  });
  return { ...laid, places, frame: pagesFrame({ ...laid, places }) };
}
