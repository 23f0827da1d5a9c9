import { describe, expect, it } from 'vitest';
import { proposeCorners } from '../../src/exchange/cornerProposal';
import { joinLoosePaths } from '../../src/exchange/drawing/joinLoosePaths';
import { guessEdges } from '../../src/exchange/edgeGuesses';
import { buildPiece, type PieceAnswers } from '../../src/exchange/edgeNaming';
import { edgeParts } from '../../src/exchange/edgeParts';
import { smoothOutline } from '../../src/exchange/smoothOutline';
import { containsPoint, enclosedArea } from '../../src/geometry/area';
import { pathLength, pathPointAt } from '../../src/geometry/path';
import { distance, type Point } from '../../src/geometry/point';
import { cubic, line, type Path, reversePath } from '../../src/geometry/segment';
import { validatePiece } from '../../src/pattern/validate';
import { fixture, readScaled, succeeded } from './svgFixture';
import { bodiceFront, polygon } from './svgTrace';

const p = (x: number, y: number): Point => ({ x, y });
const mirrored = (path: Path): Path =>
  reversePath(
    path.map((segment) =>
      segment.kind === 'line'
        ? line(p(-segment.start.x, segment.start.y), p(-segment.end.x, segment.end.y))
        : cubic(
            p(-segment.start.x, segment.start.y),
            p(-segment.control1.x, segment.control1.y),
            p(-segment.control2.x, segment.control2.y),
            p(-segment.end.x, segment.end.y),
          ),
    ),
  );

function rolesOf(outline: Path, name = 'Front'): string[] {
  return guessEdges(succeeded(edgeParts(outline, proposeCorners(outline))), name).map(({ role }) => role);
}

const skirt: Path = [
  line(p(0, 0), p(0, 600)),
  cubic(p(0, 600), p(90, 600), p(180, 596), p(270, 590)),
  line(p(270, 590), p(245, 190)),
  cubic(p(245, 190), p(241, 120), p(225, 50), p(190, -10)),
  cubic(p(190, -10), p(120, 8), p(60, 0), p(0, 0)),
];

const sleeve: Path = [
  line(p(-100, 600), p(100, 600)),
  line(p(100, 600), p(160, 150)),
  cubic(p(160, 150), p(90, 140), p(80, 0), p(0, 0)),
  cubic(p(0, 0), p(-80, 0), p(-90, 140), p(-160, 150)),
  line(p(-160, 150), p(-100, 600)),
];

describe('guesses about edges', () => {
  it('a bodice front: hem, side, armhole, shoulder, neckline, centre front', () => {
    expect(rolesOf(bodiceFront)).toEqual(['hem', 'side', 'armhole', 'shoulder', 'neckline', 'centre-front']);
  });

  it('the same with the centre on the right, and for a back', () => {
    const roles = rolesOf(mirrored(bodiceFront), 'Top back');
    expect([...roles].sort()).toEqual(['armhole', 'centre-back', 'hem', 'neckline', 'shoulder', 'side']);
    const outline = mirrored(bodiceFront);
    const parts = succeeded(edgeParts(outline, proposeCorners(outline)));
    const lengths = new Map(roles.map((role, i) => [role, pathLength(parts[i]!)]));
    expect(lengths.get('centre-back')).toBeCloseTo(556, 9);
    expect(lengths.get('side')).toBeCloseTo(Math.hypot(10, 400), 9);
    expect(lengths.get('shoulder')).toBeCloseTo(Math.hypot(115, 40), 9);
  });

  it('a skirt: centre, hem, one side over the hip, waist', () => {
    expect(rolesOf(skirt, 'skirt_back')).toEqual(['centre-back', 'hem', 'side', 'waist']);
  });

  it('a sleeve: hem, underarm, head, underarm', () => {
    expect(rolesOf(sleeve, 'Sleeve')).toEqual(['hem', 'underarm', 'sleeve-head', 'underarm']);
  });

  it('a skirt drawn whole: two sides, and no centre line invented', () => {
    const outline = polygon([p(-270, 590), p(270, 590), p(190, 0), p(-190, 0)]);
    expect(rolesOf(outline)).toEqual(['hem', 'side', 'other', 'side']);
  });

  it('says why, and makes no guess where nothing fits', () => {
    const triangle = polygon([p(0, 0), p(150, 300), p(300, 140)]);
    const guesses = guessEdges(succeeded(edgeParts(triangle, proposeCorners(triangle))), '');
    expect(guesses.map(({ role }) => role)).toEqual(['other', 'other', 'other']);
    for (const { reason, name } of guesses) {
      expect(reason).toMatch(/\.$/);
      expect(name).not.toBe('');
    }
  });
});

describe('parts between corners', () => {
  it('share their ends exactly and are the outline again, wherever the corners are', () => {
    const corners = [
      { segment: 0, t: 0.3 },
      { segment: 0, t: 0.8 },
      { segment: 3, t: 0 },
      { segment: 5, t: 0.999 },
    ];
    const parts = succeeded(edgeParts(bodiceFront, corners));
    expect(parts).toHaveLength(4);
    parts.forEach((part, i) => {
      expect(part[0]!.start).toEqual(parts.at(i - 1)!.at(-1)!.end);
    });
    expect(enclosedArea(parts.flat())).toBeCloseTo(enclosedArea(bodiceFront), 6);
    expect(pathLength(parts.flat())).toBeCloseTo(pathLength(bodiceFront), 9);
  });

  it('a corner next to a point of the outline is that point: no slivers', () => {
    const parts = succeeded(
      edgeParts(bodiceFront, [
        { segment: 0, t: 0.00001 },
        { segment: 1, t: 1 },
      ]),
    );
    expect(parts.map((part) => part.length)).toEqual([2, 5]);
  });

  it.each([
    [[], 'too-few-corners'],
    [[{ segment: 0, t: 0 }], 'too-few-corners'],
    [
      [
        { segment: 0, t: 0 },
        { segment: 99, t: 0 },
      ],
      'corner-off-outline',
    ],
    [
      [
        { segment: 0, t: 0 },
        { segment: 1, t: Number.NaN },
      ],
      'corner-off-outline',
    ],
    [
      [
        { segment: 2, t: 0 },
        { segment: 1, t: 0 },
        { segment: 0, t: 0 },
      ],
      'corners-out-of-order',
    ],
    [
      [
        { segment: 2, t: 0 },
        { segment: 2, t: 0 },
      ],
      'corners-out-of-order',
    ],
  ])('%j is refused with %s', (corners, code) => {
    expect(edgeParts(bodiceFront, corners)).toMatchObject({ ok: false, code });
  });
});

const corners = [0, 1, 2, 4, 5, 6].map((segment) => ({ segment, t: 0 }));
const names = [
  ['Hem', 'hem'],
  ['Side seam', 'side'],
  ['Armhole', 'armhole'],
  ['Shoulder', 'shoulder'],
  ['Neckline', 'neckline'],
  ['Centre front', 'centre-front'],
] as const;
const answers: PieceAnswers = {
  id: 'front',
  name: ' Top front ',
  outline: bodiceFront,
  corners: corners.map((corner, i) => ({ ...corner, name: names[i]![0], role: names[i]![1] })),
  fold: 5,
  grainline: 'default',
  notches: [],
  drillHoles: [],
  cutCount: 1,
};

describe('a piece built from an outline', () => {
  it('has the edges named, the fold, a grainline along the centre line, and breaks no rule', () => {
    const piece = succeeded(buildPiece(answers));
    expect(validatePiece(piece)).toEqual([]);
    expect(piece).toMatchObject({ id: 'front', name: 'Top front', fold: 'centre-front', cutCount: 1 });
    expect(piece.edges.map(({ id, name, role }) => [id, name, role])).toEqual(
      names.map(([name, role]) => [role, name, role]),
    );
    expect(piece.edges.flatMap(({ path }) => path)).toEqual(bodiceFront);
    const { start, end } = piece.grainline!;
    expect(start.x).toBeCloseTo(end.x, 9);
    expect(end.y).toBeLessThan(start.y);
    for (const at of [start, end]) expect(containsPoint(bodiceFront, at)).toBe(true);
  });

  it('carries notches clicked near an edge to the edge, with their distance along it', () => {
    const side = pathPointAt([bodiceFront[1]!], 120).point;
    const piece = succeeded(
      buildPiece({
        ...answers,
        notches: [
          { at: p(side.x + 4, side.y + 0.1), style: 'single' },
          { at: p(228, 150), style: 'double' },
        ],
        drillHoles: [p(150, 300)],
      }),
    );
    expect(piece.notches.map(({ id, edge, style }) => [id, edge, style])).toEqual([
      ['notch-1', 'side', 'single'],
      ['notch-2', 'armhole', 'double'],
    ]);
    expect(piece.notches[0]!.distance).toBeCloseTo(120, 0);
    expect(piece.drillHoles).toEqual([{ id: 'hole-1', at: p(150, 300) }]);
  });

  it('draws a fold that wavers by a hair as one straight line, and refuses one that does not', () => {
    const wavering = (off: number): Path => [
      ...bodiceFront.slice(0, 6),
      line(p(50, 94), p(50 + off, 300)),
      line(p(50 + off, 300), p(50, 650)),
    ];
    const piece = succeeded(buildPiece({ ...answers, outline: wavering(0.3) }));
    expect(piece.edges.at(-1)!.path).toEqual([line(p(50, 94), p(50, 650))]);
    const refused = buildPiece({ ...answers, outline: wavering(3) });
    expect(refused).toMatchObject({
      ok: false,
      code: 'fold-not-straight',
      sentence: expect.stringContaining('3.0 mm'),
    });
    expect(buildPiece({ ...answers, outline: wavering(3), fold: null }).ok).toBe(true);
  });

  it('numbers edges of the same role and gives the others plain ids', () => {
    const piece = succeeded(
      buildPiece({
        ...answers,
        fold: null,
        corners: answers.corners.map((corner, i) => ({ ...corner, role: i < 2 ? 'side' : 'other' })),
      }),
    );
    expect(piece.edges.map(({ id }) => id)).toEqual(['side', 'side-2', 'edge-1', 'edge-2', 'edge-3', 'edge-4']);
  });

  it.each<[string, Partial<PieceAnswers>]>([
    ['piece-unnamed', { name: '  ' }],
    ['outline-open', { outline: bodiceFront.slice(0, 6) }],
    ['outline-open', { outline: [] }],
    ['outline-wrong-way', { outline: reversePath(bodiceFront) }],
    ['too-few-corners', { corners: [] }],
    ['edge-unnamed', { corners: answers.corners.map((corner, i) => (i === 3 ? { ...corner, name: ' ' } : corner)) }],
    ['fold-unknown', { fold: 17 }],
    ['fold-not-straight', { fold: 2 }],
    ['notch-off-outline', { notches: [{ at: p(150, 400), style: 'single' }] }],
    ['notch-off-outline', { notches: [{ at: p(Number.NaN, 400), style: 'single' }] }],
    ['hole-outside', { drillHoles: [p(9999, 0)] }],
    ['cut-count-wrong', { cutCount: 0 }],
    [
      'outline-crosses',
      {
        outline: polygon([p(0, 0), p(0, 500), p(400, 500), p(-40, 300), p(400, 0)]),
        corners: answers.corners.slice(0, 3).map((corner, i) => ({ ...corner, segment: i })),
        fold: null,
      },
    ],
  ])('is refused with %s and a sentence', (code, wrong) => {
    const outcome = buildPiece({ ...answers, ...wrong });
    expect(outcome).toMatchObject({ ok: false, code });
    expect(!outcome.ok && outcome.sentence).toMatch(/^[A-Z“].*\.$/);
  });

  it.each([
    ['traced-800.svg', ['hem', 'side', 'armhole', 'shoulder', 'neckline', 'centre-front'], 556],
    ['bodice-cm.svg', ['hem', 'side', 'armhole', 'shoulder', 'neckline', 'centre-front'], 554],
    ['loose-lines.svg', ['centre-front', 'hem', 'side', 'side', 'waist'], 600],
  ])('comes all the way from %s', (name, roles, centreLength) => {
    const { shapes } = readScaled(fixture(name));
    const [outline] = joinLoosePaths(shapes).outlines;
    const smooth = smoothOutline(outline!.path, proposeCorners(outline!.path));
    const guesses = guessEdges(succeeded(edgeParts(smooth.path, smooth.corners)), 'Front');
    expect(guesses.map(({ role }) => role).sort()).toEqual([...roles].sort());
    const fold = guesses.findIndex(({ role }) => role === 'centre-front');
    const piece = succeeded(
      buildPiece({
        ...answers,
        outline: smooth.path,
        corners: smooth.corners.map((corner, i) => ({ ...corner, ...guesses[i]! })),
        fold,
      }),
    );
    const centre = piece.edges[fold]!.path;
    expect(centre).toHaveLength(1);
    expect(Math.abs(distance(centre[0]!.start, centre[0]!.end) - centreLength)).toBeLessThan(0.3);
  });
});
