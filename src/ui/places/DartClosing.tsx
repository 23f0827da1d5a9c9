import { pathLength } from '../../geometry/path';
import { distance } from '../../geometry/point';
import { type DartReach, dartReach, openingOfShare, shareOfOpening } from '../../operations/closeDart';
import { closingsOf } from '../../pattern/closings';
import { findEdge, recipeOf } from '../../pattern/lookUp';
import { nameInSentence } from '../../pattern/nameInSentence';
import type { Dart } from '../../pattern/piece';
import type { CloseDartStep } from '../../pattern/recipe';
import { closingOf } from '../../store/dartCommands';
import { formatLength } from '../../units/length';
import { LiveLength } from '../controls/LiveLength';
import { LiveShare } from '../controls/LiveShare';
import type { OnTable } from '../onTable';
import { useActions, useCommands } from '../storeContext';

/** The darts of the piece, each to be closed into the hem: its width becomes flare there. Nothing without darts. */
export function DartClosing({ table }: { readonly table: OnTable }) {
  const { block } = table;
  if (block.darts.length === 0) return null;
  return (
    <fieldset className="choice-group">
      <legend className="field-label">Close darts into the hem</legend>
      {block.darts.map((dart, index) => (
        <DartRow key={dart.id} table={table} dart={dart} number={index + 1} />
      ))}
    </fieldset>
  );
}

interface DartRowProps {
  readonly table: OnTable;
  readonly dart: Dart;
  readonly number: number;
}

function DartRow({ table, dart, number }: DartRowProps) {
  const commands = useCommands();
  const { garment, version, block, unit } = table;
  const edge = nameInSentence(findEdge(block, dart.edge)?.name ?? 'edge');
  const which = `Dart ${number} on the ${edge}`;
  const closing = closingOf(garment, version?.id ?? null, block.id, dart.id);
  const reach = closing.ok ? dartReach(block, closing.value) : closing;
  const closed = closingsOf(recipeOf(garment, version?.id ?? null, block.id)).some((step) => step.dart === dart.id);
  if (!closing.ok || !reach.ok) return null;
  const most = openingOfShare(reach.value, 1);
  return (
    <div className="field">
      <p>
        {which}, {formatLength(distance(...dart.legs), unit)} wide
      </p>
      {closed ? (
        <ClosedDartFields table={table} dart={dart} number={number} step={closing.value} reach={reach.value} />
      ) : (
        <button type="button" className="button button-wide" onClick={() => commands.closeDart(block.id, dart.id, 1)}>
          Close dart {number}, {formatLength(most, unit)} at the hem
        </button>
      )}
    </div>
  );
}

interface ClosedDartFieldsProps {
  readonly table: OnTable;
  readonly dart: Dart;
  readonly number: number;
  readonly step: CloseDartStep;
  readonly reach: DartReach & { readonly foot: number };
}

/** How much of the dart is closed, typed as a share of it or as what it opens at the hem, and where its slash starts. */
function ClosedDartFields({ table: { block }, dart, number, step, reach }: ClosedDartFieldsProps) {
  const commands = useCommands();
  const { select } = useActions();
  const pick = () => select({ kind: 'dart-opening', piece: block.id, dart: dart.id });
  const hem = pathLength(findEdge(block, step.hem)?.path ?? []);
  return (
    <>
      <div className="pair">
        <LiveShare
          label={`Dart ${number}, closed`}
          value={step.share}
          onFocus={pick}
          set={(share, mode) => commands.closeDart(block.id, dart.id, share, mode)}
        />
        <LiveLength
          label={`Dart ${number}, at the hem`}
          value={openingOfShare(reach, step.share)}
          least={0}
          most={openingOfShare(reach, 1)}
          onFocus={pick}
          set={(opening, mode) => commands.closeDart(block.id, dart.id, shareOfOpening(reach, opening), mode)}
        />
      </div>
      {step.foot !== null && (
        <LiveLength
          label={`Dart ${number}, its slash from the centre line`}
          value={step.foot * hem}
          least={0}
          most={hem}
          set={(along, mode) => commands.setDartFoot(block.id, dart.id, along / hem, mode)}
        />
      )}
      <div className="pair">
        <button
          type="button"
          className="button button-plain"
          onClick={() => commands.setDartFoot(block.id, dart.id, step.foot === null ? reach.foot : null)}
        >
          {step.foot === null ? 'Start the slash elsewhere' : 'Slash straight down'}
        </button>
        <button type="button" className="button button-plain" onClick={() => commands.closeDart(block.id, dart.id, 0)}>
          Leave dart {number} open
        </button>
      </div>
    </>
  );
}
