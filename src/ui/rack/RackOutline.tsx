import type { Bounds } from '../../geometry/bounds';
import type { Piece } from '../../pattern/piece';
import { outlineData } from '../outlineSvg';

interface RackOutlineProps {
  readonly pieces: readonly { readonly piece: Piece; readonly bounds: Bounds }[];
  /** Screen pixels per mm, the same for the whole rack. */
  readonly scale: number;
}

const apart = 30;

/** The pieces of one version hung side by side as true outlines, all at the rack's one scale. */
export function RackOutline({ pieces, scale }: RackOutlineProps) {
  let width = 0;
  const hung = pieces.map(({ piece, bounds }) => {
    const left = width;
    width += bounds.maxX - bounds.minX + apart;
    return { piece, x: left - bounds.minX, y: -bounds.minY };
  });
  const height = Math.max(...pieces.map(({ bounds }) => bounds.maxY - bounds.minY));
  const edge = 1.2 / scale;
  return (
    <svg
      className="rack-outline"
      width={(width - apart + 2 * edge) * scale}
      height={(height + 2 * edge) * scale}
      viewBox={`${-edge} ${-edge} ${width - apart + 2 * edge} ${height + 2 * edge}`}
      aria-hidden="true"
      focusable="false"
    >
      {hung.map(({ piece, x, y }) => (
        <path key={piece.id} d={outlineData(piece)} transform={`translate(${x} ${y})`} strokeWidth={edge} />
      ))}
    </svg>
  );
}
