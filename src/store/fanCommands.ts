import { fail, type Outcome, succeed } from '../geometry/outcome';
import { openingsForSweep } from '../measure/targetSweep';
import { fanClosed } from '../operations/fanClosed';
import { closingsOf } from '../pattern/closings';
import * as edits from '../pattern/edits';
import type { Garment } from '../pattern/garment';
import { findBlock, findStep, recipeOf } from '../pattern/lookUp';
import type { FanStep, RecipeStep, SlashLine } from '../pattern/recipe';
import { formatAngle } from '../units/angle';
import { formatLength } from '../units/length';
import type { AppCommands, AppStore, Mode } from './appCommands';
import type { CommandTools } from './commandTools';
import { measuredBy, openedBy, withFullness, withSlash, withSlashCount } from './fanChanges';
import { shownVersion } from './shown';
import { usualFan } from './usualSteps';

type FanCommands = Pick<
  AppCommands,
  | 'fanOf'
  | 'setFan'
  | 'setSlashCount'
  | 'setOpeningForAll'
  | 'setOpening'
  | 'setTurn'
  | 'setOpeningMeasure'
  | 'moveSlash'
  | 'tiltSlash'
  | 'moveFullnessLine'
  | 'setFullnessLine'
  | 'setCentreRule'
  | 'setSideTurn'
  | 'fanToSweep'
>;

type SetStep = (
  label: string,
  piece: string,
  kind: RecipeStep['kind'],
  step: RecipeStep | null,
  mode?: Mode,
) => Outcome<Garment>;

/** The commands of the Fan place. All of them change the fan step a piece has, or the default one if it has none yet. */
export function createFanCommands(
  store: Omit<AppStore, 'commands'>,
  tools: CommandTools,
  setStep: SetStep,
): FanCommands {
  const { getState } = store;

  function changeFan(
    label: string,
    piece: string,
    change: (fan: FanStep, garment: Garment, version: string) => Outcome<FanStep>,
    mode?: Mode,
  ): Outcome<Garment> {
    return tools.runOnVersion(
      label,
      (garment, version) => {
        const fan = presentFan(garment, version, piece);
        if (!fan.ok) return fan;
        const changed = change(fan.value, garment, version);
        return changed.ok ? edits.withStep(garment, version, piece, changed.value) : changed;
      },
      mode,
    );
  }

  function shown(length: number): string {
    return formatLength(length, getState().garment?.unit ?? 'cm');
  }

  return {
    fanOf(piece) {
      const state = getState();
      const document = state.preview ?? state.garment;
      return document
        ? presentFan(document, shownVersion(state), piece)
        : fail('nothing-open', 'Open a garment first.');
    },
    setFan: (piece, step, mode) => setStep(step ? 'Fan the piece' : 'Take the fan away', piece, 'fan', step, mode),
    setSlashCount(piece, count, mode) {
      const label = count === 1 ? 'One slash line' : `${count} slash lines`;
      return changeFan(label, piece, (fan) => withSlashCount(fan, count), mode);
    },
    setOpeningForAll: (piece, hem, mode) =>
      changeFan(
        `Open every slash line ${shown(hem)}`,
        piece,
        (fan) =>
          succeed({ ...fan, slashes: fan.slashes.map((line) => ({ ...line, opening: openedBy(line.opening, hem) })) }),
        mode,
      ),
    setOpening: (piece, slash, hem, mode) =>
      changeFan(
        `Open a slash line ${shown(hem)}`,
        piece,
        (fan) => withSlash(fan, slash, (line) => ({ ...line, opening: openedBy(line.opening, hem) })),
        mode,
      ),
    setTurn: (piece, slash, angle, mode) =>
      changeFan(
        `Turn ${slash === null ? 'every slash line' : 'a slash line'} ${formatAngle(angle)}`,
        piece,
        (fan) => {
          const turned = (line: SlashLine): SlashLine => ({ ...line, opening: { measure: 'angle', angle } });
          return slash === null ? succeed({ ...fan, slashes: fan.slashes.map(turned) }) : withSlash(fan, slash, turned);
        },
        mode,
      ),
    setOpeningMeasure: (piece, measure, mode) =>
      changeFan(
        'Measure the openings otherwise',
        piece,
        (fan, garment, version) => {
          const block = findBlock(garment, piece);
          if (!block) return unknownPiece;
          const fanned = fanClosed(block, closingsOf(recipeOf(garment, version, piece)), fan);
          return fanned.ok ? measuredBy(fan, fanned.value, measure) : fanned;
        },
        mode,
      ),
    moveSlash: (piece, slash, across, mode) =>
      changeFan('Move a slash line', piece, (fan) => withSlash(fan, slash, (line) => ({ ...line, across })), mode),
    tiltSlash: (piece, slash, tilt, mode) =>
      changeFan('Tilt a slash line', piece, (fan) => withSlash(fan, slash, (line) => ({ ...line, tilt })), mode),
    moveFullnessLine: (piece, downSide, mode) =>
      changeFan(
        `Fullness line ${shown(downSide)} down the side`,
        piece,
        (fan) => succeed(withFullness(fan, { tilt: fan.fullness?.tilt ?? 0, downSide })),
        mode,
      ),
    setFullnessLine: (piece, line, mode) =>
      changeFan(
        line ? 'Set the fullness line' : 'Slash right through',
        piece,
        (fan) => succeed(withFullness(fan, line)),
        mode,
      ),
    setCentreRule: (piece, rule, mode) =>
      changeFan('Change the centre rule', piece, (fan) => succeed({ ...fan, centreRule: rule }), mode),
    setSideTurn: (piece, hem, mode) =>
      changeFan(`Add ${shown(hem)} at the side`, piece, (fan) => succeed({ ...fan, sideTurn: hem }), mode),
    fanToSweep: (piece, target, mode) =>
      changeFan(
        `Fan to a sweep of ${shown(target)}`,
        piece,
        (fan, garment, version) => {
          const block = findBlock(garment, piece);
          return block ? openingsForSweep(block, recipeOf(garment, version, piece), fan, target) : unknownPiece;
        },
        mode,
      ),
  };
}

const unknownPiece = fail('piece-unknown', 'This piece is not part of the garment any more.');

function presentFan(garment: Garment, version: string | null, piece: string): Outcome<FanStep> {
  const block = findBlock(garment, piece);
  if (!block) return unknownPiece;
  const fan = findStep(recipeOf(garment, version, piece), 'fan');
  return fan ? succeed(fan) : usualFan(block, garment.unit);
}
