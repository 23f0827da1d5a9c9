import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { buildPiece } from '../../src/exchange/edgeNaming';
import { readSvg } from '../../src/exchange/svg/readSvg';
import { containsPoint } from '../../src/geometry/area';
import { flattenPath } from '../../src/geometry/flatten';
import { point } from '../../src/geometry/point';
import { line, type Path } from '../../src/geometry/segment';
import type { BlockPiece } from '../../src/pattern/garment';
import { placeLabel } from '../../src/render/pieceLabel';
import { chooseOutline } from '../../src/ui/bringin/chooseOutline';
import { draftFromDrawing } from '../../src/ui/bringin/draftFromDrawing';
import { granted } from '../support/outcomes';

/** A piece with its grainline down the middle. */
function pieceOf(name: string, outline: Path, corners: readonly { segment: number; t: number }[]): BlockPiece {
  const built = buildPiece({
    id: 'piece',
    name,
    outline,
    corners: corners.map(({ segment, t }, index) => ({
      segment,
      t,
      name: `Edge ${index + 1}`,
      role: 'other' as const,
    })),
    fold: null,
    grainline: 'default',
    notches: [],
    drillHoles: [],
    cutCount: 1,
    size: null,
  });
  return { ...granted(built), locked: false };
}

function bodice(): BlockPiece {
  const reading = granted(readSvg(readFileSync('tests/fixtures/svg/bodice-cm.svg', 'utf8')));
  const laid = granted(draftFromDrawing(reading, 'bodice-cm.svg'));
  const draft = chooseOutline(laid, laid.shapes.find(({ closed }) => closed)!);
  return pieceOf(draft.name, draft.path!, draft.corners);
}

function strap(): BlockPiece {
  const corners = [point(0, 500), point(30, 500), point(30, 0), point(0, 0)];
  const outline = corners.map((corner, index) => line(corner, corners[(index + 1) % 4]!));
  return pieceOf(
    'Shoulder strap lining',
    outline,
    outline.map((_, segment) => ({ segment, t: 0 })),
  );
}

const labelled = (block: BlockPiece) => placeLabel({ block, fan: null, fanned: null }, 'ink');

/** With a bodice beside the two pieces of a top, the table shows all three at this, pixels per mm. */
const threePieces = 0.6;

describe('the name on a piece', () => {
  it('lies inside a bodice, clear of its neckline and its grainline, with a whole garment in view', () => {
    const block = bodice();
    const [name] = labelled(block);
    expect(name!.text).toBe('Bodice cm');
    expect(name!.fromZoom!).toBeLessThan(threePieces);
    const outline = block.edges.flatMap((edge) => edge.path);
    expect(containsPoint(outline, name!.at)).toBe(true);
    // Measured in a browser: the name is 66 px wide; its letters reach 11 px up and 4 px down.
    const crossed = [...outline, line(block.grainline!.start, block.grainline!.end)].flatMap((segment) =>
      evenPoints([segment]).filter(({ x, y }) => {
        const right = (x - name!.at.x) * threePieces;
        const down = (y - name!.at.y) * threePieces;
        return Math.abs(right) < 33 && down > -11 && down < 4;
      }),
    );
    expect(crossed).toEqual([]);
  });

  it('is left out of a strap that is narrower than the words, until the table is large enough', () => {
    const [name, cut] = labelled(strap());
    // The strap is 30 mm wide and has its grainline in the middle, the words are about 150 px wide.
    expect(name!.fromZoom!).toBeGreaterThan(150 / 30);
    expect(cut!.fromZoom!).toBeGreaterThanOrEqual(name!.fromZoom!);
  });
});

/** Points along a path no further apart than a millimetre. */
function evenPoints(path: Path) {
  const chords = flattenPath(path, 0.05);
  return chords.slice(1).flatMap((to, index) => {
    const from = chords[index]!;
    const steps = Math.ceil(Math.hypot(to.x - from.x, to.y - from.y));
    return Array.from({ length: steps + 1 }, (_, step) =>
      point(from.x + ((to.x - from.x) * step) / steps, from.y + ((to.y - from.y) * step) / steps),
    );
  });
}
