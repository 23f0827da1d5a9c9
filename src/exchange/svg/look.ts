import type { Affine } from '../drawing/affine';
import { svgLimits } from './limits';
import { givenName } from './names';
import { type Declarations, placingProperties, readDeclarations, type StyleSheet } from './styleSheet';
import { readTransform } from './transforms';
import type { XmlElement } from './xmlTree';

/** How an element is drawn, as far as it matters here; handed down from group to shape. */
export interface Look {
  readonly fill: string;
  readonly stroke: string;
  readonly dash: string;
  /** `visibility`, which a child may switch back on. */
  readonly visible: boolean;
  /** User units; only tells large words from small ones. */
  readonly fontSize: number;
}

export const defaultLook: Look = { fill: 'black', stroke: 'none', dash: 'none', visible: true, fontSize: 16 };

/** What an element says of itself, wherever it is shown. */
export interface Stated {
  readonly look: Partial<Look>;
  /** `display: none`: the element and everything in it is out. */
  readonly removed: boolean;
  /** Its own transform; null when that cannot be read or a style places the element, which is not followed. */
  readonly transform: Affine | null;
  /** A style gives the element's width or height. */
  readonly sizedByStyle: boolean;
  readonly clipped: boolean;
  readonly name: string | null;
}

/** Reads what an element says of itself: attribute below style sheet below its own style. */
export function statedBy(element: XmlElement, sheet: StyleSheet): Stated {
  const { attributes } = element;
  const style = attributes.get('style');
  const own: Declarations = style === undefined ? new Map() : readDeclarations(style);
  const ruled = sheet.declarationsFor(element.name, attributes.get('class'), attributes.get('id'));
  const styled = (name: string) => own.get(name) ?? ruled.get(name);
  const said = (name: string): string | undefined => {
    const value = styled(name) ?? attributes.get(name)?.slice(0, svgLimits.words).trim().toLowerCase();
    return value === 'inherit' || value === '' ? undefined : value;
  };
  const placedByStyle = placingProperties.some((name) => isSet(styled(name))) || attributes.has('transform-origin');
  return {
    look: ownLook(said),
    removed: said('display') === 'none',
    transform: placedByStyle ? null : readTransform(attributes.get('transform') ?? ''),
    sizedByStyle: isSet(styled('width')) || isSet(styled('height')),
    clipped: attributes.has('clip-path') || attributes.has('mask'),
    name: givenName(element),
  };
}

function ownLook(said: (name: string) => string | undefined): Partial<Look> {
  const look: { -readonly [K in keyof Look]?: Look[K] } = {};
  const fill = said('fill');
  const stroke = said('stroke');
  const dash = said('stroke-dasharray');
  const visibility = said('visibility');
  const size = Number.parseFloat(said('font-size') ?? '');
  if (fill !== undefined) look.fill = fill;
  if (stroke !== undefined) look.stroke = stroke;
  if (dash !== undefined) look.dash = dash;
  if (visibility !== undefined) look.visible = visibility === 'visible';
  if (size > 0 && size < 1e6) look.fontSize = size;
  return look;
}

function isSet(value: string | undefined): boolean {
  return value !== undefined && value !== 'none' && value !== 'auto';
}

/** Paint that shows nothing. */
export function isNoPaint(paint: string): boolean {
  return paint === 'none' || paint === 'transparent';
}
