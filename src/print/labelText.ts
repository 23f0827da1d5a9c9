import { edgeAllowance } from '../operations/finishing/widths';
import type { LengthUnit } from '../pattern/garment';
import { sizeWords } from '../pattern/sizeWords';
import { formatLength } from '../units/length';
import type { PrintablePiece } from './printablePiece';

/** A line of the piece label; `scale` is its size beside the plain lines. */
export interface LabelLine {
  readonly text: string;
  readonly scale: number;
  readonly bold: boolean;
}

/** What a piece says about itself: piece, garment and version, how many to cut, allowances, date. */
export function labelLines(printable: PrintablePiece): LabelLine[] {
  const { piece, garment, version, date } = printable;
  const plain = (text: string): LabelLine => ({ text, scale: 1, bold: false });
  return [
    { text: piece.name, scale: 1.7, bold: true },
    ...(piece.size === null ? [] : [{ text: sizeWords(piece.size), scale: 1.1, bold: true }]),
    plain(`${garment} · ${version}`),
    { text: cutSentence(printable), scale: 1.1, bold: true },
    ...allowanceSentences(printable).map(plain),
    ...(date === '' ? [] : [plain(date)]),
  ];
}

function cutSentence({ piece, opened }: PrintablePiece): string {
  if (piece.fold !== null) return `Cut ${piece.cutCount} on the fold`;
  // Both its halves are the same, so there is nothing to mirror.
  if (opened === true) return `Cut ${piece.cutCount}`;
  return piece.cutCount === 2 ? 'Cut 2, one of them mirrored' : `Cut ${piece.cutCount}`;
}

function allowanceSentences(printable: PrintablePiece): string[] {
  const { piece, cutLine, finish, unit } = printable;
  if (!cutLine) return ['No allowances: this is the stitching line'];
  if (!finish) return ['Allowances included'];
  const plain = new Map<string, Set<number>>([
    ['seams', new Set()],
    ['hem', new Set()],
  ]);
  for (const edge of piece.edges) {
    if (edge.id === piece.fold) continue;
    plain.get(edge.role === 'hem' ? 'hem' : 'seams')!.add(edgeAllowance(piece, finish, edge));
  }
  const parts = [...plain].flatMap(([name, widths]) =>
    widths.size === 0 ? [] : [`${name} ${[...widths].map((w) => allowanceText(w, unit)).join(' / ')}`],
  );
  return ['Allowances included:', parts.join(', ')];
}

/** In the maker's unit; millimetres where sixteenths of an inch would say something else. */
function allowanceText(width: number, unit: LengthUnit): string {
  if (width === 0) return 'none';
  const sixteenth = 25.4 / 16;
  const off = Math.abs(width - Math.round(width / sixteenth) * sixteenth);
  return formatLength(width, unit === 'in' && off > 0.2 ? 'mm' : unit).replace(/[.,]0+(?=\s|$)/, '');
}
