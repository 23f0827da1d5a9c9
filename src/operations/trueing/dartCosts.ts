import { legsDiffer, roundedCorner } from '../../geometry/tolerance';
import { findEdge } from '../../pattern/lookUp';
import { nameInSentence } from '../../pattern/nameInSentence';
import type { DartsClosed } from '../worked';
import { bothUnits } from './bothUnits';

/** Sentences on what closed darts leave on the edges that held them; nothing for edges `drawnOver` since. */
export function dartCosts({ block, darts }: DartsClosed, drawnOver: ReadonlySet<string>): string[] {
  return darts.flatMap(({ dart: id, share, legDifference, corner }) => {
    const { edge } = block.darts.find((dart) => dart.id === id)!;
    if (share !== 1 || drawnOver.has(edge)) return [];
    const name = nameInSentence(findEdge(block, edge)!.name);
    const costs: string[] = [];
    if (legDifference > legsDiffer) {
      costs.push(
        `The legs of the dart on the ${name} differ by ${bothUnits(legDifference)}; closed, the ${name} steps by that much. Even the legs, or draw over the step.`,
      );
    }
    if (corner > roundedCorner) {
      const degrees = ((corner * 180) / Math.PI).toFixed(0);
      costs.push(
        `Where the legs of the dart meet, the ${name} has a corner of ${degrees}°. Draw a smooth line through it in True, or on the print.`,
      );
    }
    return costs;
  });
}
