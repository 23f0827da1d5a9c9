import { useMemo, useState } from 'react';
import { reportVersion } from '../../measure/report';
import type { Garment, Version } from '../../pattern/garment';
import { formatLength } from '../../units/length';
import { GhostSign, MoreSign, PlusSign } from '../controls/icons';
import { Menu, type MenuItem } from '../controls/Menu';
import { useActions, useApp, useCommands, useShown } from '../storeContext';
import { type Hanging, hangUp, rackScale } from './hangUp';
import { NameSheet } from './NameSheet';
import { RackOutline } from './RackOutline';
import { SaveAsSheet } from './SaveAsSheet';
import './rack.css';

/** The ghost of the block goes by this name in the store. */
const blockGhost = 'block';

/** The block first, its versions beside it: take one down to work on it, lay any other under it. */
export function Rack() {
  const garment = useShown()?.garment ?? null;
  if (garment === null) return null;
  if (garment.blocks.length === 0) {
    return <p className="rack-rail rack-bare quiet">The rack is bare; the first piece you bring in hangs here.</p>;
  }
  return <Rail garment={garment} />;
}

function Rail({ garment }: { readonly garment: Garment }) {
  const active = useApp((state) => state.activeVersion);
  const [saving, setSaving] = useState(false);
  const { startVersion } = useCommands();
  const hangings = useMemo(() => {
    const ids = [null, ...garment.versions.map((version) => version.id)];
    return ids.flatMap((id) => {
      const report = reportVersion(garment, id);
      return report.ok ? [hangUp(id, report.value)] : [];
    });
  }, [garment]);
  const scale = rackScale(hangings);
  return (
    <section className="rack" aria-label="The rack: block and versions">
      <ol className="rack-rail">
        {hangings.map((hanging) => (
          <Peg
            key={hanging.version ?? blockGhost}
            hanging={hanging}
            scale={scale}
            garment={garment}
            version={garment.versions.find((version) => version.id === hanging.version)}
          />
        ))}
        <li className="rack-peg rack-new">
          <button type="button" className="rack-add" onClick={() => startVersion()}>
            <PlusSign />
            New version
          </button>
          {active !== null && (
            <button type="button" className="rack-add" onClick={() => setSaving(true)}>
              <PlusSign />
              Save as…
            </button>
          )}
          {saving && <SaveAsSheet onClose={() => setSaving(false)} />}
        </li>
      </ol>
    </section>
  );
}

interface PegProps {
  readonly hanging: Hanging;
  readonly scale: number;
  readonly garment: Garment;
  readonly version: Version | undefined;
}

function Peg({ hanging, scale, garment, version }: PegProps) {
  const active = useApp((state) => state.activeVersion);
  const ghost = useApp((state) => state.ghost);
  const { takeDown, layGhost, notify } = useActions();
  const { duplicateVersion, deleteVersion, startVersion } = useCommands();
  const [naming, setNaming] = useState(false);

  const name = version?.name ?? 'Block';
  const ghostId = version?.id ?? blockGhost;
  const down = hanging.version === active;
  const ghosted = ghost === ghostId;
  const sweep = hanging.sweep === null ? 'no hem' : formatLength(hanging.sweep, garment.unit);
  // What is seen comes first and in one piece, so that whoever speaks to the page can say what they read.
  const spoken = hanging.sweep === null ? `${name}, no hem` : `${name}, ${sweep} hem sweep`;
  const remove = () => {
    if (version !== undefined && deleteVersion(version.id).ok) {
      notify({ tone: 'done', sentence: `“${version.name}” is off the rack; undo hangs it back.` });
    }
  };
  const items: readonly MenuItem[] =
    version === undefined
      ? [{ label: 'New version from the block', onPick: () => startVersion() }]
      : [
          { label: 'Name and note…', onPick: () => setNaming(true) },
          { label: 'Duplicate', onPick: () => duplicateVersion(version.id) },
          { label: 'Delete', onPick: remove, parted: true },
        ];

  return (
    <li className={`rack-peg ${down ? 'rack-peg-down' : ''}`}>
      <button
        type="button"
        className="rack-take"
        aria-pressed={down}
        aria-label={`${spoken}. ${down ? 'On the table' : 'Take down'}`}
        onClick={() => takeDown(hanging.version)}
      >
        <span className="rack-figure">
          <RackOutline pieces={hanging.pieces} scale={scale} />
        </span>
        <span className="rack-name">{name}</span> <span className="rack-sweep">{sweep}</span>
      </button>
      <div className="rack-tools">
        <button
          type="button"
          className="icon-button"
          aria-pressed={ghosted}
          aria-label={`Lay ${name} under the piece as a ghost`}
          title={`Lay ${name} under the piece as a ghost`}
          disabled={down && !ghosted}
          onClick={() => layGhost(ghosted ? null : ghostId)}
        >
          <GhostSign />
        </button>
        <Menu className="icon-button" label={`More for ${name}`} items={items}>
          <MoreSign />
        </Menu>
      </div>
      {naming && version !== undefined && <NameSheet version={version} onClose={() => setNaming(false)} />}
    </li>
  );
}
