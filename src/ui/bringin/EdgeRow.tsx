import { useState } from 'react';
import { type EdgeRole, edgeRoles } from '../../pattern/piece';
import { roleNames } from './roleNames';

interface EdgeRowProps {
  readonly number: number;
  readonly name: string;
  readonly role: EdgeRole;
  readonly onChange: (changed: { readonly name?: string; readonly role?: EdgeRole }) => void;
}

/** One edge on the walk round the piece: what it is, and what it is called. */
export function EdgeRow({ number, name, role, onChange }: EdgeRowProps) {
  const [typed, setTyped] = useState<string | null>(null);
  const keep = () => {
    if (typed !== null && typed.trim() !== '' && typed.trim() !== name) onChange({ name: typed.trim() });
    setTyped(null);
  };
  const unnamed = /^edge \d+$/i.test(name) || Object.values(roleNames).includes(name);
  return (
    <div className="edge-row">
      <span className="slash-number" aria-hidden="true">
        {number}
      </span>
      <select
        className="pick"
        aria-label={`Edge ${number} is`}
        value={role}
        onChange={(event) => {
          const chosen = edgeRoles.find((candidate) => candidate === event.target.value);
          if (chosen !== undefined)
            onChange(unnamed && chosen !== 'other' ? { role: chosen, name: roleNames[chosen] } : { role: chosen });
        }}
      >
        {edgeRoles.map((candidate) => (
          <option key={candidate} value={candidate}>
            {roleNames[candidate]}
          </option>
        ))}
      </select>
      <input
        className="text-input"
        aria-label={`Name of edge ${number}`}
        value={typed ?? name}
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
