import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { svgLimits } from './limits';
import { decodeReferences, isNameCharacter, isNameStart, isSpace } from './xmlCharacters';
import type { XmlElement, XmlNode } from './xmlTree';

const svgNamespace = 'http://www.w3.org/2000/svg';

/** What was met outside the elements, for the caller's warnings. */
export interface XmlDocument {
  readonly root: XmlElement;
  /** An `xml-stylesheet` instruction, which points outside the file. */
  readonly linkedStyleSheet: boolean;
}

interface OpenElement {
  readonly tag: string;
  readonly element: XmlElement & { readonly children: XmlNode[] };
  readonly namespaces: Namespaces | null;
}

/** Prefixes declared on one element, and those of the elements around it. A chain, because copying would let a file grow the work. */
interface Namespaces {
  readonly declared: ReadonlyMap<string, string>;
  readonly outer: Namespaces | null;
}

/** Thrown inside this file only, and turned into a failure before anyone sees it. */
class Refusal extends Error {
  constructor(
    readonly code: string,
    readonly sentence: string,
  ) {
    super(code);
  }
}

/**
 * Reads strict XML into a tree without a browser's parser: no document type is followed, no entity beyond XML's own
 * five is known, nothing is fetched, and size, depth and count are bounded. Time grows with the file's length only.
 */
export function readXml(text: string): Outcome<XmlDocument> {
  try {
    return succeed(new XmlReader(text).read());
  } catch (error) {
    if (error instanceof Refusal) return fail(error.code, error.sentence);
    throw error;
  }
}

class XmlReader {
  private at = 0;
  private count = 0;
  private linkedStyleSheet = false;
  private readonly open: OpenElement[] = [];
  private root: XmlElement | null = null;

  constructor(private readonly text: string) {}

  read(): XmlDocument {
    if (this.text.charCodeAt(0) === 0xfeff) this.at = 1;
    // XML allows no other control characters; meeting one means the file is not text.
    // biome-ignore lint/suspicious/noControlCharactersInRegex: it is these characters that are looked for
    const control = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/.exec(this.text);
    if (control) throw this.damaged(control.index, 'it holds characters that no SVG file can hold');
    while (this.at < this.text.length) this.readNext();
    if (this.open.length > 0 || !this.root) throw this.cutShort();
    return { root: this.root, linkedStyleSheet: this.linkedStyleSheet };
  }

  private readNext(): void {
    const { text } = this;
    if (text.charCodeAt(this.at) !== 60) {
      this.readText();
    } else if (text.startsWith('<!--', this.at)) {
      this.at = this.after('-->', this.at + 4);
    } else if (text.startsWith('<![CDATA[', this.at)) {
      const end = this.after(']]>', this.at + 9);
      this.addText(text.slice(this.at + 9, end - 3), this.at);
      this.at = end;
    } else if (text.startsWith('<?', this.at)) {
      if (text.startsWith('<?xml-stylesheet', this.at)) this.linkedStyleSheet = true;
      this.at = this.after('?>', this.at + 2);
    } else if (text.startsWith('<!DOCTYPE', this.at)) {
      if (this.root) throw this.damaged(this.at, 'a document type stands in the middle of the drawing');
      this.skipDocumentType();
    } else if (text.startsWith('</', this.at)) {
      this.readEndTag();
    } else {
      this.readStartTag();
    }
  }

  private readText(): void {
    const end = this.text.indexOf('<', this.at);
    const stop = end < 0 ? this.text.length : end;
    const raw = this.text.slice(this.at, stop);
    if (this.open.length === 0) {
      if (raw.trim() !== '') throw this.damaged(this.at, 'words stand outside the drawing');
    } else {
      this.addText(this.decode(raw, this.at), this.at);
    }
    this.at = stop;
  }

  private addText(words: string, at: number): void {
    const holder = this.open.at(-1);
    if (!holder) throw this.damaged(at, 'words stand outside the drawing');
    if (words !== '') holder.element.children.push(words);
  }

  /** A document type may be there (older programs write one); it is stepped over, never followed or expanded. */
  private skipDocumentType(): void {
    const { text } = this;
    let at = this.at + 9;
    let inside = false;
    while (at < text.length) {
      const code = text.charCodeAt(at);
      if (code === 34 || code === 39) at = this.after(text[at]!, at + 1);
      else if (text.startsWith('<!--', at)) at = this.after('-->', at + 4);
      else {
        if (code === 91) inside = true;
        else if (code === 93) inside = false;
        at++;
        if (code === 62 && !inside) {
          this.at = at;
          return;
        }
      }
    }
    throw this.cutShort();
  }

  private readEndTag(): void {
    const start = this.at;
    this.at += 2;
    const tag = this.readName();
    this.skipSpace();
    this.expect(62);
    const closing = this.open.pop();
    if (closing?.tag !== tag) throw this.damaged(start, `the end of “${shortened(tag)}” has no matching beginning`);
  }

  private readStartTag(): void {
    const start = this.at;
    this.at++;
    const tag = this.readName();
    if (this.open.length === 0 && this.root) throw this.damaged(start, 'a second drawing follows the first');
    this.count++;
    if (this.count > svgLimits.elements) throw this.tooMany();
    const attributes = new Map<string, string>();
    let empty = false;
    for (;;) {
      const spaced = this.skipSpace();
      const code = this.text.charCodeAt(this.at);
      if (code === 62) {
        this.at++;
        break;
      }
      if (code === 47) {
        this.at++;
        this.expect(62);
        empty = true;
        break;
      }
      if (this.at >= this.text.length) throw this.cutShort();
      if (!spaced) throw this.damaged(this.at, `“${shortened(tag)}” is not written as it should be`);
      this.readAttribute(attributes);
    }
    this.place(tag, attributes, empty);
  }

  private readAttribute(attributes: Map<string, string>): void {
    const start = this.at;
    const name = this.readName();
    this.skipSpace();
    this.expect(61);
    this.skipSpace();
    const quote = this.text.charCodeAt(this.at);
    if (this.at >= this.text.length) throw this.cutShort();
    if (quote !== 34 && quote !== 39) throw this.damaged(this.at, `the value of “${shortened(name)}” has no quotes`);
    const from = this.at + 1;
    const end = this.after(quote === 34 ? '"' : "'", from);
    const raw = this.text.slice(from, end - 1);
    if (raw.includes('<')) throw this.damaged(from, `the value of “${shortened(name)}” is not closed`);
    if (attributes.has(name)) throw this.damaged(start, `“${shortened(name)}” is given twice`);
    // A namespace is only a name to us. Some older programs write it as an entity of their own; that one use is let by.
    const isNamespace = name === 'xmlns' || name.startsWith('xmlns:');
    if (attributes.size >= svgLimits.attributes) throw this.tooMany();
    attributes.set(name, isNamespace ? (decodeReferences(raw) ?? '') : this.decode(raw, from));
    this.at = end;
  }

  private place(tag: string, attributes: Map<string, string>, empty: boolean): void {
    const holder = this.open.at(-1);
    const namespaces = declaredIn(attributes, holder?.namespaces ?? null);
    const colon = tag.indexOf(':');
    const space = meaning(namespaces, colon < 0 ? '' : tag.slice(0, colon));
    const element: OpenElement['element'] = {
      name: colon < 0 ? tag : tag.slice(colon + 1),
      // An unprefixed element of a file that names no namespace is taken as SVG; a prefix must lead to SVG's own.
      isSvg: space === svgNamespace || (colon < 0 && (space === undefined || space === '')),
      attributes,
      children: [],
    };
    if (holder) holder.element.children.push(element);
    else this.root = element;
    if (empty) return;
    if (this.open.length >= svgLimits.depth) {
      throw new Refusal(
        'svg-too-deep',
        `In this file things are grouped inside each other more than ${svgLimits.depth} times over, which no drawing needs. Ungroup the piece in the program that made it and save it again.`,
      );
    }
    this.open.push({ tag, element, namespaces });
  }

  private readName(): string {
    const start = this.at;
    const { text } = this;
    if (start >= text.length) throw this.cutShort();
    if (!isNameStart(text.charCodeAt(start)))
      throw this.damaged(start, 'a name was expected and something else stands there');
    let at = start + 1;
    while (at < text.length && isNameCharacter(text.charCodeAt(at))) at++;
    this.at = at;
    return text.slice(start, at);
  }

  private skipSpace(): boolean {
    const start = this.at;
    while (this.at < this.text.length && isSpace(this.text.charCodeAt(this.at))) this.at++;
    return this.at > start;
  }

  private expect(code: number): void {
    if (this.at >= this.text.length) throw this.cutShort();
    if (this.text.charCodeAt(this.at) !== code) {
      throw this.damaged(this.at, `“${String.fromCharCode(code)}” was expected and something else stands there`);
    }
    this.at++;
  }

  /** Position just after the next `ending`. */
  private after(ending: string, from: number): number {
    const found = this.text.indexOf(ending, from);
    if (found < 0) throw this.cutShort();
    return found + ending.length;
  }

  private decode(raw: string, at: number): string {
    const decoded = decodeReferences(raw);
    if (decoded !== null) return decoded;
    throw new Refusal(
      'svg-entity',
      `This file uses an abbreviation of its own (line ${this.lineOf(at)}) that stands for something written elsewhere. Such files are not opened, because they can be made to grow without end. Save it again as plain SVG.`,
    );
  }

  private lineOf(at: number): number {
    let lines = 1;
    for (let i = this.text.indexOf('\n'); i >= 0 && i < at; i = this.text.indexOf('\n', i + 1)) lines++;
    return lines;
  }

  private damaged(at: number, what: string): Refusal {
    return new Refusal(
      'svg-damaged',
      `This SVG file is damaged at line ${this.lineOf(at)}: ${what}. Save it again in the program that made it.`,
    );
  }

  private tooMany(): Refusal {
    return new Refusal(
      'svg-too-many-elements',
      `This file holds more than ${svgLimits.elements.toLocaleString('en')} parts, or one part with more than ${svgLimits.attributes} properties, far more than a pattern piece needs. Save only the piece into a file of its own and open that.`,
    );
  }

  private cutShort(): Refusal {
    return new Refusal(
      'svg-cut-short',
      'This SVG file stops before its end, so part of the drawing is missing. Copy or download it again, or save it again in the program that made it.',
    );
  }
}

function declaredIn(attributes: ReadonlyMap<string, string>, outer: Namespaces | null): Namespaces | null {
  let declared: Map<string, string> | null = null;
  for (const [name, value] of attributes) {
    if (name !== 'xmlns' && !name.startsWith('xmlns:')) continue;
    declared ??= new Map();
    declared.set(name === 'xmlns' ? '' : name.slice(6), value);
  }
  return declared ? { declared, outer } : outer;
}

function meaning(namespaces: Namespaces | null, prefix: string): string | undefined {
  for (let scope = namespaces; scope; scope = scope.outer) {
    const found = scope.declared.get(prefix);
    if (found !== undefined) return found;
  }
  return undefined;
}

function shortened(name: string): string {
  return name.length > 24 ? `${name.slice(0, 24)}…` : name;
}
