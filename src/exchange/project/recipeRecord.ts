import {
  type CloseDartStep,
  centreRules,
  dartEdgeChoices,
  type FanStep,
  type FinishStep,
  type Opening,
  type Recipe,
  type RecipeStep,
  type SlashLine,
  type TrueStep,
} from '../../pattern/recipe';
import { byId, type Found, flag, list, Misread, number, oneOf, orNull, record, text } from './decode';

/** Recipe steps stand in a file as they stand in memory: plain data, mm and radians. */
export function readRecipe(found: Found): Recipe {
  return list(readStep)(found);
}

/** The recipe with its members in one fixed order, so that the same recipe is always the same text, however it was made. */
export function writeRecipe(recipe: Recipe): Recipe {
  return readRecipe({ value: recipe, place: 'recipe' });
}

function readStep(found: Found): RecipeStep {
  const kind = oneOf(['close-dart', 'fan', 'true', 'finish'] as const)({
    value: (found.value as { kind?: unknown } | null)?.kind,
    place: `${found.place}.kind`,
  });
  switch (kind) {
    case 'close-dart':
      return readClosing(found);
    case 'fan':
      return readFan(found);
    case 'true':
      return readTrue(found);
    case 'finish':
      return readFinish(found);
  }
}

function readClosing(found: Found): CloseDartStep {
  return record(found, ({ take }) => ({
    kind: take('kind', oneOf(['close-dart'] as const)),
    dart: take('dart', text),
    centre: take('centre', text),
    hem: take('hem', text),
    side: take('side', text),
    share: take('share', number),
    foot: take('foot', orNull(number)),
  }));
}

function readFan(found: Found): FanStep {
  return record(found, ({ take }) => ({
    kind: take('kind', oneOf(['fan'] as const)),
    centre: take('centre', text),
    hem: take('hem', text),
    side: take('side', text),
    fullness: take(
      'fullness',
      orNull((inner) =>
        record(inner, (line) => ({ downSide: line.take('downSide', number), tilt: line.take('tilt', number) })),
      ),
    ),
    slashes: take('slashes', list(readSlash)),
    centreRule: take('centreRule', oneOf(centreRules)),
    sideTurn: take('sideTurn', number),
  }));
}

function readSlash(found: Found): SlashLine {
  return record(found, ({ take }) => ({
    id: take('id', text),
    across: take('across', number),
    tilt: take('tilt', number),
    opening: take('opening', readOpening),
  }));
}

function readOpening(found: Found): Opening {
  return record(found, ({ take }): Opening => {
    const measure = take('measure', oneOf(['chord', 'arc', 'angle'] as const));
    switch (measure) {
      case 'chord':
        return { measure, hem: take('hem', number), far: take('far', number) };
      case 'arc':
        return { measure, hem: take('hem', number) };
      case 'angle':
        return { measure, angle: take('angle', number) };
    }
  });
}

function readTrue(found: Found): TrueStep {
  return record(found, ({ take, has }) => ({
    kind: take('kind', oneOf(['true'] as const)),
    side: take('side', (inner) =>
      record(inner, (side) => ({
        up: side.take('up', number),
        down: side.take('down', number),
        fullness: side.take('fullness', number),
      })),
    ),
    hem: take('hem', (inner) =>
      record(inner, (hem) => ({
        level: hem.take('level', oneOf(['follow-strips', 'keep-centre-length'] as const)),
        corners: hem.take('corners', oneOf(['square', 'keep'] as const)),
        spans: hem.take('spans', readSpans),
        fairness: hem.take('fairness', number),
        handles: hem.take('handles', (ends) =>
          record(ends, (end) => ({
            centre: end.take('centre', orNull(number)),
            side: end.take('side', orNull(number)),
          })),
        ),
        drop: hem.take('drop', (ends) =>
          record(ends, (end) => ({ centre: end.take('centre', number), side: end.take('side', number) })),
        ),
      })),
    ),
    ...(has('dartEdges') ? { dartEdges: take('dartEdges', oneOf(dartEdgeChoices)) } : {}),
  }));
}

function readSpans(found: Found): 1 | 2 | 3 {
  if (found.value !== 1 && found.value !== 2 && found.value !== 3) throw new Misread(found.place, '1, 2 or 3');
  return found.value;
}

function readFinish(found: Found): FinishStep {
  return record(found, ({ take }) => ({
    kind: take('kind', oneOf(['finish'] as const)),
    seam: take('seam', number),
    hem: take('hem', number),
    byEdge: take('byEdge', byId(number)),
    mirrorHemEnds: take('mirrorHemEnds', flag),
  }));
}
