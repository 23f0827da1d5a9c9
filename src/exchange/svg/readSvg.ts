import { fail, type Outcome, succeed } from '../../geometry/outcome';
import type { DrawingReading } from '../drawing/drawingReading';
import { Drawing } from './drawing';
import { pixelsPerMm, readLength, type Viewport } from './lengths';
import { svgLimits } from './limits';
import { defaultLook, statedBy } from './look';
import { readXml } from './readXml';
import { statedScale } from './statedScale';
import { StyleSheet } from './styleSheet';
import { WarningCount } from './svgWarnings';
import { readViewBox } from './viewBox';
import type { XmlElement, XmlNode } from './xmlTree';

/**
 * Reads the text of an SVG file into plain lines and curves, in the units of its outermost view box, and what the file
 * itself says about scale (see docs/bring-in.md). Works without a browser; nothing in the file is run, fetched or shown.
 *
 * Refuses, with a sentence: what is not SVG, damaged or cut-short files, files made to grow (entities, copies inside
 * copies, endless nesting), files beyond the limits, a page stretched unequally, and drawings with no lines.
 */
export function readSvg(text: string): Outcome<DrawingReading> {
  const foreign = notSvg(text);
  if (foreign) return foreign;
  const xml = readXml(text);
  if (!xml.ok) return xml;
  const { root, linkedStyleSheet } = xml.value;
  if (root.name !== 'svg' || !root.isSvg) {
    return fail('not-svg', 'This is not an SVG drawing. Choose a file that ends in .svg, saved by a drawing program.');
  }
  const warnings = new WarningCount();
  if (linkedStyleSheet) warnings.note('style-link');
  const { ids, sheet } = gatherDefinitions(root);
  if (sheet.skipped) warnings.note('style-skipped');
  const stated = statedBy(root, sheet);
  const attribute = (name: string) => root.attributes.get(name);
  const scale = statedScale(attribute, stated.sizedByStyle);
  if (!scale.ok) return scale;
  const shapes = new Drawing(ids, sheet, warnings).gather(root, rootViewport(root), {
    ...defaultLook,
    ...stated.look,
  });
  if (!Array.isArray(shapes)) return shapes;
  const sentences = warnings.sentences();
  if (shapes.length === 0) {
    return fail('svg-no-lines', ['There are no lines to open in this file.', ...sentences].join(' '));
  }
  return succeed({ shapes, scale: scale.value, warnings: sentences });
}

/** Common mix-ups, told apart by how the file begins. */
function notSvg(text: string): ReturnType<typeof fail> | null {
  if (text.trim() === '')
    return fail('svg-empty', 'This file is empty. Save the piece again in the program that made it.');
  if (text.length > svgLimits.characters) {
    return fail(
      'svg-too-large',
      'This file is larger than 20 MB, far more than the lines of a pattern piece need. Take pictures out of it, save only the piece, and open that.',
    );
  }
  const head = text.slice(0, 512);
  if (head.startsWith('%PDF')) return fail('not-svg', 'This is a PDF file, not an SVG drawing.');
  if (head.startsWith('\u001f')) {
    return fail(
      'svg-compressed',
      'This looks like a compressed drawing (SVGZ). Save it as plain SVG in the program that made it, then open that.',
    );
  }
  // Every second byte of UTF-16 is empty here; it shows at once.
  if (head.slice(0, 4).includes('\u0000')) {
    return fail(
      'svg-encoding',
      'This file is not written in UTF-8, which drawings are read in. Save it again as plain SVG in the program that made it.',
    );
  }
  if (/^\ufeff?\s*<(?:!doctype\s+html|html)\b/i.test(head)) {
    return fail('not-svg', 'This is a web page, not an SVG drawing. Save the drawing itself and open that.');
  }
  if (!/^\ufeff?\s*</.test(head))
    return fail('not-svg', 'This is not an SVG drawing. Choose a file that ends in .svg, saved by a drawing program.');
  return null;
}

/** Every id (the first of a name wins) and every style sheet, wherever they stand. */
function gatherDefinitions(root: XmlElement): { ids: Map<string, XmlElement>; sheet: StyleSheet } {
  const ids = new Map<string, XmlElement>();
  const sheet = new StyleSheet();
  const pending: XmlNode[] = [root];
  while (pending.length > 0) {
    const node = pending.pop()!;
    if (typeof node === 'string') continue;
    const id = node.attributes.get('id');
    if (id !== undefined && !ids.has(id)) ids.set(id, node);
    if (node.isSvg && node.name === 'style')
      sheet.add(node.children.filter((child) => typeof child === 'string').join(''));
    for (let i = node.children.length - 1; i >= 0; i--) pending.push(node.children[i]!);
  }
  return { ids, sheet };
}

/** What percentages refer to: the view box, or else the stated size in screen units. */
function rootViewport(root: XmlElement): Viewport {
  const box = readViewBox(root.attributes.get('viewBox'));
  if (box) return box;
  const side = (name: string) => {
    const length = readLength(root.attributes.get(name));
    if (length?.kind === 'user') return length.value;
    return length?.kind === 'physical' ? length.mm * pixelsPerMm : 0;
  };
  return { width: side('width'), height: side('height') };
}
