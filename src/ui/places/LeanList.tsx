import type { FanStep } from '../../pattern/recipe';
import { LiveAngle } from '../controls/LiveAngle';
import type { OnTable } from '../onTable';
import { useActions, useCommands } from '../storeContext';

/** Lean of the fullness line and of every slash, for volume that should swing to one side. */
export function LeanList({ table, fan }: { readonly table: OnTable; readonly fan: FanStep }) {
  const commands = useCommands();
  const { select } = useActions();
  const piece = table.block.id;
  const { fullness } = fan;
  return (
    <>
      {fullness !== null && (
        <LiveAngle
          label="Fullness line, centre end raised"
          value={fullness.tilt}
          onFocus={() => select({ kind: 'fullness-line', piece })}
          set={(tilt, mode) => commands.setFullnessLine(piece, { ...fullness, tilt }, mode)}
        />
      )}
      <div className="pair">
        {fan.slashes.map((slash, index) => (
          <LiveAngle
            key={slash.id}
            label={`Slash ${index + 1}, hem to the side`}
            value={slash.tilt}
            onFocus={() => select({ kind: 'slash', piece, slash: slash.id })}
            set={(tilt, mode) => commands.tiltSlash(piece, slash.id, tilt, mode)}
          />
        ))}
      </div>
    </>
  );
}
