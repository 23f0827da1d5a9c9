import { type Failure, fail, type Outcome, succeed } from '../geometry/outcome';
import type { BlockPiece, Garment, LengthUnit, SeamLink, Version } from './garment';
import { findBlock, findVersion, recipeOf } from './lookUp';
import type { RecipeStep } from './recipe';

/** The order in which steps are worked. */
const stepOrder: readonly RecipeStep['kind'][] = ['close-dart', 'fan', 'true', 'finish'];

/** Renames the garment; a blank name is refused. */
export function renameGarment(garment: Garment, name: string): Outcome<Garment> {
  const trimmed = name.trim();
  if (trimmed === '') return blankName;
  return succeed(trimmed === garment.name ? garment : { ...garment, name: trimmed });
}

export function setUnit(garment: Garment, unit: LengthUnit): Garment {
  return unit === garment.unit ? garment : { ...garment, unit };
}

/** Hangs a further block piece on the rack. */
export function addBlock(garment: Garment, block: BlockPiece): Outcome<Garment> {
  if (findBlock(garment, block.id)) return fail('piece-twice', `“${block.name}” hangs on the rack already.`);
  return succeed({ ...garment, blocks: [...garment.blocks, block] });
}

/** Redraws a block piece that is not locked. A locked one is refused: the original never changes. */
export function replaceUnlockedBlock(garment: Garment, block: BlockPiece): Outcome<Garment> {
  const present = findBlock(garment, block.id);
  if (!present) return unknownPiece;
  if (present.locked) {
    return fail(
      'block-locked',
      `“${present.name}” is locked, so the original stays as it is. Make a version and change that.`,
    );
  }
  if (present === block) return succeed(garment);
  return succeed({ ...garment, blocks: garment.blocks.map((other) => (other.id === block.id ? block : other)) });
}

/** Locks a block piece for good. Locking twice changes nothing. */
export function lockBlock(garment: Garment, piece: string): Outcome<Garment> {
  const present = findBlock(garment, piece);
  if (!present) return unknownPiece;
  if (present.locked) return succeed(garment);
  const locked = { ...present, locked: true };
  return succeed({ ...garment, blocks: garment.blocks.map((block) => (block.id === piece ? locked : block)) });
}

/** Notes that two edges are sewn together. Linking the same two edges again replaces the link. */
export function linkSeam(garment: Garment, link: SeamLink): Outcome<Garment> {
  const others = garment.seamLinks.filter((other) => other.id !== link.id && !sameSeam(other, link));
  return succeed({ ...garment, seamLinks: [...others, link] });
}

export function unlinkSeam(garment: Garment, link: string): Outcome<Garment> {
  if (!garment.seamLinks.some((other) => other.id === link)) {
    return fail('seam-unknown', 'These edges are not noted as sewn together.');
  }
  return succeed({ ...garment, seamLinks: garment.seamLinks.filter((other) => other.id !== link) });
}

/** Hangs a new version on the rack, after the others. Its id must be new. */
export function addVersion(garment: Garment, version: Version): Outcome<Garment> {
  if (findVersion(garment, version.id)) return fail('version-twice', `“${version.name}” hangs on the rack already.`);
  if (version.name.trim() === '') return blankName;
  return succeed({ ...garment, versions: [...garment.versions, { ...version, name: version.name.trim() }] });
}

export function renameVersion(garment: Garment, version: string, name: string): Outcome<Garment> {
  const trimmed = name.trim();
  if (trimmed === '') return blankName;
  return changeVersion(garment, version, (present) =>
    present.name === trimmed ? present : { ...present, name: trimmed },
  );
}

export function noteVersion(garment: Garment, version: string, note: string): Outcome<Garment> {
  return changeVersion(garment, version, (present) => (present.note === note ? present : { ...present, note }));
}

/** A copy of a version, hung right after it, with the id, name and date given by the caller. */
export function duplicateVersion(
  garment: Garment,
  version: string,
  copy: Pick<Version, 'id' | 'name' | 'made'>,
): Outcome<Garment> {
  const present = findVersion(garment, version);
  if (!present) return unknownVersion;
  const added = addVersion(garment, { ...present, ...copy });
  if (!added.ok) return added;
  const versions = garment.versions.flatMap((other) =>
    other === present ? [other, added.value.versions.at(-1)!] : [other],
  );
  return succeed({ ...garment, versions });
}

export function deleteVersion(garment: Garment, version: string): Outcome<Garment> {
  if (!findVersion(garment, version)) return unknownVersion;
  return succeed({ ...garment, versions: garment.versions.filter((other) => other.id !== version) });
}

/** Puts a step into a piece's recipe, in working order, in place of the one of the same kind (and dart). */
export function withStep(garment: Garment, version: string, piece: string, step: RecipeStep): Outcome<Garment> {
  const block = findBlock(garment, piece);
  if (!block) return unknownPiece;
  if (!block.locked)
    return fail('block-unlocked', `Lock “${block.name}” first; a version is always made from a locked original.`);
  const recipe = recipeOf(garment, version, piece);
  if (recipe.includes(step)) return succeed(garment);
  const others = recipe.filter((other) => !sameTurn(other, step));
  const sorted = [...others, step].sort((a, b) => stepOrder.indexOf(a.kind) - stepOrder.indexOf(b.kind));
  return changeVersion(garment, version, (present) => ({
    ...present,
    recipes: { ...present.recipes, [piece]: sorted },
  }));
}

/** Takes a step out of a piece's recipe; one that is not there changes nothing. */
export function withoutStep(
  garment: Garment,
  version: string,
  piece: string,
  kind: RecipeStep['kind'],
): Outcome<Garment> {
  if (!findBlock(garment, piece)) return unknownPiece;
  return withoutSteps(garment, version, piece, (step) => step.kind === kind);
}

/** Leaves a dart open again; one that is not closed changes nothing. */
export function withoutClosing(garment: Garment, version: string, piece: string, dart: string): Outcome<Garment> {
  if (!findBlock(garment, piece)) return unknownPiece;
  return withoutSteps(garment, version, piece, (step) => step.kind === 'close-dart' && step.dart === dart);
}

function withoutSteps(
  garment: Garment,
  version: string,
  piece: string,
  goes: (step: RecipeStep) => boolean,
): Outcome<Garment> {
  const recipe = recipeOf(garment, version, piece);
  if (!recipe.some(goes)) return findVersion(garment, version) ? succeed(garment) : unknownVersion;
  const remaining = recipe.filter((step) => !goes(step));
  return changeVersion(garment, version, (present) => {
    const { [piece]: _, ...others } = present.recipes;
    return { ...present, recipes: remaining.length === 0 ? others : { ...others, [piece]: remaining } };
  });
}

/** Whether two steps cannot stand in one recipe: of one kind, or closing one dart. */
function sameTurn(a: RecipeStep, b: RecipeStep): boolean {
  if (a.kind === 'close-dart' && b.kind === 'close-dart') return a.dart === b.dart;
  return a.kind === b.kind;
}

function changeVersion(garment: Garment, version: string, change: (present: Version) => Version): Outcome<Garment> {
  const present = findVersion(garment, version);
  if (!present) return unknownVersion;
  const changed = change(present);
  if (changed === present) return succeed(garment);
  return succeed({ ...garment, versions: garment.versions.map((other) => (other === present ? changed : other)) });
}

function sameSeam(a: SeamLink, b: SeamLink): boolean {
  const ends = (link: SeamLink) =>
    [`${link.first.piece}\n${link.first.edge}`, `${link.second.piece}\n${link.second.edge}`].sort();
  return ends(a).join('\n\n') === ends(b).join('\n\n');
}

const unknownPiece: Failure = fail('piece-unknown', 'This piece is not part of the garment any more.');
const unknownVersion: Failure = fail('version-unknown', 'This version is not on the rack any more.');
const blankName: Failure = fail('name-blank', 'Give it a name first.');
