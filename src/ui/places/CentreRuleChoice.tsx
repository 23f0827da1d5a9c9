import type { CentreRule, FanStep } from '../../pattern/recipe';
import { formatLength } from '../../units/length';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import type { OnTable } from '../onTable';
import { useCommands } from '../storeContext';

/** The strip at the centre line cannot stay on its line and keep every hinge; each way out says what it costs. */
export function CentreRuleChoice({ table, fan }: { readonly table: OnTable; readonly fan: FanStep }) {
  const { setCentreRule } = useCommands();
  const { worked, unit, block } = table;
  const fill = Math.abs(worked?.fanned?.centreFill ?? 0);
  const some = fill > 0.05 ? formatLength(fill, unit) : 'a little';
  return (
    <ChoiceGroup<CentreRule>
      label="The strip at the centre line"
      labelHidden
      shape="list"
      choices={[
        {
          value: 'parallel',
          label: 'stays parallel, gap filled',
          cost: `Centre line straight and on grain. Costs a filled strip of ${some} down the centre.`,
        },
        {
          value: 'slide',
          label: 'slides back to the line',
          cost: `Nothing is filled, but the side hinge tears by ${some}; trueing blends it, with twice the loss.`,
        },
        {
          value: 'corner',
          label: 'keeps its hem corner on the line',
          cost: 'Hinges stay whole. The strip leans a little and the centre line comes out shorter.',
        },
      ]}
      value={fan.centreRule}
      onChoose={(rule) => setCentreRule(block.id, rule)}
    />
  );
}
