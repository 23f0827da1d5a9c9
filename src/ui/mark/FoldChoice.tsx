import { useId } from 'react';
import type { BlockPiece } from '../../pattern/garment';
import { useCommands } from '../storeContext';

/** Which straight edge lies on the fold of the fabric. */
export function FoldChoice({ block }: { readonly block: BlockPiece }) {
  const id = useId();
  const { changeBlock } = useCommands();
  const straight = block.edges.filter((edge) => edge.path.length === 1 && edge.path[0]?.kind === 'line');
  return (
    <div className="field">
      <label className="field-label" htmlFor={id}>
        On the fold
      </label>
      <select
        id={id}
        className="pick"
        value={block.fold ?? ''}
        onChange={(event) => {
          const fold = event.target.value === '' ? null : event.target.value;
          changeBlock('Mark the fold', block.id, (piece) => ({ ...piece, fold }));
        }}
      >
        <option value="">no edge</option>
        {straight.map((edge) => (
          <option key={edge.id} value={edge.id}>
            {edge.name}
          </option>
        ))}
      </select>
    </div>
  );
}
