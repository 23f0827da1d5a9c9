import { fail, type Outcome, succeed } from '../geometry/outcome';

/** A sheet of paper, mm, the short side as `width`. */
export interface PaperSize {
  readonly name: string;
  readonly width: number;
  readonly height: number;
}

/** A sizes: ISO 216. Letter and Tabloid: ANSI/ASME Y14.1. */
export const papers = [
  { name: 'A4', width: 210, height: 297 },
  { name: 'Letter', width: 215.9, height: 279.4 },
  { name: 'A3', width: 297, height: 420 },
  { name: 'Tabloid', width: 279.4, height: 431.8 },
  { name: 'A1', width: 594, height: 841 },
  { name: 'A0', width: 841, height: 1189 },
] as const satisfies readonly PaperSize[];

export interface PrintSettings {
  readonly paper: PaperSize;
  readonly landscape: boolean;
  /** Unprinted border on all four sides, mm. */
  readonly margin: number;
  /** Strip that two neighbouring pages both print, mm; 0 for pages that butt together. */
  readonly overlap: number;
}

/** A4 upright, 10 mm margin (home printers need 6.35 mm) and 10 mm overlap. */
export const defaultPrintSettings: PrintSettings = { paper: papers[0], landscape: false, margin: 10, overlap: 10 };

/** Common PDF readers stop at 14,400 units of 1/72 in. */
const longestPage = (14400 / 72) * 25.4;
/** The 4 in test square with its caption and a column beside it. */
const shortestArea = { short: 150, long: 190 };

/** Page size as printed, mm. */
export function pageSize(settings: PrintSettings): { readonly width: number; readonly height: number } {
  const { width, height } = settings.paper;
  return settings.landscape ? { width: height, height: width } : { width, height };
}

/** Pages at least this long on the short side carry the test squares beside the pieces, without a page for them. */
export function isWideSheet(settings: PrintSettings): boolean {
  return Math.min(settings.paper.width, settings.paper.height) > 500;
}

/** Refuses papers that no reader shows whole, and settings that leave no room. */
export function checkSettings(settings: PrintSettings): Outcome<PrintSettings> {
  const { paper, margin, overlap } = settings;
  const numbers = [paper.width, paper.height, margin, overlap];
  if (!numbers.every((n) => Number.isFinite(n)) || paper.width <= 0 || paper.height <= 0 || margin < 0 || overlap < 0) {
    return fail('print-settings', 'Paper size, margin and overlap must be plain lengths, not less than nothing.');
  }
  if (Math.max(paper.width, paper.height) > longestPage) {
    return fail(
      'paper-too-large',
      `${paper.name} is longer than 508 cm (200 in), which PDF readers cut off. Choose a shorter sheet, or print tiles.`,
    );
  }
  const short = Math.min(paper.width, paper.height) - 2 * margin;
  const long = Math.max(paper.width, paper.height) - 2 * margin;
  if (short < shortestArea.short || long < shortestArea.long) {
    return fail(
      'paper-too-small',
      `${paper.name} with a margin of ${margin} mm leaves no room for the test squares. Choose larger paper or a smaller margin.`,
    );
  }
  if (overlap > short / 4) {
    return fail('overlap-too-wide', `An overlap of ${overlap} mm wastes most of the paper. Choose 20 mm or less.`);
  }
  return succeed(settings);
}
