import { fontHolds } from './fontLetters';
import { needsEmbeddedFont } from './fonts';
import type { PrintablePiece } from './printablePiece';

const writtenFromTheRight = /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;

/** Sentences about names whose letters do not print, or may print in the wrong order. One for each such name. */
export function letterWarnings(pieces: readonly PrintablePiece[]): string[] {
  const names = pieces.flatMap(({ garment, version, piece }) => [
    garment,
    version,
    piece.name,
    ...piece.internalLines.map((line) => line.name),
  ]);
  return [...new Set(names)].flatMap((name) => {
    const missing = [...new Set(name)].filter((letter) => needsEmbeddedFont(letter) && !fontHolds(letter));
    if (missing.length > 0) {
      const shown = missing.slice(0, 3).join(' ');
      return [
        `“${name}” has letters that do not print (${shown}${missing.length > 3 ? ' …' : ''}): they stay blank on paper. Give it a name in other letters before you print.`,
      ];
    }
    return writtenFromTheRight.test(name)
      ? [`“${name}” is written from right to left: its letters may print in the wrong order.`]
      : [];
  });
}
