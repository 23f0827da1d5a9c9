import { svgLimits } from './limits';

/** The few properties that matter to a pattern; everything else in a style is passed over. */
const lookProperties = ['fill', 'stroke', 'stroke-dasharray', 'display', 'visibility', 'font-size'];

/** Properties that would move or reshape a shape if a style sets them. We do not follow them; the reader must say so. */
export const placingProperties = [
  'transform',
  'translate',
  'rotate',
  'scale',
  'd',
  'x',
  'y',
  'cx',
  'cy',
  'r',
  'rx',
  'ry',
  'width',
  'height',
] as const;

const readProperties: ReadonlySet<string> = new Set([...lookProperties, ...placingProperties]);

export type Declarations = ReadonlyMap<string, string>;

/** `name: value; name: value`, only the properties above, values trimmed and lower-cased. The last one written wins. */
export function readDeclarations(text: string): Declarations {
  const declarations = new Map<string, string>();
  for (const part of text.slice(0, svgLimits.style).split(';')) {
    const colon = part.indexOf(':');
    if (colon < 0) continue;
    const name = part.slice(0, colon).trim().toLowerCase();
    if (!readProperties.has(name)) continue;
    const value = part
      .slice(colon + 1)
      .replace('!important', '')
      .trim()
      .toLowerCase();
    declarations.set(name, value.slice(0, svgLimits.words));
  }
  return declarations;
}

interface Ranked {
  readonly value: string;
  readonly order: number;
}

/** Rules of the style sheets inside a file, by plain selectors only: `*`, a tag, `.class`, `#id`. */
export class StyleSheet {
  private readonly rules = new Map<string, Map<string, Ranked>>();
  private order = 0;
  /** A selector or rule that was passed over, or an import from elsewhere. */
  skipped = false;

  /** Adds one `<style>` text. Time grows with its length only. */
  add(css: string): void {
    const text = css.replace(/\/\*[\s\S]*?(?:\*\/|$)/g, ' ').replace(/<!--|-->/g, ' ');
    let at = 0;
    while (at < text.length && this.order < svgLimits.styleRules) {
      const isAtRule = /^\s*@/.test(text.slice(at, at + 64));
      const mark = isAtRule ? nextOf(/[{;]/g, text, at) : text.indexOf('{', at);
      if (isAtRule) this.skipped = true;
      if (mark < 0) return;
      const end = text[mark] === ';' ? mark : isAtRule ? endOfBlock(text, mark) : text.indexOf('}', mark);
      const stop = end < 0 ? text.length : end;
      if (!isAtRule) this.addRule(text.slice(at, mark), readDeclarations(text.slice(mark + 1, stop)));
      at = stop + 1;
    }
  }

  private addRule(selectors: string, declarations: Declarations): void {
    if (declarations.size === 0) return;
    for (const selector of selectors.split(',')) {
      const key = selector.trim();
      if (!/^(?:\*|[.#]?[A-Za-z_][\w-]*)$/.test(key)) {
        this.skipped = true;
        continue;
      }
      const rank = ++this.order;
      const held = this.rules.get(key) ?? new Map<string, Ranked>();
      for (const [name, value] of declarations) held.set(name, { value, order: rank });
      this.rules.set(key, held);
      if (this.order >= svgLimits.styleRules) return;
    }
  }

  /** What the sheets say of one element: `*` below tag below class below id, later rules over earlier ones. */
  declarationsFor(tag: string, classes: string | undefined, id: string | undefined): Declarations {
    if (this.rules.size === 0) return none;
    const found = new Map<string, string>();
    for (const key of ['*', tag]) for (const [name, ranked] of this.rules.get(key) ?? []) found.set(name, ranked.value);
    const best = new Map<string, Ranked>();
    for (const word of classes?.slice(0, 1000).split(/\s+/) ?? []) {
      for (const [name, ranked] of this.rules.get(`.${word}`) ?? []) {
        const held = best.get(name);
        if (!held || held.order < ranked.order) best.set(name, ranked);
      }
    }
    for (const [name, ranked] of best) found.set(name, ranked.value);
    for (const [name, ranked] of this.rules.get(`#${id ?? ''}`) ?? []) found.set(name, ranked.value);
    return found;
  }
}

const none: Declarations = new Map();

function nextOf(marks: RegExp, text: string, from: number): number {
  marks.lastIndex = from;
  return marks.exec(text)?.index ?? -1;
}

function endOfBlock(text: string, brace: number): number {
  let depth = 0;
  for (let i = brace; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === 123) depth++;
    else if (code === 125 && --depth === 0) return i;
  }
  return -1;
}
