import { openTogether } from '../../gestures/openingDrag';
import { evenSlashes } from '../../operations/fan';
import { findEdge } from '../../pattern/lookUp';
import { nameInSentence } from '../../pattern/nameInSentence';
import type { FanStep } from '../../pattern/recipe';
import { usualFan } from '../../store/usualSteps';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { CountStepper } from '../controls/CountStepper';
import { Fold } from '../controls/Fold';
import { LiveLength } from '../controls/LiveLength';
import { type OnTable, useOnTable } from '../onTable';
import { useActions, useCommands } from '../storeContext';
import { CentreRuleChoice } from './CentreRuleChoice';
import { DartClosing } from './DartClosing';
import { LeanList } from './LeanList';
import { OpeningField } from './OpeningField';
import { SlashList } from './SlashList';
import { Tray } from './Tray';

const mostSlashes = 24;

export function FanPlace() {
  const table = useOnTable();
  if (table === null) return <Tray next="Bring in a piece first; then it can be fanned." />;
  if (table.fan === undefined) return <PlaceFan table={table} />;
  return <FanControls table={table} fan={table.fan} />;
}

/** Nothing is fanned yet: say what will happen, and that the block stays. */
function PlaceFan({ table }: { readonly table: OnTable }) {
  const { fanOf, setFan } = useCommands();
  const { notify } = useActions();
  const { block, version } = table;
  const place = (through: boolean) => {
    const usual = fanOf(block.id);
    // A failure has set its own notice.
    if (!usual.ok) return;
    const steps = through ? throughFans(usual.value) : [usual.value];
    for (const step of steps) {
      const placed = setFan(block.id, step);
      if (!placed.ok) continue;
      const started = version === undefined ? placed.value.versions.at(-1) : undefined;
      if (started !== undefined) {
        notify({ tone: 'done', sentence: `${started.name} hangs on the rack now. The block stays as it was.` });
      }
      return;
    }
  };
  return (
    <Tray
      next={
        version === undefined
          ? 'Place a fan to swing this piece open; it starts a new version, and the block stays as it is.'
          : `Place a fan to swing ${block.name} open in ${version.name}.`
      }
    >
      <button type="button" className="button button-main button-wide" onClick={() => place(false)}>
        Place the fan
      </button>
      <p className="tray-note">
        A fullness line runs square to the centre line and hinges at the side seam. Slash lines run from it to the hem
        and swing open.
      </p>
      <button type="button" className="button button-wide" onClick={() => place(true)}>
        Run the slashes right through
      </button>
      <p className="tray-note">Without a fullness line the slashes hinge at the far edge, as for a flared skirt.</p>
      <DartClosing table={table} />
    </Tray>
  );
}

/** Slashes right through, in the usual number first; in others where a slash of the usual number would cross a dart. */
function throughFans(step: FanStep): readonly FanStep[] {
  const opening = step.slashes[0]?.opening;
  const counts = [step.slashes.length, 3, 5, 2, 1];
  return counts.map((count) => ({
    ...step,
    fullness: null,
    slashes: evenSlashes(count, 0).map((line) => (opening === undefined ? line : { ...line, opening })),
  }));
}

function FanControls({ table, fan }: { readonly table: OnTable; readonly fan: FanStep }) {
  const commands = useCommands();
  const { notify, dropPreview } = useActions();
  const { block, worked } = table;
  const piece = block.id;
  const first = fan.slashes[0];
  const side = nameInSentence(findEdge(block, fan.side)?.name ?? 'side seam');

  const slashThrough = () => {
    if (commands.setFullnessLine(piece, null).ok) return;
    // A dart may stand in the way of these lines and not of a few less or more.
    const steps = throughFans(fan).filter(({ slashes }) => slashes.length !== fan.slashes.length);
    const placed = steps.find((step) => commands.setFan(piece, step).ok);
    if (placed === undefined) return;
    const count = placed.slashes.length;
    notify({
      tone: 'done',
      sentence: `A dart was in the way, so ${count === 1 ? '1 slash line runs' : `${count} slash lines run`} right through now.`,
    });
  };

  return (
    <Tray
      ready
      next={
        fan.fullness === null
          ? 'Drag a slash line or a strip’s hem, or type how far each one opens.'
          : 'Drag the fullness line, a slash line or a strip’s hem, or type it here.'
      }
    >
      <ChoiceGroup
        label="Volume begins"
        choices={[
          { value: 'line', label: 'at a line' },
          { value: 'far', label: 'at the far edge' },
        ]}
        value={fan.fullness === null ? 'far' : 'line'}
        onChoose={(start) => {
          if (start === 'far') slashThrough();
          else {
            const usual = usualFan(block, table.unit);
            const line = usual.ok ? usual.value.fullness : null;
            commands.setFullnessLine(piece, line ?? { downSide: 50, tilt: 0 });
          }
        }}
      />
      {fan.fullness !== null && (
        <LiveLength
          label={`Fullness line, down the ${side}`}
          value={fan.fullness.downSide}
          least={0}
          set={(length, mode) => commands.moveFullnessLine(piece, length, mode)}
        />
      )}
      <div className="pair">
        <CountStepper
          label="Slash lines"
          value={fan.slashes.length}
          least={1}
          most={mostSlashes}
          onPreview={(count) => commands.setSlashCount(piece, count, 'preview')}
          onCommit={(count) => commands.setSlashCount(piece, count)}
          onDrop={dropPreview}
        />
        {first !== undefined && (
          <OpeningField
            label={openTogether(fan) ? 'Opening, each' : 'All (now uneven)'}
            piece={piece}
            slash={first}
            all
          />
        )}
      </div>
      {worked?.sweepAfter != null && (
        <LiveLength
          label="Hem of this piece, wanted"
          value={worked.sweepAfter}
          least={1}
          set={(length, mode) => commands.fanToSweep(piece, length, mode)}
        />
      )}
      {fan.fullness === null && <ThroughControls piece={piece} fan={fan} />}
      <DartClosing table={table} />
      <Fold label="Each slash by itself">
        <SlashList table={table} fan={fan} />
      </Fold>
      {fan.fullness !== null && (
        <Fold label="At the centre line">
          <CentreRuleChoice table={table} fan={fan} />
        </Fold>
      )}
      <Fold label="Lean of the lines">
        <LeanList table={table} fan={fan} />
      </Fold>
      <button type="button" className="button button-plain" onClick={() => commands.setFan(piece, null)}>
        Take the fan away
      </button>
    </Tray>
  );
}

/** Slashes that run right through may open at the far edge too, and half an opening may go to the side. */
function ThroughControls({ piece, fan }: { readonly piece: string; readonly fan: FanStep }) {
  const commands = useCommands();
  const opening = fan.slashes[0]?.opening;
  const far = opening?.measure === 'chord' ? opening.far : 0;
  return (
    <div className="pair">
      <LiveLength
        label="At the far edge, each"
        value={far}
        set={(length, mode) =>
          commands.setFan(
            piece,
            {
              ...fan,
              slashes: fan.slashes.map((slash) =>
                slash.opening.measure === 'chord' ? { ...slash, opening: { ...slash.opening, far: length } } : slash,
              ),
            },
            mode,
          )
        }
      />
      <LiveLength
        label="Added at the side"
        value={fan.sideTurn}
        set={(length, mode) => commands.setSideTurn(piece, length, mode)}
      />
    </div>
  );
}
