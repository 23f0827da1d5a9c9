import type { Failure } from '../../geometry/outcome';
import { type Affine, affine, chain, identity, mapPoint, meanScale } from '../drawing/affine';
import type { DrawnShape } from '../drawing/drawingReading';
import { controlBox, type PlacedText, textNear } from '../drawing/nearText';
import { placePath } from '../drawing/placePath';
import { type DrawnElement, elementOutline, isDrawn } from './basicShapes';
import { userLength, type Viewport } from './lengths';
import { svgLimits } from './limits';
import { isNoPaint, type Look, type Stated, statedBy } from './look';
import { refusals } from './refusals';
import type { StyleSheet } from './styleSheet';
import type { SvgWarning, WarningCount } from './svgWarnings';
import { readAspectRule, readViewBox, viewBoxMap } from './viewBox';
import { childElement, textOf, type XmlElement } from './xmlTree';

/** What surrounds an element while the drawing is walked. */
interface Place {
  readonly map: Affine;
  readonly viewport: Viewport;
  readonly look: Look;
  readonly layer: string | null;
  /** The name of the element itself. */
  readonly name: string | null;
  readonly depth: number;
}

/** Elements that draw nothing where they stand. */
const silent: ReadonlySet<string> = new Set(
  'defs symbol title desc metadata style linearGradient radialGradient stop pattern clipPath mask marker filter view'.split(
    ' ',
  ),
);

/** Elements that are never read, each with what is said about it. */
const passedOver: ReadonlyMap<string, SvgWarning> = new Map([
  ['script', 'script'],
  ['image', 'picture'],
  ['foreignObject', 'foreign'],
  ['animate', 'animation'],
  ['animateTransform', 'animation'],
  ['animateMotion', 'animation'],
  ['set', 'animation'],
]);

type Drawn = Omit<DrawnShape, 'id' | 'nearText'>;

/** Walks a drawing and gathers its shapes in the units of the outermost view box. Nothing is run, fetched or displayed. */
export class Drawing {
  private readonly drawn: Drawn[] = [];
  private readonly texts: PlacedText[] = [];
  private visited = 0;
  private segments = 0;
  private characters = 0;
  private textsMet = 0;
  private failure: Failure | null = null;
  /** Elements being copied just now; meeting one again would never end. */
  private readonly copying = new Set<XmlElement>();
  /** What each element says of itself, read once however often it is copied. */
  private readonly stated = new Map<XmlElement, Stated>();

  constructor(
    private readonly ids: ReadonlyMap<string, XmlElement>,
    private readonly sheet: StyleSheet,
    private readonly warnings: WarningCount,
  ) {}

  /** The shapes inside `root`, or why they were refused. */
  gather(root: XmlElement, viewport: Viewport, look: Look): DrawnShape[] | Failure {
    this.copying.add(root);
    this.walkChildren(root, { map: identity, viewport, look, layer: null, name: null, depth: 1 });
    if (this.failure) return this.failure;
    return this.drawn.map((shape, i) => ({
      ...shape,
      id: `shape-${i + 1}`,
      nearText: textNear(controlBox(shape.path), this.texts),
    }));
  }

  private walkChildren(element: XmlElement, place: Place): void {
    for (const child of element.children) {
      if (this.failure) return;
      this.visit();
      if (typeof child !== 'string' && child.isSvg) this.walk(child, place);
    }
  }

  /** Counts everything looked at, so that copies of copies come to an end. */
  private visit(): void {
    this.visited++;
    if (this.visited > svgLimits.drawnElements) this.failure ??= refusals.copies();
  }

  private walk(element: XmlElement, around: Place): void {
    const { name } = element;
    if (silent.has(name)) return;
    const warning = passedOver.get(name);
    if (warning) {
      this.warnings.note(warning);
      return;
    }
    const place = this.enter(element, around);
    if (!place) return;
    if (isDrawn(name)) this.draw(element, name, place);
    else if (name === 'g' || name === 'a') {
      this.walkChildren(element, { ...place, layer: place.name ?? place.layer });
    } else if (name === 'svg') this.walkViewport(element, element, place);
    else if (name === 'use') this.copy(element, place);
    else if (name === 'switch') this.walkFirstChoice(element, place);
    else if (name === 'text') this.keepText(element, place);
    else this.warnings.note('unknown');
  }

  /** The surroundings inside an element: its own transform and looks added. Null when it is hidden or cannot be placed. */
  private enter(element: XmlElement, around: Place): Place | null {
    if (around.depth > svgLimits.depth) this.failure ??= refusals.depth();
    if (this.failure) return null;
    const stated = this.stated.get(element) ?? statedBy(element, this.sheet);
    this.stated.set(element, stated);
    if (stated.removed || !stated.transform) {
      this.warnings.note(stated.removed ? 'hidden' : 'misplaced');
      return null;
    }
    if (stated.clipped) this.warnings.note('clipped');
    return {
      ...around,
      map: chain(around.map, stated.transform),
      look: { ...around.look, ...stated.look },
      name: stated.name,
      depth: around.depth + 1,
    };
  }

  /** An inner `svg`, or a `symbol` shown by `shownBy`: its own view box fitted into its own area. */
  private walkViewport(element: XmlElement, shownBy: XmlElement, place: Place): void {
    const length = (name: string, axis: 'across' | 'down', otherwise: string) =>
      userLength(shownBy.attributes.get(name) ?? element.attributes.get(name) ?? otherwise, place.viewport, axis);
    // A `use` has already moved its copy by its own x and y.
    const isInner = element === shownBy;
    const x = isInner ? length('x', 'across', '0') : 0;
    const y = isInner ? length('y', 'down', '0') : 0;
    const width = length('width', 'across', '100%');
    const height = length('height', 'down', '100%');
    if (x === null || y === null || width === null || height === null) {
      this.warnings.note('misplaced');
      return;
    }
    if (!(width > 0 && height > 0)) return;
    const box = readViewBox(element.attributes.get('viewBox'));
    const rule = readAspectRule(element.attributes.get('preserveAspectRatio'));
    const inner = box ? viewBoxMap(box, { x, y, width, height }, rule) : affine(1, 0, 0, 1, x, y);
    this.walkChildren(element, { ...place, map: chain(place.map, inner), viewport: box ?? { width, height } });
  }

  private copy(element: XmlElement, place: Place): void {
    const { attributes } = element;
    const link = (attributes.get('href') ?? attributes.get('xlink:href') ?? '').trim();
    const target = link.startsWith('#') && link.length <= svgLimits.short ? this.ids.get(link.slice(1)) : undefined;
    const x = userLength(attributes.get('x') ?? '0', place.viewport, 'across');
    const y = userLength(attributes.get('y') ?? '0', place.viewport, 'down');
    if (!target) this.warnings.note(link === '' || link.startsWith('#') ? 'missing' : 'outside');
    else if (this.copying.has(target) || this.copying.has(element)) this.warnings.note('loop');
    else if (x === null || y === null) this.warnings.note('misplaced');
    else {
      this.copying.add(target);
      this.copying.add(element);
      this.walkCopy(target, element, { ...place, map: chain(place.map, affine(1, 0, 0, 1, x, y)) });
      this.copying.delete(target);
      this.copying.delete(element);
    }
  }

  private walkCopy(target: XmlElement, shownBy: XmlElement, place: Place): void {
    if (target.name !== 'symbol' && target.name !== 'svg') {
      this.walk(target, place);
      return;
    }
    const inside = this.enter(target, place);
    if (inside) this.walkViewport(target, shownBy, inside);
  }

  /** A `switch` shows its first child that asks for nothing special. */
  private walkFirstChoice(element: XmlElement, place: Place): void {
    for (const child of element.children) {
      this.visit();
      if (typeof child === 'string' || !child.isSvg || child.name === 'foreignObject') continue;
      if ((child.attributes.get('requiredExtensions') ?? '').trim() !== '') continue;
      this.walk(child, place);
      return;
    }
  }

  private draw(element: XmlElement, name: DrawnElement, place: Place): void {
    const { look } = place;
    if (!look.visible || (isNoPaint(look.fill) && isNoPaint(look.stroke))) {
      this.warnings.note(look.visible ? 'invisible' : 'hidden');
      return;
    }
    this.characters += (element.attributes.get('d') ?? element.attributes.get('points') ?? '').length;
    if (this.characters > svgLimits.drawnCharacters) this.failure ??= refusals.copies();
    if (this.failure) return;
    const left = svgLimits.segments - this.segments;
    const outline = elementOutline(name, (key) => element.attributes.get(key), place.viewport, left);
    if (outline.problem && outline.problem !== 'too-many') this.warnings.note(outline.problem);
    if (outline.physicalUnit) this.warnings.note('inner-unit');
    this.segments += outline.count;
    if (this.segments > svgLimits.segments) this.failure ??= refusals.segments();
    const shared = appearance(place);
    for (const subPath of outline.subPaths) {
      const shape = placePath(subPath.segments, subPath.closed, place.map, svgLimits.coordinate);
      if (!shape) {
        this.warnings.note('too-far');
        continue;
      }
      this.drawn.push({ ...shared, ...shape });
    }
    if (this.drawn.length > svgLimits.shapes) this.failure ??= refusals.shapes();
  }

  private keepText(element: XmlElement, place: Place): void {
    this.textsMet++;
    if (!place.look.visible || this.textsMet > svgLimits.texts) return;
    const words = textOf(element, svgLimits.words);
    if (words === '') return;
    const anchor = element.attributes.has('x') ? element : (childElement(element, 'tspan') ?? element);
    const first = (name: string) =>
      /^\s*([^\s,]*)/.exec((anchor.attributes.get(name) ?? '0').slice(0, svgLimits.short))?.[1];
    const x = userLength(first('x'), place.viewport, 'across') ?? 0;
    const y = userLength(first('y'), place.viewport, 'down') ?? 0;
    const at = mapPoint(place.map, { x, y });
    if (!isBelievable(at.x) || !isBelievable(at.y)) return;
    this.texts.push({ words, x: at.x, y: at.y, size: place.look.fontSize * meanScale(place.map) });
  }
}

function isBelievable(value: number): boolean {
  return Math.abs(value) <= svgLimits.coordinate;
}

function appearance(place: Place): Pick<Drawn, 'strokeDash' | 'colour' | 'layer' | 'name'> {
  const { look } = place;
  const paint = isNoPaint(look.stroke) ? look.fill : look.stroke;
  return {
    strokeDash: look.dash === 'none' ? null : look.dash,
    colour: isNoPaint(paint) ? null : paint,
    layer: place.layer,
    name: place.name,
  };
}
