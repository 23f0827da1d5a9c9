import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cubic, line, type Path, reversePath } from '../../src/geometry/segment';
import type { BlockPiece, Garment } from '../../src/pattern/garment';
import type { Edge, Piece } from '../../src/pattern/piece';
import type { FanStep, Recipe } from '../../src/pattern/recipe';
import { validateChange, validateGarment, validatePiece } from '../../src/pattern/validate';
import { arbitraryGarment, arbitraryPiece } from '../support/arbitraryGarment';
import { draftSleevelessTop } from '../support/drafting/sleevelessTop';
import { draftStraightSkirt } from '../support/drafting/straightSkirt';

const front = draftSleevelessTop().blocks[0]!;
const skirtFront = draftStraightSkirt().blocks[0]!;

function codes(piece: Piece): string[] {
  return validatePiece(piece).map((each) => each.code);
}

function withEdge(id: string, change: (edge: Edge) => Edge): BlockPiece {
  return { ...front, edges: front.edges.map((edge) => (edge.id === id ? change(edge) : edge)) };
}

/** A square of 100 mm, outline counter-clockwise on screen unless its corners say otherwise. */
function polygon(corners: readonly (readonly [number, number])[]): BlockPiece {
  const path: Path = corners.map(([x, y], index) => {
    const [endX, endY] = corners[(index + 1) % corners.length]!;
    return line({ x, y }, { x: endX, y: endY });
  });
  const edge = (index: number): Edge => ({ id: `e${index}`, name: 'Edge', role: 'other', path: [path[index]!] });
  return { ...front, edges: corners.map((_, index) => edge(index)), notches: [], drillHoles: [], fold: null };
}

describe('an outline', () => {
  it('that is sound has no problem', () => {
    expect(codes(front)).toEqual([]);
    expect(codes(skirtFront)).toEqual([]);
    expect(
      codes(
        polygon([
          [0, 100],
          [100, 100],
          [100, 0],
          [0, 0],
        ]),
      ),
    ).toEqual([]);
  });

  it.each([
    ['without edges', { ...front, edges: [] }, 'outline-too-few-edges'],
    ['with one id twice', withEdge('side', (edge) => ({ ...edge, id: 'hem' })), 'edge-twice'],
    ['with a nameless edge', withEdge('side', (edge) => ({ ...edge, name: ' ' })), 'edge-unnamed'],
    [
      'with an edge called like an object’s own',
      withEdge('side', (edge) => ({ ...edge, id: 'toString' })),
      'edge-unnamed',
    ],
    ['with an empty edge', withEdge('side', (edge) => ({ ...edge, path: [] })), 'edge-empty'],
    [
      'with a NaN',
      withEdge('shoulder', (edge) => ({ ...edge, path: [line({ x: Number.NaN, y: 0 }, { x: 1, y: 1 })] })),
      'number-missing',
    ],
    [
      'with an infinity',
      withEdge('shoulder', (edge) => ({ ...edge, path: [line({ x: Infinity, y: 0 }, { x: 1, y: 1 })] })),
      'number-missing',
    ],
    [
      'as large as a street',
      withEdge('shoulder', (edge) => ({ ...edge, path: [line({ x: 60_000, y: 0 }, { x: 1, y: 1 })] })),
      'piece-too-large',
    ],
    [
      'with a point twice',
      withEdge('shoulder', (edge) => ({ ...edge, path: [...edge.path, line({ x: 80, y: 0 }, { x: 80, y: 0 })] })),
      'point-twice',
    ],
    [
      'with a gap of a ten-millionth',
      withEdge('shoulder', (edge) => ({ ...edge, path: [line(edge.path[0]!.start, { x: 80, y: 1e-7 })] })),
      'outline-gap',
    ],
    [
      'that runs clockwise',
      {
        ...front,
        notches: [],
        edges: [...front.edges].reverse().map((edge) => ({ ...edge, path: reversePath(edge.path) })),
      },
      'outline-wrong-way',
    ],
    [
      'that crosses itself',
      polygon([
        [0, 100],
        [100, 100],
        [0, 0],
        [100, 0],
      ]),
      'outline-crosses',
    ],
    ['whose fold is a curve', { ...front, fold: 'side' }, 'fold-not-straight'],
    ['whose fold is no edge', { ...front, fold: 'selvedge' }, 'fold-unknown'],
  ])('%s is refused', (_, piece, code) => {
    const problems = validatePiece(piece);
    expect(problems.map((each) => each.code)).toContain(code);
    for (const each of problems) expect(each.sentence).toMatch(/^[“A-Z].{15,}[.]$/u);
  });

  it('names the edge where it has a gap', () => {
    const broken = withEdge('shoulder', (edge) => ({ ...edge, path: [line(edge.path[0]!.start, { x: 81, y: 0 })] }));
    expect(validatePiece(broken)).toEqual([
      {
        code: 'outline-gap',
        sentence: 'The outline of “Front” has a gap between “Shoulder” and “Neckline”. Join the two ends.',
        where: { piece: 'front', edge: 'neckline' },
      },
    ]);
  });

  it('of random shape is sound, and reversed it is always the wrong way round (300 runs)', () => {
    fc.assert(
      fc.property(arbitraryPiece('piece', true), (piece) => {
        expect(codes(piece)).toEqual([]);
        const reversed = [...piece.edges].reverse().map((edge) => ({ ...edge, path: reversePath(edge.path) }));
        expect(codes({ ...piece, edges: reversed })).toContain('outline-wrong-way');
      }),
      { numRuns: 300 },
    );
  });
});

/** 10 mm above a point: handles there bow a line by 3/4 of that. */
const raised = ({ x, y }: { readonly x: number; readonly y: number }) => ({ x, y: y - 10 });

describe('marks', () => {
  const notch = front.notches[0]!;
  const dart = skirtFront.darts[0]!;

  it.each<[string, BlockPiece, string]>([
    ['a notch beyond its edge', { ...front, notches: [{ ...notch, distance: 430 }] }, 'notch-off-edge'],
    ['a notch before its edge', { ...front, notches: [{ ...notch, distance: -1 }] }, 'notch-off-edge'],
    ['a notch at NaN', { ...front, notches: [{ ...notch, distance: Number.NaN }] }, 'notch-off-edge'],
    ['a notch on no edge', { ...front, notches: [{ ...notch, edge: 'cuff' }] }, 'notch-edge-unknown'],
    ['two marks of one id', { ...front, notches: [notch, { ...notch, distance: 5 }] }, 'mark-twice'],
    ['a drill hole outside', { ...front, drillHoles: [{ id: 'h', at: { x: -5, y: 300 } }] }, 'hole-outside'],
    ['a drill hole nowhere', { ...front, drillHoles: [{ id: 'h', at: { x: Number.NaN, y: 300 } }] }, 'number-missing'],
    ['a label nowhere', { ...front, labelAt: { x: 0, y: -Infinity } }, 'number-missing'],
    [
      'a grainline of no length',
      { ...front, grainline: { start: { x: 50, y: 50 }, end: { x: 50, y: 50 } } },
      'grainline-empty',
    ],
    ['an empty internal line', { ...front, internalLines: [{ id: 'l', name: 'Waist', path: [] }] }, 'line-empty'],
    [
      'a dart off its edge',
      { ...skirtFront, darts: [{ ...dart, legs: [dart.legs[0], { x: dart.legs[1].x, y: dart.legs[1].y + 1 }] }] },
      'dart-off-edge',
    ],
    [
      'a dart with swapped legs',
      { ...skirtFront, darts: [{ ...dart, legs: [dart.legs[1], dart.legs[0]] }] },
      'dart-legs-swapped',
    ],
    [
      'a dart whose mouth bends',
      {
        ...skirtFront,
        edges: skirtFront.edges.map((edge) => ({
          ...edge,
          path: edge.path.map((segment) =>
            segment.start.x === dart.legs[0].x
              ? cubic(segment.start, raised(segment.start), raised(segment.end), segment.end)
              : segment,
          ),
        })),
      },
      'dart-mouth-bent',
    ],
    [
      'a dart pointing out',
      { ...skirtFront, darts: [{ ...dart, apex: { x: dart.apex.x, y: -100 } }] },
      'dart-apex-outside',
    ],
    ['a dart on no edge', { ...skirtFront, darts: [{ ...dart, edge: 'yoke' }] }, 'dart-edge-unknown'],
    ['no cut count', { ...front, cutCount: 0 }, 'cut-count-wrong'],
    ['half a cut count', { ...front, cutCount: 1.5 }, 'cut-count-wrong'],
    ['no name', { ...front, name: '' }, 'piece-unnamed'],
    ['an unusable id', { ...front, id: '__proto__' }, 'piece-id-unusable'],
  ])('%s is refused', (_, piece, code) => {
    expect(codes(piece)).toContain(code);
  });

  it('at the very ends of their edge are allowed', () => {
    const side = front.edges.find((edge) => edge.id === 'side')!;
    expect(
      codes({
        ...front,
        notches: [
          { ...notch, distance: 0 },
          { ...notch, id: 'n2', edge: 'shoulder', distance: 105 },
        ],
      }),
    ).toEqual([]);
    expect(side.path).toHaveLength(1);
  });
});

describe('a garment', () => {
  const top = draftSleevelessTop();
  const fan: FanStep = {
    kind: 'fan',
    centre: 'centre-front',
    hem: 'hem',
    side: 'side',
    fullness: { downSide: 50, tilt: 0 },
    slashes: [
      { id: 's1', across: 0.3, tilt: 0, opening: { measure: 'chord', hem: 38.1, far: 0 } },
      { id: 's2', across: 0.6, tilt: 0, opening: { measure: 'arc', hem: 38.1 } },
    ],
    centreRule: 'parallel',
    sideTurn: 0,
  };

  function worked(recipe: Recipe, piece = 'front'): Garment {
    return { ...top, versions: [{ id: 'v', name: 'V', note: '', made: '2026-01-01', recipes: { [piece]: recipe } }] };
  }

  function garmentCodes(garment: Garment): string[] {
    return validateGarment(garment).map((each) => each.code);
  }

  it('that is sound has no problem, whatever it holds (300 runs)', () => {
    expect(garmentCodes(worked([fan]))).toEqual([]);
    fc.assert(
      fc.property(arbitraryGarment, (garment) => {
        expect(validateGarment(garment)).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });

  const first = { piece: 'front', edge: 'side' };
  const slash = fan.slashes[0]!;
  it.each<[string, Garment, string]>([
    ['two pieces of one id', { ...top, blocks: [front, { ...front }] }, 'piece-twice'],
    [
      'a seam to no edge',
      { ...top, seamLinks: [{ id: 's', first, second: { piece: 'back', edge: 'cuff' }, ease: 0 }] },
      'seam-edge-unknown',
    ],
    [
      'a seam to no piece',
      { ...top, seamLinks: [{ id: 's', first, second: { piece: 'yoke', edge: 'side' }, ease: 0 }] },
      'seam-edge-unknown',
    ],
    ['a seam to itself', { ...top, seamLinks: [{ id: 's', first, second: first, ease: 0 }] }, 'seam-to-itself'],
    ['a seam with NaN ease', { ...top, seamLinks: [{ ...top.seamLinks[0]!, ease: Number.NaN }] }, 'number-missing'],
    ['two seams of one id', { ...top, seamLinks: [top.seamLinks[0]!, top.seamLinks[0]!] }, 'seam-twice'],
    ['a recipe for no piece', worked([fan], 'yoke'), 'recipe-piece-unknown'],
    [
      'a recipe for an unlocked piece',
      { ...worked([fan]), blocks: [{ ...front, locked: false }, top.blocks[1]!] },
      'block-unlocked',
    ],
    [
      'a version called block',
      { ...top, versions: [{ id: 'block', name: 'V', note: '', made: '2026-01-01', recipes: {} }] },
      'version-id-unusable',
    ],
    [
      'a version without date',
      { ...top, versions: [{ id: 'v', name: 'V', note: '', made: 'once', recipes: {} }] },
      'version-undated',
    ],
    [
      'a nameless version',
      { ...top, versions: [{ id: 'v', name: '', note: '', made: '2026-01-01', recipes: {} }] },
      'version-unnamed',
    ],
    [
      'two versions of one id',
      { ...worked([]), versions: [...worked([]).versions, ...worked([]).versions] },
      'version-twice',
    ],
    ['no name', { ...top, name: ' ' }, 'garment-unnamed'],
    ['two fans', worked([fan, fan]), 'steps-out-of-order'],
    ['a fan on edges of another piece', worked([fan], 'back'), 'fan-edges-unknown'],
    ['a fan with one edge twice', worked([{ ...fan, side: 'hem' }]), 'fan-edges-unknown'],
    ['a slash on the centre line', worked([{ ...fan, slashes: [{ ...slash, across: 0 }] }]), 'slash-off-piece'],
    ['a slash past the side', worked([{ ...fan, slashes: [{ ...slash, across: 1.2 }] }]), 'slash-off-piece'],
    [
      'slashes past each other',
      worked([{ ...fan, slashes: [{ ...slash, across: 0.7 }, fan.slashes[1]!] }]),
      'slashes-out-of-order',
    ],
    ['two slashes of one id', worked([{ ...fan, slashes: [slash, { ...slash, across: 0.8 }] }]), 'slash-twice'],
    [
      'an opening of NaN',
      worked([{ ...fan, slashes: [{ ...slash, opening: { measure: 'angle', angle: Number.NaN } }] }]),
      'number-missing',
    ],
    [
      'a negative allowance',
      worked([{ kind: 'finish', seam: -1, hem: 20, byEdge: {}, mirrorHemEnds: true }]),
      'allowance-negative',
    ],
    [
      'an allowance for no edge',
      worked([{ kind: 'finish', seam: 10, hem: 20, byEdge: { cuff: 5 }, mirrorHemEnds: true }]),
      'allowance-edge-unknown',
    ],
  ])('with %s is refused', (_, garment, code) => {
    const problems = validateGarment(garment);
    expect(problems.map((each) => each.code)).toContain(code);
    for (const each of problems) expect(each.sentence).toMatch(/^[“A-Z].{10,}[.]$/u);
  });

  it('R1 may change anything but a locked block piece', () => {
    const [locked, other] = [front, { ...top.blocks[1]!, locked: false }];
    const before: Garment = { ...top, blocks: [locked, other] };
    expect(
      validateChange(before, { ...before, blocks: [structuredClone(locked), { ...other, name: 'Rear' }] }),
    ).toEqual([]);
    for (const changed of [
      { ...locked, name: 'Fore' },
      { ...locked, locked: false },
      { ...locked, labelAt: { x: 150, y: 441 } },
    ]) {
      expect(validateChange(before, { ...before, blocks: [changed, other] })).toMatchObject([{ code: 'block-locked' }]);
    }
    expect(validateChange(before, { ...before, blocks: [other] })).toMatchObject([
      { code: 'block-locked', where: { piece: 'front' } },
    ]);
    expect(validateChange(before, { ...before, blocks: [locked] })).toEqual([]);
  });
});
