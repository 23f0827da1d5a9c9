/** What the XML reader hands on. Attribute values and texts are decoded; nothing in them is ever run or fetched. */
export interface XmlElement {
  /** Name without its prefix. */
  readonly name: string;
  /** True when the element belongs to SVG (or the file names no namespace at all); false for an editor's own additions. */
  readonly isSvg: boolean;
  /** By the name as written, prefix included. */
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly XmlNode[];
}

export type XmlNode = XmlElement | string;

/** Words of an element and everything inside it, white space collapsed, at most `limit` characters. */
export function textOf(element: XmlElement, limit: number): string {
  let words = '';
  const pending: XmlNode[] = [element];
  for (let steps = 0; pending.length > 0 && words.length < 4 * limit && steps < 1000; steps++) {
    const node = pending.pop()!;
    if (typeof node === 'string') words += ` ${node.slice(0, 4 * limit)}`;
    else for (let i = Math.min(node.children.length, 1000) - 1; i >= 0; i--) pending.push(node.children[i]!);
  }
  return words.replace(/\s+/g, ' ').trim().slice(0, limit).trim();
}

export function childElement(element: XmlElement, name: string): XmlElement | undefined {
  for (const child of element.children)
    if (typeof child !== 'string' && child.isSvg && child.name === name) return child;
  return undefined;
}
