import type { EdgeRole } from '../../pattern/piece';

/** The roles of an edge as the maker calls them. */
export const roleNames: Readonly<Record<EdgeRole, string>> = {
  'centre-front': 'Centre front',
  'centre-back': 'Centre back',
  hem: 'Hem',
  side: 'Side seam',
  waist: 'Waist',
  armhole: 'Armhole',
  shoulder: 'Shoulder',
  neckline: 'Neckline',
  'sleeve-head': 'Sleeve head',
  underarm: 'Underarm seam',
  other: 'Another edge',
};
