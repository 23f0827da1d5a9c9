import { describe, expect, test } from 'vitest';
import type { BringInDraft } from '../../src/store/bringIn';
import { stepTakenBack, withStep } from '../../src/store/draftHistory';

const draft: BringInDraft = {
  source: 'skirt.svg',
  name: 'Skirt',
  shapes: [],
  outline: null,
  path: null,
  corners: [],
  scale: { kind: 'certain', sentence: '' },
};

describe('R35 what was done to a draft', () => {
  test('is taken back step by step, down to the draft as it was laid', () => {
    const named = withStep(draft, { ...draft, name: 'Front' }, 'the name');
    const sized = withStep(named, { ...named, size: '12' }, 'the size');
    const back = stepTakenBack(sized)!;
    expect(back).toEqual(named);
    expect(stepTakenBack(back)).toEqual({ ...draft, earlier: [] });
    expect(stepTakenBack({ ...draft, earlier: [] })).toBeNull();
  });

  test('a word typed letter by letter is one step, and what is not a step keeps the steps there are', () => {
    let now = draft;
    for (const name of ['F', 'Fr', 'Fro']) now = withStep(now, { ...now, name }, 'the name', 'typing');
    expect(now.earlier).toHaveLength(1);
    const sized = withStep(now, { ...now, size: '1' }, 'the size', 'typing');
    expect(sized.earlier!.map(({ what }) => what)).toEqual(['the name', 'the size']);
    const shown: BringInDraft = { ...now, node: { segment: 0, handle: null } };
    expect(stepTakenBack(shown)!.name).toBe('Skirt');
  });
});
