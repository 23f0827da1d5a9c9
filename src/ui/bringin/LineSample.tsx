import type { LineGroup } from '../../exchange/drawing/lineGroups';
import { dashLengths } from './draftShapes';

/** Longest dash and gap of the sample, CSS pixels; longer patterns are shown smaller. */
const longestPattern = 20;

/** A short stretch of a line as the file draws it: its dashes and its colour. The words beside it say the same. */
export function LineSample({ group }: { readonly group: LineGroup }) {
  const dash = dashLengths(group.strokeDash);
  const whole = dash.reduce((sum, length) => sum + length, 0);
  const shrink = whole > 0 ? Math.min(4, longestPattern / whole) : 1;
  return (
    <svg className="line-sample" width="44" height="16" viewBox="0 0 44 16" aria-hidden="true" focusable="false">
      <path
        d="M2 8H42"
        fill="none"
        stroke={plainColour(group.colour)}
        strokeWidth="2"
        strokeDasharray={dash.length === 0 ? undefined : dash.map((length) => Math.max(1.2, length * shrink)).join(' ')}
      />
    </svg>
  );
}

/** A colour of the file only where it is a plain one, so that nothing else of it reaches the page. */
function plainColour(colour: string | null): string {
  const plain = /^(#[0-9a-f]{3,8}|[a-z]{3,20}|rgb\(\s*[\d.%]+(\s*,\s*|\s+)[\d.%]+(\s*,\s*|\s+)[\d.%]+\s*\))$/i;
  return colour !== null && plain.test(colour.trim()) ? colour.trim() : 'currentColor';
}
