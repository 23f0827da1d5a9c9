import { Fragment } from 'react';
import { fail } from '../../geometry/outcome';
import { fanView } from '../../gestures/fanView';
import type { FanStep, Opening } from '../../pattern/recipe';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { LiveLength } from '../controls/LiveLength';
import type { OnTable } from '../onTable';
import { useActions, useCommands } from '../storeContext';
import { OpeningField } from './OpeningField';

type Measure = Opening['measure'];

const measures = [
  { value: 'chord', label: 'straight', cost: 'Straight from corner to corner at the hem.' },
  { value: 'arc', label: 'by arc', cost: 'Along the way the hem end swings; a little more than straight across.' },
  { value: 'angle', label: 'by angle', cost: 'By how far each strip turns about its hinge.' },
] as const;

/** Where each slash stands, from the centre line, and how far it opens. */
export function SlashList({ table, fan }: { readonly table: OnTable; readonly fan: FanStep }) {
  const commands = useCommands();
  const { select } = useActions();
  const { block, worked } = table;
  const piece = block.id;
  const width = worked?.fanned == null ? 0 : fanView(worked.fanned, fan).width;
  return (
    <>
      <div className="slash-rows">
        <span aria-hidden="true" />
        <span aria-hidden="true">From the centre</span>
        <span aria-hidden="true">Opening</span>
        {fan.slashes.map((slash, index) => {
          const name = `Slash ${index + 1}`;
          const pick = () => select({ kind: 'slash', piece, slash: slash.id });
          return (
            <Fragment key={slash.id}>
              <span className="slash-number" aria-hidden="true">
                {index + 1}
              </span>
              <LiveLength
                label={`${name}, from the centre`}
                labelHidden
                value={slash.across * width}
                onFocus={pick}
                set={(length, mode) =>
                  width > 0
                    ? commands.moveSlash(piece, slash.id, length / width, mode)
                    : fail('no-width', 'This piece has no width to place a slash in.')
                }
              />
              <OpeningField label={`${name}, opening`} labelHidden piece={piece} slash={slash} onFocus={pick} />
            </Fragment>
          );
        })}
      </div>
      <ChoiceGroup<Measure>
        label="Measure openings"
        choices={measures}
        value={fan.slashes[0]?.opening.measure ?? 'chord'}
        onChoose={(measure) => commands.setOpeningMeasure(piece, measure)}
      />
    </>
  );
}
