import type { Outcome } from '../geometry/outcome';
import { fail, succeed } from '../geometry/outcome';
import { matchPartner } from '../operations/matchPartner';
import * as edits from '../pattern/edits';
import type { Garment, LengthUnit } from '../pattern/garment';
import { findBlock, findVersion } from '../pattern/lookUp';
import type { RecipeStep } from '../pattern/recipe';
import type { AppCommands, AppStore, Mode } from './appCommands';
import type { CommandTools } from './commandTools';
import { createDartCommands } from './dartCommands';
import { createFanCommands } from './fanCommands';
import { newId as randomId } from './newId';
import { copyName, nextVersionName } from './versionNames';

export interface CommandOptions {
  readonly now?: () => string;
  readonly newId?: () => string;
}

const unitNames: Readonly<Record<LengthUnit, string>> = { cm: 'centimetres', mm: 'millimetres', in: 'inches' };

/** Builds the commands over a store's actions. */
export function createCommands(store: Omit<AppStore, 'commands'>, options: CommandOptions = {}): AppCommands {
  const { actions, getState } = store;
  const now = options.now ?? (() => new Date().toISOString());
  const newId = options.newId ?? randomId;
  // The version that previews are about to start keeps its id from frame to frame, so that the table sees one version.
  let started = { id: newId(), made: now() };

  /** A version that is about to be started for good is dated now; the previews before it were not. */
  function dateStart(): void {
    started = { ...started, made: now() };
  }

  function withNewVersion(
    garment: Garment,
    name: string,
    edit = (made: Garment, _: string) => succeed(made) as Outcome<Garment>,
  ) {
    if (findVersion(garment, started.id)) started = { id: newId(), made: now() };
    const locked = lockAll(garment);
    if (!locked.ok) return locked;
    const added = edits.addVersion(locked.value, { ...started, name, note: '', recipes: {} });
    return added.ok ? edit(added.value, started.id) : added;
  }

  const tools: CommandTools = {
    run: (label, change, mode = 'commit') =>
      mode === 'preview' ? actions.showPreview(change) : actions.commit(label, change),
    runOnVersion(label, edit, mode = 'commit') {
      const active = getState().activeVersion;
      if (mode === 'commit' && active === null) dateStart();
      return tools.run(
        label,
        (garment) =>
          active === null ? withNewVersion(garment, nextVersionName(garment), edit) : edit(garment, active),
        mode,
      );
    },
    refuse(outcome) {
      if (!outcome.ok) actions.notify({ tone: 'refused', sentence: outcome.sentence });
      return outcome;
    },
  };
  const { run, runOnVersion } = tools;

  /** Puts in, or with null takes out, one step of a piece. With the block on the table there is nothing to take out. */
  function setStep(label: string, piece: string, kind: RecipeStep['kind'], step: RecipeStep | null, mode?: Mode) {
    if (step === null && getState().activeVersion === null) return run(label, (garment) => garment, mode);
    return runOnVersion(
      label,
      (garment, version) =>
        step === null
          ? edits.withoutStep(garment, version, piece, kind)
          : edits.withStep(garment, version, piece, step),
      mode,
    );
  }

  function pieceName(piece: string): string {
    const { garment } = getState();
    return (garment && findBlock(garment, piece)?.name) ?? 'the piece';
  }

  return {
    newGarment(name, unit) {
      actions.openGarment({
        id: newId(),
        name: name.trim() || 'My garment',
        unit,
        blocks: [],
        seamLinks: [],
        versions: [],
      });
    },
    renameGarment: (name) => run('Rename the garment', (garment) => edits.renameGarment(garment, name)),
    setUnit: (unit) => run(`Show lengths in ${unitNames[unit]}`, (garment) => edits.setUnit(garment, unit)),

    addPiece(piece) {
      const made = run(`Bring in ${piece.name}`, (garment) => edits.addBlock(garment, piece));
      if (made.ok) {
        actions.takeDown(null);
        actions.pickPiece(piece.id);
      }
      return made;
    },
    changeBlock: (label, piece, change, mode) =>
      run(
        label,
        (garment) => {
          const block = findBlock(garment, piece);
          return block
            ? edits.replaceUnlockedBlock(garment, change(block))
            : fail('piece-unknown', 'This piece is not part of the garment any more.');
        },
        mode,
      ),
    lockBlocks: () => run('Lock the original', lockAll),
    linkSeams: (first, second, ease = 0) =>
      run('Note a seam', (garment) => edits.linkSeam(garment, { id: newId(), first, second, ease })),
    unlinkSeams: (link) => run('Forget a seam', (garment) => edits.unlinkSeam(garment, link)),

    startVersion(name) {
      dateStart();
      return run('Start a version', (garment) => withNewVersion(garment, name?.trim() || nextVersionName(garment)));
    },
    saveVersionAs(name) {
      const active = getState().activeVersion;
      dateStart();
      const copy = { id: newId(), name, made: now() };
      return run(`Save as ${name.trim()}`, (garment) =>
        active === null ? withNewVersion(garment, name) : edits.duplicateVersion(garment, active, copy),
      );
    },
    renameVersion: (version, name) =>
      run(`Rename to ${name.trim()}`, (garment) => edits.renameVersion(garment, version, name)),
    noteVersion: (version, note) => run('Write a note', (garment) => edits.noteVersion(garment, version, note)),
    duplicateVersion(version) {
      const { garment } = getState();
      const name = garment ? copyName(garment, findVersion(garment, version)?.name ?? '') : '';
      const copy = { id: newId(), name, made: now() };
      return run('Duplicate a version', (document) => edits.duplicateVersion(document, version, copy));
    },
    deleteVersion: (version) => run('Delete a version', (garment) => edits.deleteVersion(garment, version)),

    ...createFanCommands(store, tools, setStep),
    ...createDartCommands(store, tools),

    setTrue: (piece, step, mode) =>
      setStep(step ? `True ${pieceName(piece)}` : `Leave ${pieceName(piece)} untrued`, piece, 'true', step, mode),
    matchPartner(fromPiece) {
      const active = getState().activeVersion;
      if (active === null) {
        return tools.refuse(fail('version-missing', 'Take a version down first; the block has nothing to match.'));
      }
      return run(`Match the partner of ${pieceName(fromPiece)}`, (garment) => matchPartner(garment, active, fromPiece));
    },
    setFinish: (piece, step, mode) =>
      setStep(
        step ? `Add allowances to ${pieceName(piece)}` : `Take allowances off ${pieceName(piece)}`,
        piece,
        'finish',
        step,
        mode,
      ),
  };
}

function lockAll(garment: Garment): Outcome<Garment> {
  let locked: Outcome<Garment> = succeed(garment);
  for (const block of garment.blocks) {
    if (locked.ok) locked = edits.lockBlock(locked.value, block.id);
  }
  return locked;
}
