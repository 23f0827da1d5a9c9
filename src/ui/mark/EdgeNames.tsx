import type { BlockPiece } from '../../pattern/garment';
import type { EdgeRole } from '../../pattern/piece';
import { EdgeRow } from '../bringin/EdgeRow';
import { useCommands } from '../storeContext';

/** Names and roles of the edges of a piece that is not locked yet. */
export function EdgeNames({ block }: { readonly block: BlockPiece }) {
  const { changeBlock } = useCommands();
  const change = (edge: string, changed: { readonly name?: string; readonly role?: EdgeRole }) =>
    changeBlock('Name an edge', block.id, (piece) => ({
      ...piece,
      edges: piece.edges.map((other) => (other.id === edge ? { ...other, ...changed } : other)),
    }));
  return (
    <div className="edge-walk">
      {block.edges.map((edge, index) => (
        <EdgeRow
          key={edge.id}
          number={index + 1}
          name={edge.name}
          role={edge.role}
          onChange={(changed) => change(edge.id, changed)}
        />
      ))}
    </div>
  );
}
