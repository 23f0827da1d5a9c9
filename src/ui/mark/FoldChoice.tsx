import { useId } from 'react';
import { straightForFold } from '../../exchange/edgeNaming';
import { pathLength } from '../../geometry/path';
import type { BlockPiece } from '../../pattern/garment';
import type { Piece } from '../../pattern/piece';
import { useCommands } from '../storeContext';

/** Which edge lies on the fold of the fabric. One that is straight but for the hand that traced it is drawn straight. */
export function FoldChoice({ block }: { readonly block: BlockPiece }) {
  const id = useId();
  const { changeBlock } = useCommands();
  const straight = block.edges.filter(({ path }) => straightForFold(path) !== null);
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
          changeBlock('Mark the fold', block.id, (piece) => layOnFold(piece, fold));
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

function layOnFold<P extends Piece>(piece: P, fold: string | null): P {
  const edge = piece.edges.find(({ id }) => id === fold);
  const path = edge === undefined ? null : straightForFold(edge.path);
  const straight = edge?.path.length === 1 && edge.path[0]?.kind === 'line';
  if (path === null || straight) return { ...piece, fold };
  const length = pathLength(path);
  return {
    ...piece,
    fold,
    edges: piece.edges.map((other) => (other.id === fold ? { ...other, path } : other)),
    // The straight way is a hair shorter.
    notches: piece.notches.map((notch) =>
      notch.edge === fold ? { ...notch, distance: Math.min(notch.distance, length) } : notch,
    ),
  };
}
