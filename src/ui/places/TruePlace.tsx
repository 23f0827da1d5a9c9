import { nameInSentence } from '../../pattern/nameInSentence';
import type { TrueStep } from '../../pattern/recipe';
import { usualTrue } from '../../store/usualSteps';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { CountStepper } from '../controls/CountStepper';
import { Fold } from '../controls/Fold';
import { LiveLength } from '../controls/LiveLength';
import { type OnTable, useOnTable } from '../onTable';
import { useActions, useAppStore, useCommands } from '../storeContext';
import { matchedSentence } from './matchedSentence';
import { partnersOf } from './partners';
import { Tray } from './Tray';

const roundnesses = [
  { value: 'arc', label: 'round', fullness: 2 / 3 },
  { value: 'even', label: 'even', fullness: 0.8 },
  { value: 'soft', label: 'soft ends', fullness: 1 },
] as const;

export function TruePlace() {
  const table = useOnTable();
  const { goTo } = useActions();
  const { setTrue } = useCommands();
  if (table === null) return <Tray next="Bring in a piece first." />;
  if (table.opened === undefined) {
    return (
      <Tray next="Nothing is fanned here yet, so there is nothing to true.">
        <button type="button" className="button button-main button-wide" onClick={() => goTo('fan')}>
          Go to Fan
        </button>
      </Tray>
    );
  }
  if (table.trueing === undefined) {
    return (
      <Tray next={`True ${table.block.name}: one fair hem, square at both ends, and a side seam without a kink.`}>
        <button
          type="button"
          className="button button-main button-wide"
          onClick={() => setTrue(table.block.id, usualTrue(table.unit))}
        >
          True this piece
        </button>
        <p className="tray-note">
          The side seam keeps its length to the hair. Every figure appears on the slip, and each can be changed after.
        </p>
      </Tray>
    );
  }
  return <TrueControls table={table} step={table.trueing} />;
}

function TrueControls({ table, step }: { readonly table: OnTable; readonly step: TrueStep }) {
  const { setTrue } = useCommands();
  const piece = table.block.id;
  const { side, hem } = step;
  const setSide = (change: Partial<TrueStep['side']>, mode: 'preview' | 'commit' = 'commit') =>
    setTrue(piece, { ...step, side: { ...side, ...change } }, mode);
  const setHem = (change: Partial<TrueStep['hem']>, mode: 'preview' | 'commit' = 'commit') =>
    setTrue(piece, { ...step, hem: { ...hem, ...change } }, mode);
  const nearest = roundnesses.reduce((best, one) =>
    Math.abs(one.fullness - side.fullness) < Math.abs(best.fullness - side.fullness) ? one : best,
  );
  return (
    <Tray
      ready={partnersOf(table).every(({ matched }) => matched)}
      next="Look along the hem and the side seam; pull a handle or type if they should run differently."
    >
      <MatchPartner table={table} />
      <ChoiceGroup
        label="Hem level"
        choices={[
          {
            value: 'follow-strips',
            label: 'follow the strips',
            cost: 'The hem goes where the strips went; the centre line comes out longer by its drop.',
          },
          {
            value: 'keep-centre-length',
            label: 'keep the centre',
            cost: 'The centre line keeps its first length; the hem is lifted to it.',
          },
        ]}
        value={hem.level}
        onChoose={(level) => setHem({ level })}
      />
      <ChoiceGroup
        label="Hem corners"
        choices={[
          { value: 'square', label: 'square' },
          { value: 'keep', label: 'as they were' },
        ]}
        value={hem.corners}
        onChoose={(corners) => setHem({ corners })}
      />
      <div className="pair">
        <LiveLength
          label="Add at the centre"
          value={hem.drop.centre}
          set={(length, mode) => setHem({ drop: { ...hem.drop, centre: length } }, mode)}
        />
        <LiveLength
          label="Add at the side"
          value={hem.drop.side}
          set={(length, mode) => setHem({ drop: { ...hem.drop, side: length } }, mode)}
        />
      </div>
      <DartEdgeChoice table={table} step={step} />
      <Fold label="Side seam at the hinge">
        <div className="pair">
          <LiveLength
            label="Blend above"
            value={side.up}
            least={0}
            set={(length, mode) => setSide({ up: length }, mode)}
          />
          <LiveLength
            label="Blend below"
            value={side.down}
            least={0}
            set={(length, mode) => setSide({ down: length }, mode)}
          />
        </div>
        <ChoiceGroup
          label="Shape of the blend"
          choices={roundnesses}
          value={nearest.value}
          onChoose={(value) => {
            const chosen = roundnesses.find((one) => one.value === value);
            if (chosen !== undefined) setSide({ fullness: chosen.fullness });
          }}
        />
      </Fold>
      <Fold label="Hem curve by hand">
        <HemHandles table={table} step={step} setHem={setHem} />
        <CountStepper
          label="Spans of the curve"
          value={hem.spans}
          least={1}
          most={3}
          onCommit={(spans) => setHem({ spans: spans === 1 ? 1 : spans === 2 ? 2 : 3 })}
        />
        <p className="tray-note">More spans follow the strips closer; fewer run fairer.</p>
      </Fold>
      <button type="button" className="button button-plain" onClick={() => setTrue(piece, null)}>
        Leave it untrued
      </button>
    </Tray>
  );
}

/** Whether the edges that lost darts are drawn anew; nothing while none did. */
function DartEdgeChoice({ table, step }: { readonly table: OnTable; readonly step: TrueStep }) {
  const { setTrue } = useCommands();
  const { block, worked, opened } = table;
  const edges = new Set(
    (worked?.fanned?.closed?.darts ?? [])
      .filter(({ share }) => share === 1)
      .map(({ dart: id }) => block.darts.find((dart) => dart.id === id)?.edge)
      .filter((edge) => edge !== opened?.side),
  );
  const names = block.edges.filter(({ id }) => edges.has(id)).map(({ name }) => nameInSentence(name));
  if (names.length === 0) return null;
  return (
    <ChoiceGroup
      label={`Where a dart was closed on the ${names.join(' and the ')}`}
      choices={[
        { value: 'smooth', label: 'one smooth line', cost: 'The ends stay. How far it moves is on the slip.' },
        { value: 'keep', label: 'keep the corner', cost: 'The pieces lie as they were cut; smooth it on the print.' },
      ]}
      value={step.dartEdges ?? 'keep'}
      onChoose={(dartEdges) => setTrue(block.id, { ...step, dartEdges })}
    />
  );
}

interface HemHandlesProps {
  readonly table: OnTable;
  readonly step: TrueStep;
  readonly setHem: (
    change: Partial<TrueStep['hem']>,
    mode?: 'preview' | 'commit',
  ) => ReturnType<ReturnType<typeof useCommands>['setTrue']>;
}

function HemHandles({ table, step, setHem }: HemHandlesProps) {
  const { handles } = step.hem;
  const fitted = table.worked?.trued?.handles;
  const free = handles.centre === null && handles.side === null;
  return (
    <>
      <div className="pair">
        <LiveLength
          label="Handle at the centre"
          value={handles.centre ?? fitted?.centre ?? 0}
          least={1}
          set={(length, mode) => setHem({ handles: { ...handles, centre: length } }, mode)}
        />
        <LiveLength
          label="Handle at the side"
          value={handles.side ?? fitted?.side ?? 0}
          least={1}
          set={(length, mode) => setHem({ handles: { ...handles, side: length } }, mode)}
        />
      </div>
      {free ? (
        <p className="tray-note">The handles are fitted to the strips; type or drag to set them yourself.</p>
      ) : (
        <button type="button" className="button" onClick={() => setHem({ handles: { centre: null, side: null } })}>
          Let the fit choose again
        </button>
      )}
    </>
  );
}

/** One command for the partner piece: same amounts, then the seams are walked on the slip. */
function MatchPartner({ table }: { readonly table: OnTable }) {
  const store = useAppStore();
  const { matchPartner } = useCommands();
  const { notify } = useActions();
  const partners = partnersOf(table);
  if (partners.length === 0) return null;
  const names = partners.map(({ name }) => nameInSentence(name)).join(' and ');
  const matched = partners.every(({ matched }) => matched);
  return (
    <div className="tray-match">
      <button
        type="button"
        className={`button button-wide ${matched ? '' : 'button-main'}`}
        onClick={() => {
          if (matchPartner(table.block.id).ok)
            notify({ tone: 'done', sentence: matchedSentence(store.getState(), table) });
        }}
      >
        {matched ? `Match the ${names} again` : `Match the ${names}`}
      </button>
      <p className="tray-note">
        {matched
          ? 'Matched: the slip walks the seams of both pieces.'
          : `Does the same to the ${names}, same openings, same distance down the side seam.`}
      </p>
    </div>
  );
}
