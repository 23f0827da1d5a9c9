import { execFile } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { exits, runBatch } from '../../src/batch/run';
import { writeProject } from '../../src/exchange/project/projectFile';
import { reportVersion } from '../../src/measure/report';
import type { Garment } from '../../src/pattern/garment';
import { requirePoppler } from '../print/support/poppler';
import { readPdf } from '../print/support/readPdf';
import { dartedGarment, dartedProject, must, swingGarment, swingProject } from './support/swingProject';

// Drawing and reading back takes seconds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

interface Ran {
  readonly code: number;
  readonly said: string;
  readonly complained: string;
  readonly files: Map<string, string | Uint8Array>;
}

/** Runs the program on files in memory. */
async function run(
  args: readonly string[],
  files: Record<string, string> = { 'top.json': swingProject() },
): Promise<Ran> {
  const said: string[] = [];
  const complained: string[] = [];
  const written = new Map<string, string | Uint8Array>();
  const code = await runBatch(args, {
    readText: async (path) => {
      if (!Object.hasOwn(files, path)) throw new Error('ENOENT');
      return files[path]!;
    },
    write: async (path, content) => {
      if (path.startsWith('/nowhere')) throw new Error('EACCES');
      written.set(path, content);
    },
    loadFont: async () => new Uint8Array(readFileSync(resolve('public/fonts/DejaVuSans.ttf'))),
    say: (line) => said.push(line),
    complain: (line) => complained.push(line),
    today: () => '2026-03-01',
  });
  return { code, said: said.join('\n'), complained: complained.join('\n'), files: written };
}

const folder = mkdtempSync(join(tmpdir(), 'batch-test-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('R27 the batch program', () => {
  it('reports a version with the numbers of the screen, unrounded, beside their texts', async () => {
    const { code, files, said } = await run(['top.json', '--version', 'Swing', '--report', 'out.json']);
    expect(code).toBe(exits.done);
    const written = JSON.parse(files.get('out.json') as string);
    const report = must(reportVersion(swingGarment(), 'v1'));
    expect(written.sweep.before.mm).toBe(report.garmentSweepBefore);
    expect(written.sweep.after.mm).toBe(report.garmentSweepAfter);
    expect(written.sweep.ratio).toBeGreaterThan(1.3);
    expect(written.sweep.after.text).toMatch(/ in$/);
    expect(written.version).toMatchObject({ id: 'v1', name: 'Swing', note: 'A-line' });
    expect(written.pieces).toHaveLength(2);
    const front = written.pieces[0];
    expect(front.openings.filter((o: { chord: { mm: number } }) => Math.abs(o.chord.mm - 38.1) < 1e-9)).toHaveLength(4);
    expect(front.edges.map((e: { after: { mm: number } }) => e.after.mm)).toEqual(
      report.pieces[0]!.lengths.map((l) => l.after),
    );
    expect(front.allowancesIncluded).toBe(true);
    expect(written.seams.map((s: { difference: { mm: number } }) => s.difference.mm)).toEqual(
      report.seams.map((s) => s.difference),
    );
    expect(said).toContain('Hem sweep');
  });

  it('R36 reports what closed darts give, and fans the piece whose darts are closed as the screen does', async () => {
    const { code, files } = await run(['skirt.json', '--version', 'Flared', '--report', 'out.json'], {
      'skirt.json': dartedProject(),
    });
    expect(code).toBe(exits.done);
    const [front, back] = JSON.parse(files.get('out.json') as string).pieces;
    // 2 r sin(angle / 2) from the dart's own points and the level hem: arithmetic anyone can redo.
    const { edges, darts } = dartedGarment().blocks.find(({ id }) => id === 'front')!;
    const { apex, legs } = darts[0]!;
    const hemY = edges.find(({ id }) => id === 'hem')!.path[0]!.start.y;
    const bearing = legs.map((leg) => Math.atan2(leg.y - apex.y, leg.x - apex.x));
    const opening = 2 * (hemY - apex.y) * Math.sin(Math.abs(bearing[1]! - bearing[0]!) / 2);
    expect(front.fromDarts).toHaveLength(1);
    expect(front.fromDarts[0].opening.mm).toBeCloseTo(opening, 9);
    expect(front.fromDarts[0].share).toBe(1);
    const turn = (180 / Math.PI) * Math.abs(bearing[1]! - bearing[0]!);
    expect(front.fromDarts[0].turnDegrees).toBeCloseTo(turn, 9);
    expect(front.openings.map(({ id }: { id: string }) => id)).toEqual(['s1']);
    const half = dartedGarment().blocks.find(({ id }) => id === 'back')!.darts[0]!;
    const [one, other] = half.legs.map((leg) => Math.atan2(leg.y - half.apex.y, leg.x - half.apex.x));
    expect(back.fromDarts[0].turnDegrees).toBeCloseTo((90 / Math.PI) * Math.abs(other! - one!), 9);
    const waist = front.edges.find(({ id }: { id: string }) => id === 'waist');
    expect(front.trued.smoothed).toHaveLength(1);
    expect(front.trued.smoothed[0].edge).toBe('waist');
    // The edge lost the mouth, and what drawing it anew took.
    const mouth = Math.hypot(legs[0].x - legs[1].x, legs[0].y - legs[1].y);
    expect(waist.after.mm).toBeCloseTo(waist.before.mm - mouth + front.trued.smoothed[0].longer.mm, 6);
    const report = must(reportVersion(dartedGarment(), 'v1'));
    expect(front.sweep.after.mm).toBe(report.pieces[0]!.sweepAfter);
  });

  it('prints the version as a PDF whose pages name garment, version and date', async () => {
    const { code, files, said } = await run([
      'top.json',
      '--version',
      'Swing',
      '--pdf',
      'out.pdf',
      '--date',
      '2026-02-14',
    ]);
    expect(code).toBe(exits.done);
    const { pages, printScaling } = await readPdf(files.get('out.pdf') as Uint8Array);
    expect(printScaling).toBe('None');
    expect(said).toContain(`${pages.length} pages of A4`);
    const texts = pages.flatMap((p) => p.texts.map((t) => t.text));
    expect(texts).toContain('Sleeveless top · Swing');
    expect(texts).toContain('2026-02-14');
    expect(pages[0]!.width).toBeCloseTo(210, 1);
  });

  it('prints the untouched block without a version, on the paper asked for, dated today', async () => {
    const { files } = await run(['top.json', '--pdf', 'out.pdf', '--paper', 'letter', '--landscape']);
    const { pages } = await readPdf(files.get('out.pdf') as Uint8Array);
    expect(pages[0]!.width).toBeCloseTo(279.4, 1);
    const texts = pages.flatMap((p) => p.texts.map((t) => t.text));
    expect(texts).toContain('Sleeveless top · Block');
    expect(texts).toContain('2026-03-01');
    expect(texts).toContain('No allowances: this is the stitching line');
  });

  it('R34 opens out the pieces on the fold that are asked for, and refuses those that are none', async () => {
    const cut = async (...more: string[]) => {
      const { files } = await run(['top.json', '--pdf', 'out.pdf', '--paper', 'A0', ...more]);
      const { pages } = await readPdf(files.get('out.pdf') as Uint8Array);
      return pages.flatMap((p) => p.texts.map((t) => t.text)).filter((text) => text.startsWith('Cut '));
    };
    expect(await cut()).toEqual(['Cut 1 on the fold', 'Cut 1 on the fold']);
    expect(await cut('--opened-out', 'Front')).toEqual(['Cut 1', 'Cut 1 on the fold']);
    expect(await cut('--opened-out', 'front', '--opened-out', 'back')).toEqual(['Cut 1', 'Cut 1']);
    expect(await cut('--opened-out', 'all')).toEqual(['Cut 1', 'Cut 1']);
    const { blocks, ...rest } = swingGarment();
    const plain: Garment = { ...rest, blocks: [{ ...blocks[0]!, fold: null }], seamLinks: [], versions: [] };
    for (const [piece, sentence] of [
      ['Sleeve', 'There is no piece Sleeve in this garment. It has: Front.'],
      ['Front', 'Front is not on the fold'],
    ] as const) {
      const ran = await run(['plain.json', '--pdf', 'out.pdf', '--opened-out', piece], {
        'plain.json': writeProject(plain),
      });
      expect(ran.code).toBe(exits.refused);
      expect(ran.complained).toContain(sentence);
      expect(ran.files.size).toBe(0);
    }
  });

  it('writes texts in the unit asked for', async () => {
    const { files } = await run(['top.json', '--version', 'v1', '--unit', 'cm', '--report', 'out.json']);
    const written = JSON.parse(files.get('out.json') as string);
    expect(written.unit).toBe('cm');
    expect(written.sweep.after.text).toMatch(/^\d+(\.\d+)? cm$/);
  });

  it('lists the versions with their sweeps', async () => {
    const { code, said } = await run(['top.json', '--list']);
    expect(code).toBe(exits.done);
    expect(said.split('\n')).toHaveLength(2);
    expect(said).toMatch(/^Block: hem sweep .*\nSwing: hem sweep /);
  });

  it.each([
    [['--pdf', 'x.pdf'], exits.usage, 'Name the project file'],
    [['top.json', 'other.json'], exits.usage, 'One project file at a time'],
    [['top.json', '--colour', 'red'], exits.usage, 'colour'],
    [['top.json', '--paper', 'napkin'], exits.usage, 'I do not know the paper napkin'],
    [['top.json', '--unit', 'ells'], exits.usage, 'I do not know the unit ells'],
    [['top.json', '--date', '2026-02-30'], exits.usage, '2026-02-30 is not a date'],
    [['missing.json'], exits.refused, 'missing.json cannot be read'],
    [
      ['top.json', '--version', 'Sving'],
      exits.refused,
      'There is no version Sving in this garment. It has: Block, Swing.',
    ],
    [['top.json', '--pdf', '/nowhere/x.pdf'], exits.refused, '/nowhere/x.pdf cannot be written'],
    [['top.json', '--pdf', 'x.pdf', '--paper', '914x6000'], exits.refused, 'longer than 508 cm'],
    [['bad.json'], exits.refused, 'not a Hingeline project file'],
  ] as const)('%j: exit code %i and a sentence', async (args, code, sentence) => {
    const ran = await run(args, { 'top.json': swingProject(), 'bad.json': '[]' });
    expect(ran.code).toBe(code);
    expect(ran.complained).toContain(sentence);
    expect(ran.files.size).toBe(0);
  });

  it('asks which when two versions share a name', async () => {
    const garment = JSON.parse(swingProject());
    garment.garment.versions.push({ ...garment.garment.versions[0], id: 'v2' });
    const ran = await run(['top.json', '--version', 'Swing'], { 'top.json': JSON.stringify(garment) });
    expect(ran.code).toBe(exits.refused);
    expect(ran.complained).toContain('2 versions are called Swing. Name one by its id: v1 or v2.');
  });

  it('shows its options on --help', async () => {
    const { code, said } = await run(['--help']);
    expect(code).toBe(exits.done);
    expect(said).toContain('--landscape');
  });

  it('runs as a process: files on disk, sentences on the error stream, exit codes', async () => {
    requirePoppler();
    const project = join(folder, 'top.json');
    const pdf = join(folder, 'top.pdf');
    const report = join(folder, 'top-report.json');
    writeFileSync(project, swingProject());
    const call = (args: readonly string[]) =>
      promisify(execFile)(resolve('node_modules/.bin/node'), [
        resolve('node_modules/tsx/dist/cli.mjs'),
        resolve('src/batch/main.ts'),
        ...args,
      ]);
    const { stdout } = await call([project, '--version', 'Swing', '--pdf', pdf, '--report', report]);
    expect(stdout).toContain('Wrote');
    expect(existsSync(pdf)).toBe(true);
    expect(JSON.parse(readFileSync(report, 'utf8')).garment).toBe('Sleeveless top');
    const { stdout: info } = await promisify(execFile)('pdfinfo', [pdf]);
    expect(info).toMatch(/Pages:\s+\d+/);
    const failed = await call([project, '--version', 'nobody']).catch((e) => e as { code: number; stderr: string });
    expect(failed).toMatchObject({ code: exits.refused });
    expect((failed as { stderr: string }).stderr).toContain('There is no version nobody');
  }, 60_000);
});
