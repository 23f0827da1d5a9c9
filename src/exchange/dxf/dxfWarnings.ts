import { dxfLimits } from './limits';

const things = (count: number, one: string, many: string) => (count === 1 ? `1 ${one}` : `${count} ${many}`);
const was = (count: number) => (count === 1 ? 'was' : 'were');
const listed = (names: readonly string[]) => names.map((name) => `“${name}”`).join(', ');

/** Everything the reader passes over or mends, each with the sentence the maker sees. */
const sentences = {
  'no-end': () => 'The file has no end mark; it may have been cut short. Check that nothing is missing.',
  'layer-off': (n: number, names: readonly string[]) =>
    `${things(n, 'part', 'parts')} on layers that are switched off or frozen ${was(n)} left out (${listed(names)}). Switch them on in the program that made the file if you need them.`,
  hidden: (n: number) => `${things(n, 'hidden part', 'hidden parts')} of the drawing ${was(n)} left out.`,
  paper: (n: number) =>
    `${things(n, 'part', 'parts')} of a page layout ${was(n)} left out; the drawing itself is read.`,
  hatch: (n: number) =>
    `${things(n, 'filled or hatched area', 'filled or hatched areas')} ${was(n)} left out; only lines are read.`,
  dimension: (n: number) => `${things(n, 'dimension', 'dimensions')} ${was(n)} left out; only lines are read.`,
  solid: (n: number) => `${things(n, 'surface', 'surfaces')} ${was(n)} left out; only lines are read.`,
  unknown: (n: number, names: readonly string[]) =>
    `${things(n, 'part', 'parts')} of a kind not read here ${was(n)} left out (${names.join(', ')}).`,
  tilted: (n: number) =>
    `${things(n, 'part', 'parts')} drawn on a plane that leans ${was(n)} left out, for it has no true size from above.`,
  raised: (n: number) =>
    `${things(n, 'line rises', 'lines rise')} out of the flat drawing and ${was(n)} read as seen from above. Check ${n === 1 ? 'its' : 'their'} length.`,
  loop: (n: number) =>
    `${things(n, 'block that contains itself', 'blocks that contain themselves')} ${was(n)} left out.`,
  missing: (n: number) =>
    `${things(n, 'copy of a block', 'copies of blocks')} the file does not hold ${was(n)} left out.`,
  outside: (n: number) => `${things(n, 'drawing', 'drawings')} outside this file ${was(n)} not fetched.`,
  unreadable: (n: number) => `${things(n, 'part', 'parts')} with numbers that cannot be read ${was(n)} left out.`,
  short: (n: number) =>
    `${things(n, 'line has', 'lines have')} fewer or more points than the file announces. Check the outline.`,
  'too-far': (n: number) =>
    `${things(n, 'part', 'parts')} with impossibly large coordinates or no extent ${was(n)} left out.`,
  'fit-points': (n: number) =>
    `${things(n, 'curve is', 'curves are')} given only by points to run through; programs draw such curves a little differently between the points, so check ${n === 1 ? 'it' : 'them'}.`,
  unplaced: (n: number) =>
    `${things(n, 'piece is', 'pieces are')} kept in the file without being placed; ${n === 1 ? 'it is' : 'they are'} shown where ${n === 1 ? 'its' : 'their'} own coordinates put ${n === 1 ? 'it' : 'them'}.`,
  'no-outline': (n: number) =>
    `${things(n, 'mark', 'marks')} of pieces without an outline on layer 1 ${was(n)} left out.`,
} as const satisfies { readonly [warning: string]: (count: number, names: readonly string[]) => string };

export type DxfWarning = keyof typeof sentences;

/** Names told in one sentence. */
const mostNames = 5;

/** Counts what was passed over; each kind becomes one sentence, in the order first met. */
export class WarningCount {
  private readonly met = new Map<DxfWarning, { count: number; names: string[] }>();

  note(warning: DxfWarning, name?: string): void {
    const met = this.met.get(warning) ?? { count: 0, names: [] };
    met.count++;
    if (name !== undefined && met.names.length < mostNames && !met.names.includes(name)) met.names.push(name);
    this.met.set(warning, met);
  }

  sentences(): string[] {
    return [...this.met]
      .map(([warning, { count, names }]) => sentences[warning](count, names))
      .slice(0, dxfLimits.warnings);
  }
}
