import type { Place } from '../../store/appState';

export const placeNames: Readonly<Record<Place, string>> = {
  'bring-in': 'Bring in',
  mark: 'Mark',
  fan: 'Fan',
  true: 'True',
  finish: 'Finish',
  print: 'Print',
};
