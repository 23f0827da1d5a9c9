import type { OperatorList } from '../../../src/exchange/pdf/operators';

/** Put in place of a value of an operator. */
const nastyValues: readonly unknown[] = [
  Number.NaN,
  Number.POSITIVE_INFINITY,
  -1e308,
  1e30,
  0,
  -1,
  1e-300,
  null,
  undefined,
  '',
  '#zzzzzz',
  'OC',
  [],
  [null],
  [[]],
  {},
  { id: 7 },
  { ids: [1, 'x'] },
  new Float32Array(0),
  new Float32Array([2, 1, 1]),
  new Float32Array([0, Number.NaN, 1, 1, 5, 5]),
  new Float32Array([1, 9, 9, 4, 4, 4, 0, 1, 1]),
  new Float32Array([3, 1, 1, 2, 2, 9, 9, 9]),
  new Float32Array([0, 0, 0, 0, 0, 0]),
  new Float32Array([1, 0, 0, 1, 1e38, 1e38]),
  [[6, -3]],
  [
    ['LW', 'x'],
    ['D', 5],
    ['CA', null],
  ],
];

/** One to eight wounds to a list of operators: some left out, doubled, swapped, renumbered, given other values. */
export function damagedList(list: OperatorList, random: () => number): OperatorList {
  const fnArray = [...list.fnArray];
  const argsArray = [...list.argsArray];
  const wounds = 1 + Math.floor(random() * 8);
  const any = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)]!;
  for (let k = 0; k < wounds; k++) {
    const i = Math.floor(random() * fnArray.length);
    switch (Math.floor(random() * 7)) {
      case 0:
        fnArray.splice(i, 1);
        argsArray.splice(i, 1);
        break;
      case 1:
        fnArray.splice(i, 0, fnArray[i]!);
        argsArray.splice(i, 0, argsArray[i]);
        break;
      case 2:
        fnArray[i] = Math.floor(random() * 96);
        break;
      case 3:
        argsArray[i] = any(nastyValues);
        break;
      case 4:
        argsArray[i] = argsArray[Math.floor(random() * argsArray.length)];
        break;
      default:
        argsArray[i] = wounded(argsArray[i], random, any);
    }
  }
  return { fnArray, argsArray };
}

/** The same values with one of them, however deep, another. */
function wounded(value: unknown, random: () => number, any: <T>(from: readonly T[]) => T): unknown {
  if (value instanceof Float32Array && value.length > 0) {
    const copy = value.slice();
    copy[Math.floor(random() * copy.length)] = any([Number.NaN, 0, -5, 1e9, 3e38, 4, 2, random() * 1000]);
    return copy;
  }
  if (Array.isArray(value) && value.length > 0) {
    const copy = [...value];
    const i = Math.floor(random() * copy.length);
    copy[i] = random() < 0.5 ? wounded(copy[i], random, any) : any(nastyValues);
    return copy;
  }
  return typeof value === 'number' && random() < 0.5 ? random() * 1000 : any(nastyValues);
}
