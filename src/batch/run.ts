import { readProject } from '../exchange/project/projectFile';
import { type Failure, fail, type Outcome, succeed } from '../geometry/outcome';
import { reportVersion } from '../measure/report';
import type { VersionReport } from '../measure/versionReport';
import type { Garment } from '../pattern/garment';
import { drawPdf } from '../print/drawPdf';
import { openedWhereWanted } from '../print/openedOut';
import { planPages } from '../print/pagePlan';
import { defaultPrintSettings } from '../print/paper';
import { printableVersion } from '../print/printableVersion';
import { formatLength, type LengthUnit } from '../units/length';
import { type BatchOptions, readOptions, usage } from './options';
import { reportFile } from './reportFile';

/** The world outside: files, two streams and the calendar. */
export interface BatchWorld {
  readonly readText: (path: string) => Promise<string>;
  readonly write: (path: string, content: string | Uint8Array) => Promise<void>;
  /** The font for letters outside Latin-1. */
  readonly loadFont: () => Promise<Uint8Array>;
  readonly say: (line: string) => void;
  readonly complain: (line: string) => void;
  /** Today as YYYY-MM-DD. */
  readonly today: () => string;
}

/** Exit codes: all well; the work could not be done; the arguments make no sense. */
export const exits = { done: 0, refused: 1, usage: 2 } as const;

/** One run of the batch program. Every failure is one sentence on the error stream and an exit code. */
export async function runBatch(args: readonly string[], world: BatchWorld): Promise<number> {
  const options = readOptions(args);
  if (!options.ok) {
    world.complain(options.sentence);
    world.complain('Run with --help for the options.');
    return exits.usage;
  }
  if (options.value === 'help') {
    world.say(usage);
    return exits.done;
  }
  try {
    return await work(options.value, world);
  } catch (error) {
    world.complain(error instanceof Error ? error.message : String(error));
    return exits.refused;
  }
}

async function work(options: BatchOptions, world: BatchWorld): Promise<number> {
  const refuse = (failure: Failure) => {
    world.complain(failure.sentence);
    return exits.refused;
  };
  let text: string;
  try {
    text = await world.readText(options.file);
  } catch {
    world.complain(`${options.file} cannot be read. Check the name and the folder.`);
    return exits.refused;
  }
  const project = readProject(text);
  if (!project.ok) return refuse(project);
  const garment: Garment = { ...project.value, unit: options.unit ?? project.value.unit };
  if (options.list) {
    for (const line of versionList(garment)) world.say(line);
    return exits.done;
  }
  const version = versionNamed(garment, options.version);
  if (!version.ok) return refuse(version);
  const report = reportVersion(garment, version.value);
  if (!report.ok) return refuse(report);
  const wanted = piecesToOpen(garment, options.opened);
  if (!wanted.ok) return refuse(wanted);
  for (const line of summary(garment, report.value, garment.unit)) world.say(line);

  if (options.report !== null) {
    const content = `${JSON.stringify(reportFile(garment, report.value, garment.unit), null, 2)}\n`;
    await written(world, options.report, content);
  }
  if (options.pdf !== null) {
    const printables = printableVersion(garment, report.value, options.date ?? world.today());
    const { pieces, warnings } = openedWhereWanted(printables, wanted.value);
    for (const warning of warnings) world.say(warning);
    const plan = planPages(pieces, { ...defaultPrintSettings, paper: options.paper, landscape: options.landscape });
    if (!plan.ok) return refuse(plan);
    for (const warning of plan.value.warnings) world.say(warning);
    await written(world, options.pdf, await drawPdf(plan.value, { loadFont: world.loadFont }));
    world.say(`${plan.value.pages.length} pages of ${options.paper.name}: print at 100 %, measure the squares first.`);
  }
  return exits.done;
}

async function written(world: BatchWorld, path: string, content: string | Uint8Array): Promise<void> {
  try {
    await world.write(path, content);
  } catch {
    throw new Error(`${path} cannot be written. Check the folder, and whether the file is open elsewhere.`);
  }
  world.say(`Wrote ${path}`);
}

/** The id of the version with this id or name; null for the block. */
function versionNamed(garment: Garment, wanted: string | null): Outcome<string | null> {
  if (wanted === null) return succeed(null);
  if (garment.versions.some((v) => v.id === wanted)) return succeed(wanted);
  const named = garment.versions.filter((v) => v.name === wanted);
  if (named.length === 1) return succeed(named[0]!.id);
  if (named.length > 1) {
    const ids = named.map((v) => v.id).join(' or ');
    return fail('version-name-shared', `${named.length} versions are called ${wanted}. Name one by its id: ${ids}.`);
  }
  if (wanted.toLowerCase() === 'block') return succeed(null);
  const names = ['Block', ...garment.versions.map((v) => v.name)].join(', ');
  return fail('version-missing', `There is no version ${wanted} in this garment. It has: ${names}.`);
}

/** Ids of the pieces to open out, named by id or name. */
function piecesToOpen({ blocks }: Garment, wanted: readonly string[]): Outcome<readonly string[]> {
  const onFold = blocks.filter(({ fold }) => fold !== null);
  const ids: string[] = [];
  for (const name of wanted) {
    const found = blocks.filter((block) => block.id === name || block.name === name);
    if (found.length === 0 && name.toLowerCase() === 'all') {
      ids.push(...onFold.map(({ id }) => id));
      continue;
    }
    if (found.length === 0) {
      return fail(
        'piece-missing',
        `There is no piece ${name} in this garment. It has: ${blocks.map((b) => b.name).join(', ')}.`,
      );
    }
    const whole = found.find(({ fold }) => fold === null);
    if (whole !== undefined)
      return fail('piece-not-on-fold', `${whole.name} is not on the fold, so it cannot be opened out.`);
    ids.push(...found.map(({ id }) => id));
  }
  return succeed(ids);
}

function versionList(garment: Garment): string[] {
  return [null, ...garment.versions.map((v) => v.id)].map((id) => {
    const name = garment.versions.find((v) => v.id === id)?.name ?? 'Block';
    const report = reportVersion(garment, id);
    if (!report.ok) return `${name}: ${report.sentence}`;
    const sweep = report.value.garmentSweepAfter;
    return sweep === null ? name : `${name}: hem sweep ${formatLength(sweep, garment.unit)}`;
  });
}

function summary(garment: Garment, report: VersionReport, unit: LengthUnit): string[] {
  const name = garment.versions.find((v) => v.id === report.version)?.name ?? 'Block';
  const { garmentSweepBefore: before, garmentSweepAfter: after } = report;
  const sweep =
    before === null || after === null
      ? []
      : [`Hem sweep ${formatLength(before, unit)} -> ${formatLength(after, unit)}`];
  const seams = report.seams.map((seam) => {
    const { first, second } = seam;
    const places = `${pieceName(garment, first.piece)} ${first.edge} to ${pieceName(garment, second.piece)} ${second.edge}`;
    return `${places}: ${seam.verdict}, difference ${formatLength(seam.difference, unit)}`;
  });
  const warnings = report.pieces.flatMap((p) => p.warnings.map((w) => `${p.block.name}: ${w}`));
  return [`${garment.name}, ${name}`, ...sweep, ...seams, ...warnings];
}

function pieceName(garment: Garment, id: string): string {
  return garment.blocks.find((b) => b.id === id)?.name ?? id;
}
