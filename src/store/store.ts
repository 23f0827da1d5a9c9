import { createStore } from 'zustand/vanilla';
import { type Failure, fail, type Outcome, succeed } from '../geometry/outcome';
import { type History, record, type Step, stepBack, stepForward } from '../history/history';
import { sameData } from '../history/sameData';
import { reportVersion } from '../measure/report';
import type { Garment } from '../pattern/garment';
import { findBlock, findVersion } from '../pattern/lookUp';
import { validateChange, validateGarment } from '../pattern/validate';
import type { AppStore } from './appCommands';
import type { AppActions, AppState, Change } from './appState';
import { createCommands } from './commands';
import { follow } from './follow';
import type { Report } from './shown';

export interface AppStoreOptions {
  /** Works and measures a version; the real one unless a test stands in. */
  readonly report?: Report;
  /** ISO 8601 date-time, for the date of a version. */
  readonly now?: () => string;
  readonly newId?: () => string;
}

interface Taken {
  readonly step: Step<Garment>;
  readonly history: History<Garment>;
}

const firstScreen: AppState = {
  garment: null,
  preview: null,
  past: [],
  future: [],
  place: 'bring-in',
  tool: 'hand',
  activePiece: null,
  activeVersion: null,
  ghost: null,
  selection: null,
  camera: { centre: { x: 0, y: 0 }, pixelsPerMm: 1 },
  notice: null,
  hint: null,
  saved: 'saved',
};

/**
 * The app's one store. Only `commit` alters the document, and only when the result keeps every rule and can be worked;
 * undo and redo move along the commits. Camera, selection, place and tool are never undone.
 */
export function createAppStore(options: AppStoreOptions = {}): AppStore {
  const report = options.report ?? reportVersion;
  const store = createStore<AppState>()(() => firstScreen);
  const { getState, setState } = store;

  /** The document a change makes of the committed one, or why it may not be made. */
  function attempt(change: Change): Outcome<Garment> {
    const before = getState().garment;
    if (!before) return fail('nothing-open', 'Open a garment first.');
    const answer = change(before);
    const made = 'ok' in answer ? answer : succeed(answer);
    if (!made.ok) return made;
    const after = made.value;
    if (after === before || sameData(before, after)) return succeed(before);
    const broken = [...validateChange(before, after), ...validateGarment(after)][0];
    if (broken) return fail(broken.code, broken.sentence);
    return workChanged(report, before, after);
  }

  function refuse(failure: Failure): Failure {
    const { notice } = getState();
    if (notice?.tone !== 'refused' || notice.sentence !== failure.sentence) {
      setState({ notice: { tone: 'refused', sentence: failure.sentence } });
    }
    return failure;
  }

  function move(taken: Taken | null, direction: 'before' | 'after', word: string): void {
    if (!taken) return;
    const { garment } = getState();
    const document = taken.step[direction];
    setState({
      garment: document,
      preview: null,
      ...taken.history,
      ...follow(getState(), garment, document),
      notice: { tone: 'done', sentence: `${word}: ${taken.step.label}.` },
      hint: null,
    });
  }

  const actions: AppActions = {
    commit(label, change) {
      const made = attempt(change);
      if (!made.ok) {
        setState({ preview: null });
        return refuse(made);
      }
      const { garment: before, past, future, notice } = getState();
      const after = made.value;
      if (before === null || after === before) {
        setState({ preview: null, notice: notice?.tone === 'refused' ? null : notice });
        return made;
      }
      setState({
        garment: after,
        preview: null,
        ...record({ past, future }, { label, before, after }),
        ...follow(getState(), before, after),
        notice: null,
      });
      return made;
    },
    showPreview(change) {
      const made = attempt(change);
      if (!made.ok) return refuse(made);
      const { garment, notice } = getState();
      setState({
        preview: made.value === garment ? null : made.value,
        notice: notice?.tone === 'refused' ? null : notice,
      });
      return made;
    },
    dropPreview() {
      const { notice } = getState();
      setState({ preview: null, notice: notice?.tone === 'refused' ? null : notice });
    },
    // In the middle of a drag only the live change is taken back: the drag goes on from its press-time document, and
    // would otherwise put back on release what was just undone.
    undo() {
      if (getState().preview !== null) actions.dropPreview();
      else move(stepBack(getState()), 'before', 'Undone');
    },
    redo() {
      if (getState().preview !== null) actions.dropPreview();
      else move(stepForward(getState()), 'after', 'Done again');
    },
    openGarment(garment) {
      const { camera } = getState();
      setState({ ...firstScreen, camera, garment, ...openingAttention(garment) });
      const broken = brokenVersion(report, garment);
      if (broken) setState({ notice: { tone: 'warning', sentence: broken } });
    },
    closeGarment() {
      const { camera } = getState();
      setState({ ...firstScreen, camera });
    },
    goTo: (place) => setState({ place, tool: 'hand', selection: null, preview: null, hint: null }),
    pickTool: (tool) => setState({ tool }),
    pickPiece(piece) {
      const { garment } = getState();
      if (garment && findBlock(garment, piece)) setState({ activePiece: piece, selection: null });
    },
    takeDown(version) {
      const { garment } = getState();
      if (!garment || (version !== null && !findVersion(garment, version))) return;
      const worked = report(garment, version);
      if (worked.ok) setState({ activeVersion: version, selection: null, preview: null });
      else refuse(worked);
    },
    layGhost(version) {
      const { garment } = getState();
      if (!garment || (version !== null && version !== 'block' && !findVersion(garment, version))) return;
      setState({ ghost: version });
    },
    select: (selection) => setState({ selection }),
    look: (camera) => setState({ camera }),
    notify: (notice) => setState({ notice }),
    setHint: (hint) => {
      if (getState().hint !== hint) setState({ hint });
    },
    markSaved: (saved) => {
      if (getState().saved !== saved) setState({ saved });
    },
  };

  const base = Object.assign(store, { actions });
  return Object.assign(base, { commands: createCommands(base, options) });
}

/** Works every version that a change touched; a block that is new or changed is worked too. */
function workChanged(report: Report, before: Garment, after: Garment): Outcome<Garment> {
  if (after.blocks !== before.blocks || after.seamLinks !== before.seamLinks) {
    const block = report(after, null);
    if (!block.ok) return block;
  }
  for (const version of after.versions) {
    const untouched =
      after.blocks === before.blocks && before.versions.some((other) => other.recipes === version.recipes);
    if (untouched) continue;
    const worked = report(after, version.id);
    if (!worked.ok) return worked;
  }
  return succeed(after);
}

/** A freshly opened garment shows its first piece, as the block. */
function openingAttention(garment: Garment): Pick<AppState, 'activePiece' | 'place'> {
  return {
    activePiece: garment.blocks[0]?.id ?? null,
    place: garment.blocks.every((block) => block.locked) && garment.blocks.length > 0 ? 'fan' : 'mark',
  };
}

/** A sentence naming the first version that cannot be worked, if any. */
function brokenVersion(report: Report, garment: Garment): string | null {
  for (const version of garment.versions) {
    const worked = report(garment, version.id);
    if (!worked.ok) return `The version “${version.name}” cannot be shown: ${worked.sentence}`;
  }
  return null;
}
