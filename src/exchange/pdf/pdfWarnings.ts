const things = (count: number, one: string, many: string) => (count === 1 ? `1 ${one}` : `${count} ${many}`);
const was = (count: number) => (count === 1 ? 'was' : 'were');

/** Everything the reader passes over, each with the sentence the maker sees. */
const sentences = {
  'cut-short': () =>
    'The end of this file is missing: it may be cut short, and lines may be missing without a word. Download or save it once more if you can.',
  'page-damaged': (n: number) =>
    `${things(n, 'page is', 'pages are')} damaged and ${was(n)} read only in part or not at all. Compare with the paper before you trust the outline.`,
  'hidden-layer': (n: number) =>
    `${things(n, 'line lies', 'lines lie')} on layers that are switched off in the file; they are read all the same.`,
  'too-far': (n: number) => `${things(n, 'line', 'lines')} with impossible coordinates ${was(n)} left out.`,
  white: (n: number) => `${things(n, 'white or see-through shape', 'white or see-through shapes')} ${was(n)} left out.`,
  background: (n: number) =>
    `${things(n, 'page-wide area of colour', 'page-wide areas of colour')} ${was(n)} left out.`,
} as const satisfies Record<string, (count: number) => string>;

export type PdfWarning = keyof typeof sentences;

/** Counts what was passed over; each kind becomes one sentence, in the order first met. */
export class PdfWarnings {
  private readonly counts = new Map<PdfWarning, number>();

  note(warning: PdfWarning, count = 1): void {
    if (count > 0) this.counts.set(warning, (this.counts.get(warning) ?? 0) + count);
  }

  sentences(): string[] {
    return [...this.counts].map(([warning, count]) => sentences[warning](count));
  }
}
