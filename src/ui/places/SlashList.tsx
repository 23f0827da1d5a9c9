import { Fragment } from 'react';
import { fail } from '../../geometry/outcome';
import { fanView } from '../../gestures/fanView';
import type { FanStep } from '../../pattern/recipe';
import { LiveLength } from '../controls/LiveLength';
import type { OnTable } from '../onTable';
import { useActions, useCommands } from '../storeContext';
import { chordOf } from './openings';

/** Where each slash stands, from the centre line, and how far it opens. */
export function SlashList({ table, fan }: { readonly table: OnTable; readonly fan: FanStep }) {
  const commands = useCommands();
  const { select } = useActions();
  const { block, worked } = table;
  const piece = block.id;
  const width = worked?.fanned == null ? 0 : fanView(worked.fanned, fan).width;
  return (
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
            <LiveLength
              label={`${name}, opening`}
              labelHidden
              value={chordOf(slash, worked)}
              onFocus={pick}
              set={(length, mode) => commands.setOpening(piece, slash.id, length, mode)}
            />
          </Fragment>
        );
      })}
    </div>
  );
}
