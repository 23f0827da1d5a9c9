import { parseArgs } from 'node:util';
import { fail, type Outcome, succeed } from '../geometry/outcome';
import { type PaperSize, papers } from '../print/paper';
import type { LengthUnit } from '../units/length';

/** What one run is asked to do. */
export interface BatchOptions {
  readonly file: string;
  /** Name or id of a version; null for the block. */
  readonly version: string | null;
  readonly pdf: string | null;
  readonly report: string | null;
  readonly paper: PaperSize;
  readonly landscape: boolean;
  /** null: the garment's own. */
  readonly unit: LengthUnit | null;
  /** null: today. */
  readonly date: string | null;
  /** Names or ids of the pieces on the fold to print opened out; `all` for each of them. */
  readonly opened: readonly string[];
  readonly list: boolean;
}

export const usage = `Usage: npm run batch -- garment.json [options]

  --version NAME       a version by its name or id; without it, the block
  --pdf FILE           print the pieces, tiled, as a PDF
  --report FILE        write the measures as JSON (mm, and as text)
  --paper NAME         ${papers.map((p) => p.name).join(', ')}, or WIDTHxHEIGHT in mm; A4 without it
  --landscape          turn the paper
  --opened-out PIECE   print this piece on the fold whole, by its name or id; all for each; may be repeated
  --unit cm|mm|in      unit of the texts; the garment's own without it
  --date YYYY-MM-DD    the date on the pieces; today without it
  --list               list the versions and stop
  --help               this text`;

/** Reads the arguments. Wrong ones are refused with a sentence; `help` asks for the usage text. */
export function readOptions(args: readonly string[]): Outcome<BatchOptions | 'help'> {
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(args);
  } catch (error) {
    return fail('options-unknown', `${error instanceof Error ? error.message : String(error)}`);
  }
  const { values, positionals } = parsed;
  if (values.help) return succeed('help');
  const [file, ...more] = positionals;
  if (file === undefined) return fail('file-missing', 'Name the project file to read.');
  if (more.length > 0) return fail('files-too-many', `One project file at a time, please; what is ${more[0]}?`);
  const paper = readPaper(values.paper ?? 'A4');
  if (!paper.ok) return paper;
  const unit = values.unit ?? null;
  if (unit !== null && unit !== 'cm' && unit !== 'mm' && unit !== 'in') {
    return fail('unit-unknown', `I do not know the unit ${unit}. Use cm, mm or in.`);
  }
  const date = values.date ?? null;
  if (date !== null && !isDate(date)) return fail('date-unreadable', `${date} is not a date. Write it as 2026-02-14.`);
  return succeed({
    file,
    version: values.version ?? null,
    pdf: values.pdf ?? null,
    report: values.report ?? null,
    paper: paper.value,
    landscape: values.landscape ?? false,
    unit,
    date,
    opened: values['opened-out'] ?? [],
    list: values.list ?? false,
  });
}

function parse(args: readonly string[]) {
  return parseArgs({
    args: [...args],
    allowPositionals: true,
    strict: true,
    options: {
      version: { type: 'string' },
      pdf: { type: 'string' },
      report: { type: 'string' },
      paper: { type: 'string' },
      landscape: { type: 'boolean' },
      'opened-out': { type: 'string', multiple: true },
      unit: { type: 'string' },
      date: { type: 'string' },
      list: { type: 'boolean' },
      help: { type: 'boolean' },
    },
  });
}

function readPaper(text: string): Outcome<PaperSize> {
  const named = papers.find((p) => p.name.toLowerCase() === text.toLowerCase());
  if (named) return succeed(named);
  const sides = /^(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)$/i.exec(text);
  if (!sides) {
    return fail(
      'paper-unknown',
      `I do not know the paper ${text}. Use ${papers.map((p) => p.name).join(', ')}, or width x height in mm, such as 914x1500.`,
    );
  }
  const [a, b] = [Number(sides[1]), Number(sides[2])];
  return succeed({ name: `${sides[1]} x ${sides[2]} mm`, width: Math.min(a, b), height: Math.max(a, b) });
}

function isDate(text: string): boolean {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!parts) return false;
  const date = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
}
