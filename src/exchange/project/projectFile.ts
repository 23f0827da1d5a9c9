import { fail, type Outcome, succeed } from '../../geometry/outcome';
import type { Garment, SeamEnd, SeamLink, Version } from '../../pattern/garment';
import { validateGarment } from '../../pattern/validate';
import { byId, type Found, list, Misread, number, oneOf, record, text } from './decode';
import { layOutJson } from './layOutJson';
import { migrated } from './migrations';
import { readPiece, writePiece } from './pieceRecord';
import { readRecipe, writeRecipe } from './recipeRecord';

const format = 'hingeline-project';

/** The version this program writes. A file with a higher number comes from a newer program and is not guessed at. */
const currentVersion = 2;

/** Longest text that is read, characters; a garment with hundreds of pieces stays far below. */
const longestFile = 20_000_000;

/** The garment as the text of a project file (docs/file-format.md). Reading it back gives the same garment. */
export function writeProject(garment: Garment): string {
  const { id, name, note, unit, blocks, seamLinks, versions } = garment;
  return `${layOutJson({
    format,
    version: currentVersion,
    garment: {
      id,
      name,
      ...(note === undefined ? {} : { note }),
      unit,
      blocks: blocks.map(writePiece),
      seamLinks: seamLinks.map((link) => ({ id: link.id, first: link.first, second: link.second, ease: link.ease })),
      versions: versions.map(({ id, name, note, made, recipes }) => ({
        id,
        name,
        note,
        made,
        recipes: Object.fromEntries(Object.entries(recipes).map(([piece, recipe]) => [piece, writeRecipe(recipe)])),
      })),
    },
  })}\n`;
}

/**
 * Reads the text of a project file. A text that is not a project file, is damaged, comes from a newer program, or
 * breaks a rule of the pattern model is refused with a sentence; nothing in it is silently dropped or repaired.
 */
export function readProject(fileText: string): Outcome<Garment> {
  if (fileText.length > longestFile) {
    return fail('project-too-large', 'This file is larger than any project file should be, so it was not opened.');
  }
  const parsed = parse(fileText);
  if (!parsed.ok) return parsed;
  try {
    return readDocument(parsed.value);
  } catch (error) {
    if (!(error instanceof Misread)) throw error;
    return fail(
      'project-damaged',
      `This project file is damaged at ${error.place}: there should be ${error.expected}. Open an older copy if you have one.`,
    );
  }
}

function parse(fileText: string): Outcome<unknown> {
  const bare = fileText.replace(/^\uFEFF/u, '').trim();
  if (bare === '') return fail('project-empty', 'This file is empty.');
  try {
    return succeed(JSON.parse(bare));
  } catch {
    return bare.startsWith('{')
      ? fail('project-damaged', 'This project file is damaged or cut short. Open an older copy if you have one.')
      : notAProject;
  }
}

const notAProject = fail('project-unknown', 'This is not a Hingeline project file.');

function readDocument(document: unknown): Outcome<Garment> {
  if (typeof document !== 'object' || document === null || !('format' in document) || document.format !== format) {
    return notAProject;
  }
  const version = 'version' in document ? document.version : undefined;
  if (typeof version === 'number' && Number.isInteger(version) && version > currentVersion) {
    return fail(
      'project-newer',
      `This file was saved by a newer Hingeline (format ${version}; this one reads up to ${currentVersion}). Update to open it.`,
    );
  }
  if (typeof version !== 'number' || !(version >= 1) || !Number.isInteger(version)) {
    throw new Misread('version', `a format number from 1 to ${currentVersion}`);
  }
  const garment = record({ value: migrated(document, version), place: '' }, ({ take }) => {
    take('format', text);
    take('version', number);
    return take('garment', readGarment);
  });
  const broken = validateGarment(garment)[0];
  return broken
    ? fail('project-breaks-rule', `This project file cannot be used as it is. ${broken.sentence}`)
    : succeed(garment);
}

function readGarment(found: Found): Garment {
  return record(found, ({ take, has }) => ({
    id: take('id', text),
    name: take('name', text),
    ...(has('note') ? { note: take('note', text) } : {}),
    unit: take('unit', oneOf(['cm', 'mm', 'in'] as const)),
    blocks: take('blocks', list(readPiece)),
    seamLinks: take('seamLinks', list(readLink)),
    versions: take('versions', list(readVersion)),
  }));
}

function readLink(found: Found): SeamLink {
  return record(found, ({ take }) => ({
    id: take('id', text),
    first: take('first', readSeamEnd),
    second: take('second', readSeamEnd),
    ease: take('ease', number),
  }));
}

function readSeamEnd(found: Found): SeamEnd {
  return record(found, ({ take }) => ({ piece: take('piece', text), edge: take('edge', text) }));
}

function readVersion(found: Found): Version {
  return record(found, ({ take }) => ({
    id: take('id', text),
    name: take('name', text),
    note: take('note', text),
    made: take('made', text),
    recipes: take('recipes', byId(readRecipe)),
  }));
}
