import { describe, expect, it } from 'vitest';
import { pathLength } from '../../src/geometry/path';
import { reportVersion } from '../../src/measure/report';
import { defaultFan, fan } from '../../src/operations/fan';
import { defaultFinish } from '../../src/operations/finish';
import { matchPartner } from '../../src/operations/matchPartner';
import { defaultTrue } from '../../src/operations/true';
import type { Garment } from '../../src/pattern/garment';
import { findStep } from '../../src/pattern/lookUp';
import type { Recipe } from '../../src/pattern/recipe';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';
import { granted, refusalOf } from '../support/outcomes';
import { rectangle } from '../support/rectangle';

/** The garment with one version that does this to its front. */
function withFront(garment: Garment, recipe: Recipe): Garment {
  const version = { id: 'v1', name: 'Swing', note: '', made: '2024-05-01T12:00:00Z', recipes: { front: recipe } };
  return { ...garment, versions: [version] };
}

const top = draftSleevelessTop();
const front = top.blocks.find(({ id }) => id === 'front')!;
const frontFan = granted(defaultFan(front, { downSide: 50, slashes: 4, opening: 38.1 }));
const finishStep = {
  ...defaultFinish(),
  seam: 10,
  hem: 15,
  byEdge: { 'centre-front': 0, side: 20, armhole: 6, neckline: 5 },
};
const swing = withFront(top, [frontFan, defaultTrue(), finishStep]);

describe('matching the partner', () => {
  const matched = granted(matchPartner(swing, 'v1', 'front'));
  const backRecipe = matched.versions[0]!.recipes.back!;

  it('R19 replays the recipe on the back: centre for centre, side for side, hem for hem, the same amounts', () => {
    const step = findStep(backRecipe, 'fan')!;
    expect(step).toEqual({ ...frontFan, centre: 'centre-back', hem: 'hem', side: 'side' });
    expect(findStep(backRecipe, 'true')).toEqual(defaultTrue());
    expect(backRecipe.map(({ kind }) => kind)).toEqual(['fan', 'true', 'finish']);
  });

  it('moves allowances to the edges of the same role', () => {
    expect(findStep(backRecipe, 'finish')!.byEdge).toEqual({ 'centre-back': 0, side: 20, armhole: 6, neckline: 5 });
  });

  it('leaves the front, the blocks and other versions alone', () => {
    expect(matched.blocks).toBe(swing.blocks);
    expect(matched.versions[0]!.recipes.front).toBe(swing.versions[0]!.recipes.front);
  });

  it('gives side seams of one length to 1e-6 mm and a joined hem corner of 180 degrees to 0.1', () => {
    const bare = withFront(top, [frontFan, defaultTrue()]);
    const report = granted(reportVersion(granted(matchPartner(bare, 'v1', 'front')), 'v1'));
    const seam = report.seams.find(({ link }) => link === 'side-seam')!;
    expect(Math.abs(seam.first.length - seam.second.length)).toBeLessThan(1e-6);
    expect(seam.verdict).toBe('match');
    expect(Math.abs((seam.joinedHemCorner! * 180) / Math.PI - 180)).toBeLessThan(0.1);
    for (const offset of seam.notchOffsets) expect(Math.abs(offset)).toBeLessThan(1e-6);
    const [frontPiece, backPiece] = report.pieces;
    expect(frontPiece!.sweepAfter! - frontPiece!.sweepBefore!).toBeGreaterThan(4 * 38.1 - 2);
    expect(backPiece!.sweepAfter! - backPiece!.sweepBefore!).toBeGreaterThan(4 * 38.1 - 2);
  });

  it('R19 hinges both at the same distance from the upper end of their side seams', () => {
    for (const [id, recipe] of [
      ['front', swing.versions[0]!.recipes.front!],
      ['back', backRecipe],
    ] as const) {
      const block = top.blocks.find((piece) => piece.id === id)!;
      const fanned = granted(fan(block, findStep(recipe, 'fan')!));
      const side = fanned.edges.find((edge) => edge.id === 'side')!.segments;
      const panels = side.map(({ origin }) => (origin.kind === 'own' ? origin.panel : -1));
      const upperPanel = 0;
      const upper = side.filter((_, i) => panels[i] === upperPanel).map(({ segment }) => segment);
      expect(pathLength(upper)).toBeCloseTo(50, 8);
    }
  });

  it('works from the back to the front as well', () => {
    const back = withFront(top, []);
    const started: Garment = { ...back, versions: [{ ...back.versions[0]!, recipes: { back: backRecipe } }] };
    const again = granted(matchPartner(started, 'v1', 'back'));
    expect(again.versions[0]!.recipes.front).toEqual(swing.versions[0]!.recipes.front);
  });

  it('works on a skirt whose seams differ by the block’s own ease, and reports that ease unchanged', () => {
    const skirt = draftStraightSkirt();
    const piece = skirt.blocks.find(({ id }) => id === 'front')!;
    const recipe = [granted(defaultFan(piece, { slashes: 3, opening: 30 })), defaultTrue()];
    const before = granted(reportVersion(skirt, null)).seams[0]!;
    const after = granted(reportVersion(granted(matchPartner(withFront(skirt, recipe), 'v1', 'front')), 'v1'))
      .seams[0]!;
    expect(Math.abs(after.difference - before.difference)).toBeLessThan(1e-6);
    expect(Math.abs(after.joinedHemCorner! - Math.PI)).toBeLessThan(1e-6);
  });
});

describe('matching is refused', () => {
  it('when there is no side seam link', () => {
    expect(refusalOf(matchPartner({ ...swing, seamLinks: [] }, 'v1', 'front'))).toBe('no-side-seam-link');
    const shoulderOnly = swing.seamLinks.filter(({ first }) => first.edge === 'shoulder');
    expect(shoulderOnly).toHaveLength(1);
    expect(refusalOf(matchPartner({ ...swing, seamLinks: shoulderOnly }, 'v1', 'front'))).toBe('no-side-seam-link');
  });

  it('when the partner is gone', () => {
    const alone = { ...swing, blocks: swing.blocks.filter(({ id }) => id === 'front') };
    expect(refusalOf(matchPartner(alone, 'v1', 'front'))).toBe('partner-missing');
  });

  it('when the partner’s side seam ends above the fullness line', () => {
    const sheet = (id: string, length: number) => ({ ...rectangle(200, length), id, locked: true });
    const cropped: Garment = {
      ...top,
      blocks: [sheet('front', 500), sheet('back', 180)],
      seamLinks: [
        { id: 's', first: { piece: 'front', edge: 'side' }, second: { piece: 'back', edge: 'side' }, ease: 0 },
      ],
    };
    const low = granted(defaultFan(cropped.blocks[0]!, { downSide: 200 }));
    const outcome = matchPartner(withFront(cropped, [low]), 'v1', 'front');
    expect(refusalOf(outcome)).toBe('partner-seam-too-short');
    expect(outcome.ok ? '' : outcome.sentence).toContain('Raise the fullness line');
    const high = granted(defaultFan(cropped.blocks[0]!, { downSide: 90 }));
    expect(refusalOf(matchPartner(withFront(cropped, [high]), 'v1', 'front'))).toBe('accepted');
  });

  it('when nothing has been done, and when version or piece are gone', () => {
    expect(refusalOf(matchPartner(withFront(top, []), 'v1', 'front'))).toBe('nothing-to-match');
    expect(refusalOf(matchPartner(swing, 'gone', 'front'))).toBe('version-missing');
    expect(refusalOf(matchPartner(swing, 'v1', 'gone'))).toBe('piece-missing');
  });

  it('when the partner has no centre line next to its hem', () => {
    const unnamed: Garment = {
      ...swing,
      blocks: swing.blocks.map((block) =>
        block.id === 'back'
          ? {
              ...block,
              edges: block.edges.map((edge) => (edge.role === 'centre-back' ? { ...edge, role: 'other' } : edge)),
            }
          : block,
      ),
    };
    expect(refusalOf(matchPartner(unnamed, 'v1', 'front'))).toBe('partner-edges');
  });
});
