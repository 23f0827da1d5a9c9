import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type History, record, stepBack, stepForward } from '../../src/history/history';
import { sameData } from '../../src/history/sameData';

const empty: History<number> = { past: [], future: [] };

describe('history', () => {
  it('steps back and forward along what was recorded', () => {
    const two = record(record(empty, { label: 'a', before: 0, after: 1 }), { label: 'b', before: 1, after: 2 });
    const back = stepBack(two)!;
    expect(back.step.label).toBe('b');
    expect(back.history.future.map((step) => step.label)).toEqual(['b']);
    expect(stepForward(back.history)!.history).toEqual(two);
    expect(stepBack(empty)).toBeNull();
    expect(stepForward(two)).toBeNull();
  });

  it('forgets what could be redone once something new is recorded', () => {
    const back = stepBack(record(empty, { label: 'a', before: 0, after: 1 }))!.history;
    const anew = record(back, { label: 'c', before: 0, after: 5 });
    expect(stepForward(anew)).toBeNull();
    expect(anew.past.map((step) => step.label)).toEqual(['c']);
  });

  it('R4 leads back to the start and forward to the end after any sequence (2,000 runs)', () => {
    const move = fc.oneof(fc.constant('back' as const), fc.constant('forward' as const), fc.integer());
    fc.assert(
      fc.property(fc.array(move, { maxLength: 40 }), (moves) => {
        let history = empty;
        let document = 0;
        for (const next of moves) {
          if (next === 'back' || next === 'forward') {
            const taken = next === 'back' ? stepBack(history) : stepForward(history);
            if (!taken) continue;
            expect(next === 'back' ? taken.step.after : taken.step.before).toBe(document);
            document = next === 'back' ? taken.step.before : taken.step.after;
            history = taken.history;
          } else {
            history = record(history, { label: '', before: document, after: next });
            document = next;
          }
        }
        const end = history.future.at(-1)?.after ?? document;
        for (let taken = stepBack(history); taken; taken = stepBack(history)) {
          history = taken.history;
          document = taken.step.before;
        }
        expect(document).toBe(0);
        for (let taken = stepForward(history); taken; taken = stepForward(history)) {
          history = taken.history;
          document = taken.step.after;
        }
        expect(document).toBe(end);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('sameData', () => {
  it('tells equal data from different data', () => {
    const data = { a: [1, { b: null, c: 'x' }], d: Number.NaN };
    expect(sameData(data, structuredClone(data))).toBe(true);
    expect(sameData([0], [-0])).toBe(true);
    expect(sameData({ a: 1 }, { a: 1, b: undefined })).toBe(false);
    expect(sameData({ a: undefined }, { b: undefined })).toBe(false);
    expect(sameData([], {})).toBe(false);
    expect(sameData([1, 2], [1])).toBe(false);
    expect(sameData(null, {})).toBe(false);
    expect(sameData('1', 1)).toBe(false);
  });

  it('agrees with comparing JSON texts of the same key order (2,000 runs)', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (a, b) => {
        expect(sameData(a, JSON.parse(JSON.stringify(a)))).toBe(true);
        if (JSON.stringify(a) === JSON.stringify(b)) expect(sameData(a, b)).toBe(true);
        else if (sameData(a, b)) expect(JSON.stringify(sortedKeys(a))).toBe(JSON.stringify(sortedKeys(b)));
      }),
      { numRuns: 2000 },
    );
  });
});

function sortedKeys(value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map(sortedKeys);
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, member]) => [key, sortedKeys(member)]),
  );
}
