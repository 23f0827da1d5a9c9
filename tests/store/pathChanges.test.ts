import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { point } from '../../src/geometry/point';
import { cubic, line, type Path } from '../../src/geometry/segment';
import { moveDraftNode } from '../../src/gestures/draftNodes';
import { type BringInDraft, noPen } from '../../src/store/bringIn';
import { withStep } from '../../src/store/draftHistory';
import { createPartNames, type Lying, putTogether, takeApart } from '../../src/store/unfinishedForm';

function ring(count: number): Path {
  const at = (turn: number) => point(400 * Math.cos(-turn * 2 * Math.PI), 400 * Math.sin(-turn * 2 * Math.PI));
  return Array.from({ length: count }, (_, k) =>
    cubic(at(k / count), at((k + 0.3) / count), at((k + 0.7) / count), at((k + 1) / count)),
  );
}

const laid = (path: Path | null): BringInDraft => ({
  source: 'skirt.jpg',
  name: 'Skirt',
  shapes: [],
  outline: 'a',
  path,
  corners: [{ segment: 0, t: 0, name: 'Hem', role: 'hem' }],
  scale: { kind: 'certain', sentence: '' },
});

const lying = (draft: BringInDraft): Lying => ({ draft, pen: noPen, pages: null, picture: null, underlay: null });

/** Through the database, which copies everything. */
function kept(draft: BringInDraft): BringInDraft {
  const { state, parts } = structuredClone(takeApart(lying(draft), createPartNames(newName())));
  return putTogether(state, parts, createPartNames(newName()))!.draft!;
}

function newName(): () => string {
  let names = 0;
  return () => `part ${++names}`;
}

describe('R35 the steps of a draft, as they are stored', () => {
  test('come back the same, whatever was done to the outline', () => {
    const segment = fc.integer({ min: 0, max: 9 }).map((x) => line(point(x, 0), point(0, x)));
    const change = fc.oneof(
      fc.constant('other' as const),
      fc.constant('none' as const),
      fc.array(segment, { maxLength: 12 }),
      fc.record({ at: fc.nat(20), gone: fc.nat(4), put: fc.array(segment, { maxLength: 12 }) }),
    );
    fc.assert(
      fc.property(fc.array(change, { maxLength: 8 }), (changes) => {
        let draft = laid(ring(12));
        for (const what of changes) {
          const path = [...(draft.path ?? [])];
          if (what === 'other') draft = withStep(draft, { ...draft, name: `${draft.name}x` }, 'the name');
          else if (what === 'none') draft = withStep(draft, { ...draft, path: null }, 'the outline put back');
          else if (!Array.isArray(what)) {
            path.splice(what.at, what.gone, ...what.put);
            draft = withStep(draft, { ...draft, path }, 'a point');
          } else draft = withStep(draft, { ...draft, path: what }, 'the choice of outline');
        }
        expect(kept(draft)).toEqual(draft);
        expect(kept(kept(draft))).toEqual(draft);
      }),
      { numRuns: 60 },
    );
  });

  test('an outline of 5,000 segments moved 200 times is stored once, and one outline is written with each move', () => {
    let draft = laid(ring(5000));
    const names = createPartNames(newName());
    let stored = new Set<string>();
    let taken = takeApart(lying(draft), names);
    for (let move = 0; move < 200; move++) {
      const to = point(400 + move, move);
      draft = withStep(draft, moveDraftNode(draft, { segment: move * 20, handle: null }, to, false), 'a point');
      if (move % 20 !== 19) continue;
      taken = takeApart(lying(draft), names);
      expect([...taken.parts.keys()].filter((name) => !stored.has(name))).toHaveLength(1);
      stored = new Set(taken.parts.keys());
    }
    expect(draft.earlier).toHaveLength(100);
    expect(stored.size).toBe(1);
    // One such outline is about 1.2 MB of text; a hundred of them would be 120.
    expect(JSON.stringify(taken.state).length).toBeLessThan(200_000);
    const again = kept(draft);
    for (const step of [0, 57, 99])
      expect(again.earlier![step]!.before.path).toEqual(draft.earlier![step]!.before.path);
    // In memory, too, the steps share what they did not change.
    expect(again.earlier![0]!.before.path![4999]).toBe(again.path![4999]);
  });
});
