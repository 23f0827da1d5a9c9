import { findStep, recipeOf } from '../../pattern/lookUp';
import type { FinishStep } from '../../pattern/recipe';
import { usualFinish } from '../../store/usualSteps';
import { Fold } from '../controls/Fold';
import { LiveLength } from '../controls/LiveLength';
import { Tick } from '../controls/Tick';
import { type OnTable, useOnTable } from '../onTable';
import { useAppStore, useCommands } from '../storeContext';
import { Caution } from './Caution';
import { finishPieces } from './finishPieces';
import { LeftBehind } from './LeftBehind';
import { Tray } from './Tray';

export function FinishPlace() {
  const table = useOnTable();
  const store = useAppStore();
  if (table === null) return <Tray next="Bring in a piece first." />;
  const { block, garment, version, finish } = table;
  if (finish === undefined) {
    return (
      <Tray
        next={
          version === undefined
            ? 'Add seam and hem allowances, which starts a new version, or print the block just as it is.'
            : 'Add seam and hem allowances; every piece of the version gets them.'
        }
      >
        <button
          type="button"
          className="button button-main button-wide"
          onClick={() =>
            finishPieces(
              store,
              [block.id, ...garment.blocks.flatMap(({ id }) => (id === block.id ? [] : [id]))],
              usualFinish(table.unit),
            )
          }
        >
          Add allowances
        </button>
      </Tray>
    );
  }
  return <FinishControls table={table} step={finish} />;
}

function FinishControls({ table, step }: { readonly table: OnTable; readonly step: FinishStep }) {
  const store = useAppStore();
  const { setFinish } = useCommands();
  const { block, garment, version } = table;
  const piece = block.id;
  const same = JSON.stringify({ ...step, byEdge: {} });
  const others = garment.blocks.filter(
    (other) =>
      other.id !== piece &&
      version !== undefined &&
      JSON.stringify(findStep(recipeOf(garment, version.id, other.id), 'finish')) !== same,
  );
  return (
    <Tray ready next="Set the allowances and watch the cut line follow, then print.">
      <div className="pair">
        <LiveLength
          label="Seams"
          value={step.seam}
          least={0}
          set={(length, mode) => setFinish(piece, { ...step, seam: length }, mode)}
        />
        <LiveLength
          label="Hem depth"
          value={step.hem}
          least={0}
          set={(length, mode) => setFinish(piece, { ...step, hem: length }, mode)}
        />
      </div>
      <Tick
        label="Mirror the hem ends, so the turned hem lies flat"
        checked={step.mirrorHemEnds}
        onChange={(mirrorHemEnds) => setFinish(piece, { ...step, mirrorHemEnds })}
      />
      <Fold label="Edge by edge">
        {block.edges.map((edge) =>
          edge.id === block.fold ? (
            <p key={edge.id} className="tray-note">
              {edge.name}: on the fold, no allowance
            </p>
          ) : (
            <LiveLength
              key={edge.id}
              label={edge.name}
              value={step.byEdge[edge.id] ?? (edge.role === 'hem' ? step.hem : step.seam)}
              least={0}
              set={(length, mode) => setFinish(piece, { ...step, byEdge: { ...step.byEdge, [edge.id]: length } }, mode)}
            />
          ),
        )}
        {Object.keys(step.byEdge).length > 0 && (
          <button type="button" className="button" onClick={() => setFinish(piece, { ...step, byEdge: {} })}>
            Same on every seam again
          </button>
        )}
      </Fold>
      {others.length > 0 && (
        <button
          type="button"
          className="button button-wide"
          onClick={() => {
            finishPieces(
              store,
              others.map((other) => other.id),
              { ...step, byEdge: {} },
            );
          }}
        >
          Same on {others.map((other) => other.name).join(', ')}
        </button>
      )}
      <button type="button" className="button button-plain" onClick={() => setFinish(piece, null)}>
        Take the allowances away
      </button>
      <LeftBehind garment={garment} version={version?.id ?? null} />
      <Caution>Keep loose hems and wide sleeves away from flames and machines.</Caution>
      <p className="tray-note">
        For a child: no cords at hood or neck, and fullness takes sleepwear out of the tight-fitting rules. Your local
        rules decide.
      </p>
    </Tray>
  );
}
