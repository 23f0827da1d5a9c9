import { type Ink, inks } from './drawing';

export interface Tokens {
  readonly colour: Readonly<Record<Ink, string>>;
  readonly font: string;
}

/** Reads the interface's colours and font where the canvas stands; an unset one falls back to a legible default. */
export function readTokens(element: Element): Tokens {
  const style = getComputedStyle(element);
  const colour = {} as Record<Ink, string>;
  for (const ink of inks) colour[ink] = style.getPropertyValue(`--${ink}`).trim() || fallback[ink];
  return { colour, font: style.getPropertyValue('--font').trim() || 'system-ui, sans-serif' };
}

const fallback: Readonly<Record<Ink, string>> = {
  table: '#e7e4dc',
  sheet: '#fcfbf8',
  ink: '#1d2433',
  'ink-soft': '#5b6270',
  rule: '#cfcbc1',
  accent: '#0b6b66',
  'accent-wash': '#dcedea',
  warn: '#8a5a00',
  refuse: '#a3261f',
};

/** Calls back whenever the light changes: by the system, or by a theme set on the document. Returns the way to stop. */
export function watchTheme(changed: () => void): () => void {
  const dark = window.matchMedia('(prefers-color-scheme: dark)');
  dark.addEventListener('change', changed);
  const root = new MutationObserver(changed);
  root.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme', 'class', 'style'] });
  return () => {
    dark.removeEventListener('change', changed);
    root.disconnect();
  };
}
