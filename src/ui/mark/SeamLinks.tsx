import { useId, useState } from 'react';
import type { Garment, SeamEnd } from '../../pattern/garment';
import { findBlock, findEdge } from '../../pattern/lookUp';
import { nameInSentence } from '../../pattern/nameInSentence';
import { CloseSign } from '../controls/icons';
import type { OnTable } from '../onTable';
import { useCommands } from '../storeContext';

/** Which edges are sewn together; the seams are walked and the back is matched along these. */
export function SeamLinks({ table }: { readonly table: OnTable }) {
  const id = useId();
  const { linkSeams, unlinkSeams } = useCommands();
  const { garment, block } = table;
  const [own, setOwn] = useState('');
  const [other, setOther] = useState('');
  const links = garment.seamLinks.filter((link) => link.first.piece === block.id || link.second.piece === block.id);
  const partners = garment.blocks
    .filter((piece) => piece.id !== block.id)
    .flatMap((piece) => piece.edges.map((edge) => ({ piece, edge, key: JSON.stringify([piece.id, edge.id]) })));
  if (garment.blocks.length < 2) {
    return <p className="tray-note">Bring in a second piece, and its edges can be sewn to these.</p>;
  }
  const chosen = partners.find(({ key }) => key === other);
  return (
    <>
      <ul className="piece-list">
        {links.map((link) => (
          <li key={link.id}>
            <span>
              {endName(garment, link.first)} to {endName(garment, link.second)}
            </span>
            <button
              type="button"
              className="icon-button"
              aria-label={`Part ${endName(garment, link.first)} from ${endName(garment, link.second)}`}
              onClick={() => unlinkSeams(link.id)}
            >
              <CloseSign />
            </button>
          </li>
        ))}
      </ul>
      <div className="field">
        <label className="field-label" htmlFor={`${id}-own`}>
          Sew this edge
        </label>
        <select id={`${id}-own`} className="pick" value={own} onChange={(event) => setOwn(event.target.value)}>
          <option value="">choose</option>
          {block.edges.map((edge) => (
            <option key={edge.id} value={edge.id}>
              {edge.name}
            </option>
          ))}
        </select>
      </div>
      <div className="field">
        <label className="field-label" htmlFor={`${id}-other`}>
          to
        </label>
        <select id={`${id}-other`} className="pick" value={other} onChange={(event) => setOther(event.target.value)}>
          <option value="">choose</option>
          {partners.map(({ piece, edge, key }) => (
            <option key={key} value={key}>
              {piece.name}: {edge.name}
            </option>
          ))}
        </select>
      </div>
      <button
        type="button"
        className="button"
        disabled={own === '' || chosen === undefined}
        onClick={() => {
          if (chosen === undefined) return;
          const linked = linkSeams({ piece: block.id, edge: own }, { piece: chosen.piece.id, edge: chosen.edge.id });
          if (linked.ok) {
            setOwn('');
            setOther('');
          }
        }}
      >
        Sew them together
      </button>
    </>
  );
}

function endName(garment: Garment, end: SeamEnd): string {
  const piece = findBlock(garment, end.piece);
  const edge = piece === undefined ? undefined : findEdge(piece, end.edge);
  return `${piece?.name ?? '?'} ${nameInSentence(edge?.name ?? '?')}`;
}
