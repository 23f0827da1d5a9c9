import { fail, type Outcome, succeed } from '../geometry/outcome';
import { closingsOf, fanOrStill } from '../pattern/closings';
import * as edits from '../pattern/edits';
import type { Garment } from '../pattern/garment';
import { findBlock, recipeOf } from '../pattern/lookUp';
import type { CloseDartStep } from '../pattern/recipe';
import type { AppCommands, AppStore } from './appCommands';
import type { CommandTools } from './commandTools';
import { usualFan } from './usualSteps';

type DartCommands = Pick<AppCommands, 'closeDart' | 'setDartFoot'>;

/** The commands that close darts into the hem. With the block on the table they start a version, as a fan does. */
export function createDartCommands(store: Omit<AppStore, 'commands'>, tools: CommandTools): DartCommands {
  return {
    closeDart(piece, dart, share, mode) {
      if (share === 0) {
        // With the block on the table nothing is closed, and no version is started for it.
        if (store.getState().activeVersion === null)
          return tools.run('Leave the dart open', (garment) => garment, mode);
        return tools.runOnVersion(
          'Leave the dart open',
          (garment, version) => edits.withoutClosing(garment, version, piece, dart),
          mode,
        );
      }
      const label = share === 1 ? 'Close a dart into the hem' : `Close ${Math.round(100 * share)} % of a dart`;
      return tools.runOnVersion(
        label,
        (garment, version) => changeClosing(garment, version, piece, dart, (step) => ({ ...step, share })),
        mode,
      );
    },
    setDartFoot: (piece, dart, foot, mode) =>
      tools.runOnVersion(
        'Move the slash to the dart',
        (garment, version) => changeClosing(garment, version, piece, dart, (step) => ({ ...step, foot })),
        mode,
      ),
  };
}

function changeClosing(
  garment: Garment,
  version: string,
  piece: string,
  dart: string,
  change: (step: CloseDartStep) => CloseDartStep,
): Outcome<Garment> {
  const present = closingOf(garment, version, piece, dart);
  return present.ok ? edits.withStep(garment, version, piece, change(present.value)) : present;
}

/** How a dart is closed, or how it would be: all of it, slashed straight down to the hem. */
export function closingOf(
  garment: Garment,
  version: string | null,
  piece: string,
  dart: string,
): Outcome<CloseDartStep> {
  const block = findBlock(garment, piece);
  if (block === undefined) return fail('piece-unknown', 'This piece is not part of the garment any more.');
  const recipe = recipeOf(garment, version, piece);
  const present = closingsOf(recipe).find((step) => step.dart === dart);
  if (present !== undefined) return succeed(present);
  const opened = fanOrStill(recipe);
  const edges = opened === undefined ? usualFan(block, garment.unit) : succeed(opened);
  if (!edges.ok) return edges;
  const { centre, hem, side } = edges.value;
  return succeed({ kind: 'close-dart', dart, centre, hem, side, share: 1, foot: null });
}
