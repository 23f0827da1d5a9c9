import { useId, useState } from 'react';
import type { BlockPiece } from '../../pattern/garment';
import { useCommands } from '../storeContext';

/** What the piece is called and the size it was drawn in; a blank size is none. */
export function NameAndSize({ block }: { readonly block: BlockPiece }) {
  const { changeBlock } = useCommands();
  return (
    <div className="pair pair-name">
      <Words
        key={`${block.id} name`}
        label="Name of the piece"
        value={block.name}
        onKeep={(name) => {
          if (name !== '') changeBlock('Name the piece', block.id, (piece) => ({ ...piece, name }));
        }}
      />
      <Words
        key={`${block.id} size`}
        label="Size, if any"
        value={block.size ?? ''}
        onKeep={(size) => changeBlock('Say the size', block.id, (piece) => ({ ...piece, size: size || null }))}
      />
    </div>
  );
}

interface WordsProps {
  readonly label: string;
  readonly value: string;
  readonly onKeep: (value: string) => void;
}

/** A line of text, kept when it is left or Enter is pressed; Escape gives it up. */
function Words({ label, value, onKeep }: WordsProps) {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const keep = () => {
    if (typed !== null && typed.trim() !== value) onKeep(typed.trim());
    setTyped(null);
  };
  return (
    <div className="field">
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      <input
        id={id}
        className="text-input"
        value={typed ?? value}
        onChange={(event) => setTyped(event.target.value)}
        onBlur={keep}
        onKeyDown={(event) => {
          if (event.key === 'Enter') keep();
          else if (event.key === 'Escape') setTyped(null);
        }}
      />
    </div>
  );
}
