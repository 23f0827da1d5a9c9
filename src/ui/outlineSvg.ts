import type { Path } from '../geometry/segment';
import type { Piece } from '../pattern/piece';

/** A path as the `d` of an SVG path, mm as user units, to 0.01 mm: enough for a picture on screen. */
export function pathData(path: Path, closed: boolean): string {
  const first = path[0];
  if (first === undefined) return '';
  const parts = [`M${pair(first.start)}`];
  for (const segment of path) {
    parts.push(
      segment.kind === 'line'
        ? `L${pair(segment.end)}`
        : `C${pair(segment.control1)} ${pair(segment.control2)} ${pair(segment.end)}`,
    );
  }
  return closed ? `${parts.join('')}Z` : parts.join('');
}

export function outlineData(piece: Piece): string {
  return pathData(
    piece.edges.flatMap((edge) => edge.path),
    true,
  );
}

function pair(p: { readonly x: number; readonly y: number }): string {
  return `${p.x.toFixed(2)} ${p.y.toFixed(2)}`;
}
