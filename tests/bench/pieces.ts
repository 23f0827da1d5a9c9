import { readFileSync } from 'node:fs';
import { readProject } from '../../src/exchange/project/projectFile';
import type { Outcome } from '../../src/geometry/outcome';
import { splitSegment } from '../../src/geometry/segment';
import { defaultFan } from '../../src/operations/fan';
import { defaultFinish } from '../../src/operations/finish';
import { defaultTrue } from '../../src/operations/true';
import type { Garment } from '../../src/pattern/garment';
import type { Edge, Piece } from '../../src/pattern/piece';
import type { FanStep, Recipe } from '../../src/pattern/recipe';

export function must<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`${outcome.code}: ${outcome.sentence}`);
  return outcome.value;
}

export function sampleTop(): Garment {
  // From the folder the bench is started in: once bundled, this file lies elsewhere.
  const file = 'public/samples/sleeveless-top.json';
  return must(readProject(readFileSync(file, 'utf8')));
}

export function frontAndBack(): readonly [Piece, Piece] {
  const [front, back] = sampleTop().blocks;
  if (front === undefined || back === undefined) throw new Error('the sample top has lost a piece');
  return [front, back];
}

/** A fan whose total opening stays the same however many slash lines share it, so that growth compares like with like. */
export function evenFan(piece: Piece, slashes: number, totalOpening = 150): FanStep {
  return must(defaultFan(piece, { downSide: 50, slashes, opening: totalOpening / slashes }));
}

/** The fan with its openings changed by hundredths of a millimetre, so that no run can reuse the one before. */
export function nudged(fan: FanStep, run: number): FanStep {
  const slashes = fan.slashes.map((slash) =>
    slash.opening.measure === 'chord'
      ? { ...slash, opening: { ...slash.opening, hem: slash.opening.hem + (run % 97) * 0.001 } }
      : slash,
  );
  return { ...fan, slashes };
}

export function wholeRecipe(fan: FanStep, run: number): Recipe {
  return [nudged(fan, run), defaultTrue(), defaultFinish()];
}

/** The same outline cut into about `count` segments, evenly over the edges. */
export function withSegments(piece: Piece, count: number): Piece {
  const present = piece.edges.reduce((sum, edge) => sum + edge.path.length, 0);
  const perSegment = Math.max(1, Math.round(count / present));
  const divide = (edge: Edge): Edge => ({
    ...edge,
    path: edge.path.flatMap((segment) => {
      const parts = [];
      let rest = segment;
      for (let left = perSegment; left > 1; left -= 1) {
        const [head, tail] = splitSegment(rest, 1 / left);
        parts.push(head);
        rest = tail;
      }
      return [...parts, rest];
    }),
  });
  return { ...piece, edges: piece.edges.map(divide) };
}
