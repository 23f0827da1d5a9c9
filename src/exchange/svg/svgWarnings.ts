import { svgLimits } from './limits';

const things = (count: number, one: string, many: string) => (count === 1 ? `1 ${one}` : `${count} ${many}`);
const was = (count: number) => (count === 1 ? 'was' : 'were');

/** Everything the reader passes over or mends, each with the sentence the maker sees. */
const sentences = {
  script: () => 'The file carries a program (script). It was not run and is left out.',
  picture: (n: number) =>
    `${things(n, 'picture', 'pictures')} inside the file ${was(n)} left out; only lines are read.`,
  foreign: (n: number) => `${things(n, 'embedded page', 'embedded pages')} inside the file ${was(n)} left out.`,
  animation: () => 'The file moves things about (animation). The lines are read as they stand at rest.',
  outside: (n: number) => `${things(n, 'link', 'links')} to something outside the file ${was(n)} not followed.`,
  'style-link': () => 'A style sheet outside the file was not fetched; colours and dashes may be missing.',
  'style-skipped': () => 'Some style rules are of a kind not read here; a colour, dash or hidden line may differ.',
  loop: (n: number) =>
    `${things(n, 'copy that contains itself', 'copies that contain themselves')} ${was(n)} left out.`,
  missing: (n: number) =>
    `${things(n, 'copy of something', 'copies of something')} the file does not hold ${was(n)} left out.`,
  stopped: (n: number) =>
    `${things(n, 'line has', 'lines have')} a mistake in ${n === 1 ? 'its' : 'their'} data and ${was(n)} drawn only up to it. Check the outline.`,
  unreadable: (n: number) => `${things(n, 'shape', 'shapes')} with sizes that cannot be read ${was(n)} left out.`,
  misplaced: (n: number) =>
    `${things(n, 'shape or group', 'shapes or groups')} with a placement that cannot be read ${was(n)} left out.`,
  'too-far': (n: number) =>
    `${things(n, 'shape', 'shapes')} with impossibly large coordinates or no extent ${was(n)} left out.`,
  hidden: (n: number) => `${things(n, 'hidden part', 'hidden parts')} of the drawing ${was(n)} left out.`,
  invisible: (n: number) => `${things(n, 'shape', 'shapes')} drawn in no colour at all ${was(n)} left out.`,
  clipped: (n: number) =>
    `${things(n, 'part is', 'parts are')} shown cut off by a window (clip or mask) in the file; the whole line is read.`,
  'inner-unit': () =>
    'Some shapes give their own size in mm, cm or inches. SVG counts those at 96 units to the inch whatever the page says; check a length.',
  unknown: (n: number) => `${things(n, 'part', 'parts')} of a kind that is no line ${was(n)} left out.`,
} as const satisfies Record<string, (count: number) => string>;

export type SvgWarning = keyof typeof sentences;

/** Counts what was passed over; each kind becomes one sentence, in the order first met. */
export class WarningCount {
  private readonly counts = new Map<SvgWarning, number>();

  note(warning: SvgWarning): void {
    this.counts.set(warning, (this.counts.get(warning) ?? 0) + 1);
  }

  sentences(): string[] {
    return [...this.counts].map(([warning, count]) => sentences[warning](count)).slice(0, svgLimits.warnings);
  }
}
