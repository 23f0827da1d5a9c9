import { useId, useState } from 'react';
import { pathLength } from '../../geometry/path';
import { addNotch } from '../../gestures/placeMark';
import type { BlockPiece } from '../../pattern/garment';
import { findEdge } from '../../pattern/lookUp';
import { nameInSentence } from '../../pattern/nameInSentence';
import type { Notch } from '../../pattern/piece';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { CloseSign } from '../controls/icons';
import { LiveLength } from '../controls/LiveLength';
import type { OnTable } from '../onTable';
import { useActions, useCommands } from '../storeContext';

/** Every notch with its edge, how far along it sits, and how many nicks it has. */
export function NotchList({ table }: { readonly table: OnTable }) {
  const id = useId();
  const commands = useCommands();
  const { block } = table;
  const [edge, setEdge] = useState(block.edges[0]?.id ?? '');
  const chosen = findEdge(block, edge);
  return (
    <>
      {block.notches.map((notch, index) => (
        <NotchRow key={notch.id} block={block} notch={notch} number={index + 1} />
      ))}
      <div className="field">
        <label className="field-label" htmlFor={id}>
          A further notch, on the edge
        </label>
        <div className="pair">
          <select id={id} className="pick" value={edge} onChange={(event) => setEdge(event.target.value)}>
            {block.edges.map((candidate) => (
              <option key={candidate.id} value={candidate.id}>
                {candidate.name}
              </option>
            ))}
          </select>
          <button
            type="button"
            className="button"
            disabled={chosen === undefined}
            onClick={() => {
              if (chosen !== undefined)
                addNotch(block.id, chosen.id, pathLength(chosen.path) / 2, 'single')(commands, 'commit');
            }}
          >
            Set halfway
          </button>
        </div>
      </div>
    </>
  );
}

interface NotchRowProps {
  readonly block: BlockPiece;
  readonly notch: Notch;
  readonly number: number;
}

function NotchRow({ block, notch, number }: NotchRowProps) {
  const { changeBlock } = useCommands();
  const { select } = useActions();
  const edge = findEdge(block, notch.edge);
  const change = (label: string, changed: Partial<Notch>, mode: 'preview' | 'commit' = 'commit') =>
    changeBlock(
      label,
      block.id,
      (piece) => ({
        ...piece,
        notches: piece.notches.map((other) => (other.id === notch.id ? { ...other, ...changed } : other)),
      }),
      mode,
    );
  const which = `${number} on the ${nameInSentence(edge?.name ?? 'edge')}`;
  return (
    <div className="notch-row">
      <LiveLength
        label={`Notch ${which}, along it`}
        value={notch.distance}
        least={0}
        most={edge === undefined ? notch.distance : pathLength(edge.path)}
        onFocus={() => select({ kind: 'notch', piece: block.id, notch: notch.id })}
        set={(distance, mode) => change('Move a notch', { distance }, mode)}
      />
      <ChoiceGroup
        label={`Notch ${which}: nicks`}
        labelHidden
        choices={[
          { value: 'single', label: 'single' },
          { value: 'double', label: 'double' },
        ]}
        value={notch.style}
        onChoose={(style) => change('Change a notch', { style })}
      />
      <button
        type="button"
        className="icon-button"
        aria-label={`Take away notch ${which}`}
        onClick={() =>
          changeBlock('Take away a notch', block.id, (piece) => ({
            ...piece,
            notches: piece.notches.filter((other) => other.id !== notch.id),
          }))
        }
      >
        <CloseSign />
      </button>
    </div>
  );
}
