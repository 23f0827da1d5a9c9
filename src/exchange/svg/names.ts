import { svgLimits } from './limits';
import { childElement, textOf, type XmlElement } from './xmlTree';

/** Ids that drawing programs number by themselves; they say nothing to a person. */
const numbered =
  /^(?:path|rect|polygon|polyline|line|circle|ellipse|shape|svg|use|g|layer|object|curve)?[-_]?[\d_-]*$/i;

/** Title, label, or an id that a person may have chosen; null when there is none. */
export function givenName(element: XmlElement): string | null {
  const title = childElement(element, 'title');
  const said = title ? textOf(title, svgLimits.words) : element.attributes.get('inkscape:label')?.trim();
  if (said) return said.slice(0, svgLimits.words);
  const id = element.attributes.get('id')?.trim() ?? '';
  return id.length > 64 || numbered.test(id) ? null : id;
}
