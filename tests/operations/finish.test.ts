import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readProject } from '../../src/exchange/project/projectFile';
import { containsPoint, enclosedArea } from '../../src/geometry/area';
import { flattenPath } from '../../src/geometry/flatten';
import { nearestOnPath } from '../../src/geometry/nearest';
import { pathLength } from '../../src/geometry/path';
import { distance, type Point, point } from '../../src/geometry/point';
import { cubic, line, type Path, segmentPointAt } from '../../src/geometry/segment';
import { defaultFan } from '../../src/operations/fan';
import { defaultFinish, finish } from '../../src/operations/finish';
import { crossesItself } from '../../src/operations/finishing/simpleLoop';
import { workPiece } from '../../src/operations/recipe';
import type { CutLine } from '../../src/operations/worked';
import type { Piece } from '../../src/pattern/piece';
import type { FinishStep } from '../../src/pattern/recipe';
import { casePiece, edge, pieceOf, rectangle } from '../print/support/pieces';

function cut(piece: Piece, step: Partial<FinishStep> = {}): CutLine {
  const outcome = finish(piece, { ...defaultFinish(), ...step });
  if (!outcome.ok) throw new Error(`${outcome.code}: ${outcome.sentence}`);
  return outcome.value;
}

function refusal(piece: Piece, step: Partial<FinishStep>): { code: string; sentence: string } {
  const outcome = finish(piece, { ...defaultFinish(), ...step });
  if (outcome.ok) throw new Error('expected a refusal');
  return outcome;
}

function corners(path: Path): Point[] {
  return path.map((s) => s.start);
}

function hasCorner(path: Path, x: number, y: number, within = 1e-9): boolean {
  return corners(path).some((p) => distance(p, point(x, y)) <= within);
}

/** The four-cubic circle, counter-clockwise as seen on screen. */
function circle(radius: number): Path {
  const k = radius * 0.5522847498307936;
  const r = radius;
  return [
    cubic(point(r, 0), point(r, -k), point(k, -r), point(0, -r)),
    cubic(point(0, -r), point(-k, -r), point(-r, -k), point(-r, 0)),
    cubic(point(-r, 0), point(-r, k), point(-k, r), point(0, r)),
    cubic(point(0, r), point(k, r), point(r, k), point(r, 0)),
  ];
}

function polygon(points: readonly Point[], role: 'side' | 'other' = 'other'): Piece {
  return pieceOf(
    'Polygon',
    points.map((p, i) => edge(`e${i}`, role, [line(p, points[(i + 1) % points.length]!)])),
  );
}

describe('R20 allowances on straight edges', () => {
  it('gives a rectangle with four widths its exact corners and area (closed form)', () => {
    const { path } = cut(rectangle(200, 300), { byEdge: { left: 7, right: 12, top: 3, hem: 40 } });
    for (const [x, y] of [
      [-7, -3],
      [-7, 340],
      [212, 340],
      [212, -3],
    ] as const) {
      expect(hasCorner(path, x, y)).toBe(true);
    }
    expect(path).toHaveLength(4);
    expect(enclosedArea(path)).toBeCloseTo((200 + 7 + 12) * (300 + 3 + 40), 6);
  });

  it('uses seam and hem widths, and nothing on the fold whatever is typed for it', () => {
    const { path } = cut(rectangle(200, 300, { fold: 'left' }), { byEdge: { left: 30 } });
    expect(enclosedArea(path)).toBeCloseTo(215 * (300 + 15 + 20), 6);
    expect(Math.min(...corners(path).map((p) => p.x))).toBeCloseTo(0, 9);
  });

  it('mitres a regular polygon: area grows by P d + d^2 sum tan(turn / 2) (closed form)', () => {
    for (const n of [3, 4, 5, 8, 13]) {
      const points = Array.from({ length: n }, (_, i) => {
        const angle = (-2 * Math.PI * i) / n;
        return point(150 * Math.cos(angle), 150 * Math.sin(angle));
      });
      const side = 2 * 150 * Math.sin(Math.PI / n);
      const area = 0.5 * n * 150 * 150 * Math.sin((2 * Math.PI) / n);
      const { path } = cut(polygon(points), { seam: 10 });
      expect(enclosedArea(path)).toBeCloseTo(area + n * side * 10 + 100 * n * Math.tan(Math.PI / n), 6);
    }
  });

  it('squares off the tip of a very sharp corner at three times the allowance', () => {
    const sharp = polygon([point(0, 0), point(0, 30), point(400, 15)]);
    const { path } = cut(sharp, { seam: 10 });
    const reach = Math.max(
      ...flattenPath(path, 0.01)
        .map((p) => distance(p, point(400, 15)))
        .filter((d) => d < 200),
    );
    const tip = corners(path).filter((p) => p.x > 400);
    expect(Math.max(...tip.map((p) => p.x))).toBeCloseTo(430, 6);
    expect(tip).toHaveLength(2);
    expect(reach).toBeLessThan(45);
  });

  it('steps out square to the wide side where two edges run on straight into one another', () => {
    const piece = pieceOf('Strip', [
      edge('left', 'side', [line(point(0, 0), point(0, 100))]),
      edge('first', 'side', [line(point(0, 100), point(120, 100))]),
      edge('second', 'side', [line(point(120, 100), point(200, 100))]),
      edge('right', 'side', [line(point(200, 100), point(200, 0))]),
      edge('top', 'side', [line(point(200, 0), point(0, 0))]),
    ]);
    const { path } = cut(piece, { seam: 10, byEdge: { second: 25 } });
    expect(hasCorner(path, 120, 110)).toBe(true);
    expect(hasCorner(path, 120, 125)).toBe(true);
    expect(enclosedArea(path)).toBeCloseTo(220 * 120 + 90 * 15, 6);
  });

  it('cuts both edges where they cross at an inward corner (L shape, closed form)', () => {
    const l = polygon([point(0, 0), point(0, 200), point(200, 200), point(200, 120), point(80, 120), point(80, 0)]);
    const { path } = cut(l, { seam: 10, byEdge: { e3: 30 } });
    expect(hasCorner(path, 90, 90)).toBe(true);
    expect(enclosedArea(path)).toBeCloseTo(100 * 220 + 120 * 120, 6);
  });
});

describe('allowances on curves', () => {
  it('grows a circle as Steiner says: A + L d + pi d^2, and stays d away everywhere', () => {
    const radius = 80;
    const piece = pieceOf('Disc', [edge('rim', 'other', circle(radius))]);
    const { path } = cut(piece, { seam: 15 });
    const area = enclosedArea(circle(radius));
    const length = pathLength(circle(radius));
    expect(enclosedArea(path)).toBeCloseTo(area + length * 15 + Math.PI * 225, 0);
    expect(Math.abs(enclosedArea(path) - (area + length * 15 + Math.PI * 225))).toBeLessThan(0.003 * pathLength(path));
    for (const p of flattenPath(path, 0.01)) {
      expect(Math.abs(nearestOnPath(circle(radius), p).distance - 15)).toBeLessThan(0.004);
    }
  });

  it('keeps the allowance true along every edge of a bodice front', () => {
    const piece = casePiece('O03-bodice-front-parallel');
    const { path } = cut(piece, { seam: 12, hem: 30 });
    for (const e of piece.edges) {
      if (e.id === piece.fold) continue;
      const width = e.role === 'hem' ? 30 : 12;
      const inner = flattenPath(e.path, 0.05);
      for (const p of inner.slice(1, -1)) {
        expect(nearestOnPath(path, p).distance).toBeLessThan(width + 0.004);
      }
    }
    for (const p of flattenPath(path, 0.05)) {
      const outline = piece.edges.flatMap((e) => e.path);
      expect(nearestOnPath(outline, p).distance).toBeLessThan(12 * 3 + 30);
    }
  });

  it('never lets the cut line cross the fold, at a round neck or a pointed one', () => {
    const vNeck = pieceOf(
      'V front',
      [
        edge('fold', 'centre-front', [line(point(0, 100), point(0, 400))]),
        edge('hem', 'hem', [line(point(0, 400), point(200, 410))]),
        edge('side', 'side', [line(point(200, 410), point(180, 0))]),
        edge('shoulder', 'shoulder', [line(point(180, 0), point(70, -30))]),
        edge('neck', 'neckline', [line(point(70, -30), point(0, 100))]),
      ],
      { fold: 'fold' },
    );
    for (const piece of [vNeck, casePiece('O03-bodice-front-parallel')]) {
      const { path } = cut(piece, {});
      expect(Math.min(...flattenPath(path, 0.01).map((p) => p.x))).toBeGreaterThan(-1e-9);
      expect(crossesItself(flattenPath(path, 0.02).slice(0, -1))).toBe(false);
    }
    // Unfolded, the two allowances of the V meet on the fold: 15 / sin(half the opening angle) above the point.
    const half = Math.atan2(70, 130);
    expect(hasCorner(cut(vNeck).path, 0, 100 - 15 / Math.sin(half), 1e-9)).toBe(true);
  });
});

describe('R20 hem ends mirrored at the fold', () => {
  /** A trapezoid whose sides lean outward (flare) by `lean` mm over 300. */
  function flared(lean: number): Piece {
    return pieceOf('Flared', [
      edge('left', 'side', [line(point(0, 0), point(-lean, 300))]),
      edge('hem', 'hem', [line(point(-lean, 300), point(200 + lean, 300))]),
      edge('right', 'side', [line(point(200 + lean, 300), point(200, 0))]),
      edge('top', 'waist', [line(point(200, 0), point(0, 0))]),
    ]);
  }

  it('shifts each end by h tan t from the cut line at the fold (arithmetic)', () => {
    for (const lean of [-60, -20, 0, 15, 80]) {
      const { path } = cut(flared(lean), { seam: 15, hem: 40 });
      const atFold = 200 + lean + (15 * Math.hypot(lean, 300)) / 300;
      expect(hasCorner(path, atFold - (40 * lean) / 300, 340, 1e-6)).toBe(true);
      expect(hasCorner(path, -lean - (15 * Math.hypot(lean, 300)) / 300 + (40 * lean) / 300, 340, 1e-6)).toBe(true);
    }
  });

  it('lays every point of the turned end on the cut line of the side, within 0.05 mm', () => {
    for (const lean of [-60, 15, 80]) {
      const piece = flared(lean);
      const { path } = cut(piece, { seam: 15, hem: 40 });
      // Only what lies below the fold and at the ends of the hem, folded up about y = 300.
      const ends = densely(path).filter((p) => p.y > 300 && p.y < 340 - 1e-6);
      expect(ends.length).toBeGreaterThan(20);
      for (const p of ends) {
        const folded = point(p.x, 600 - p.y);
        expect(nearestOnPath(path, folded).distance).toBeLessThan(0.05);
      }
    }
  });

  it('lays the turned end on a curved side too', () => {
    const curved = pieceOf('Curved side', [
      edge('left', 'side', [line(point(0, 0), point(0, 300))]),
      edge('hem', 'hem', [line(point(0, 300), point(220, 300))]),
      edge('right', 'side', [cubic(point(220, 300), point(200, 230), point(215, 100), point(190, 0))]),
      edge('top', 'waist', [line(point(190, 0), point(0, 0))]),
    ]);
    const { path } = cut(curved, { seam: 10, hem: 50 });
    for (const p of densely(path).filter((q) => q.y > 300 && q.y < 350 - 1e-6)) {
      expect(nearestOnPath(path, point(p.x, 600 - p.y)).distance).toBeLessThan(0.05);
    }
  });

  it('mirrors at a curved hem about its tangent, and the turned end again meets the side', () => {
    const round = pieceOf('Round hem', [
      edge('left', 'centre-front', [line(point(0, 0), point(0, 300))]),
      edge('hem', 'hem', [cubic(point(0, 300), point(80, 300), point(150, 280), point(210, 240))]),
      edge('right', 'side', [line(point(210, 240), point(150, 0))]),
      edge('top', 'waist', [line(point(150, 0), point(0, 0))]),
    ]);
    const { path } = cut(round, { seam: 10, hem: 25, byEdge: { left: 0 } });
    const hem = round.edges[1]!.path;
    const along = { x: 60 / Math.hypot(60, 40), y: -40 / Math.hypot(60, 40) };
    const beyond = (p: Point) => (p.y - 240) * along.x - (p.x - 210) * along.y;
    const near = densely(path).filter(
      (p) => beyond(p) > 0.01 && beyond(p) < 24.99 && p.x > 200 && Math.abs(nearestOnPath(hem, p).distance - 25) > 0.01,
    );
    expect(near.length).toBeGreaterThan(10);
    for (const p of near) {
      const b = beyond(p);
      const folded = point(p.x + 2 * b * along.y, p.y - 2 * b * along.x);
      expect(nearestOnPath(path, folded).distance).toBeLessThan(0.05);
    }
  });

  it('leaves the ends mitred when mirroring is off, and when the side leans too far', () => {
    const off = cut(flared(80), { seam: 15, hem: 40, mirrorHemEnds: false });
    expect(Math.max(...corners(off.path).map((p) => p.x))).toBeGreaterThan(290);
    const wild = cut(flared(700), { seam: 15, hem: 40 });
    expect(crossesItself(flattenPath(wild.path, 0.02).slice(0, -1))).toBe(false);
  });

  it('gives the hem fold from cut line to cut line', () => {
    const { hemFold, path } = cut(flared(30), { seam: 15, hem: 40 });
    const fold = hemFold!;
    for (const end of [fold[0]!.start, fold[fold.length - 1]!.end]) {
      expect(end.y).toBeCloseTo(300, 9);
      expect(nearestOnPath(path, end).distance).toBeLessThan(1e-6);
    }
    expect(cut(rectangle(100, 100), { hem: 0 }).hemFold).toBeNull();
  });
});

describe('allowances that get in each other’s way', () => {
  const slit = (opening: number): Piece =>
    polygon([
      point(0, 0),
      point(0, 200),
      point(300, 200),
      point(300, 0),
      point(150 + opening / 2, 0),
      point(150, 120),
      point(150 - opening / 2, 0),
    ]);

  it('unites them when the plain cut line crosses itself, and the result is simple and covers the piece', () => {
    const { path } = cut(slit(24), { seam: 15, byEdge: { e4: 6, e5: 6 } });
    expect(crossesItself(flattenPath(path, 0.02).slice(0, -1))).toBe(false);
    expect(enclosedArea(path)).toBeGreaterThan(enclosedArea(slit(24).edges.flatMap((e) => e.path)));
  });

  it('refuses when the allowances swallow an edge', () => {
    const answer = refusal(slit(20), { seam: 30 });
    expect(answer.code).toBe('allowance-swallows-edge');
    expect(answer.sentence).toMatch(/e4|e5/);
  });

  it('refuses when they close over an opening', () => {
    // A bottle-shaped opening: a narrow neck that closes, a wide belly that stays.
    const bottle = polygon([
      point(0, 0),
      point(0, 300),
      point(300, 300),
      point(300, 0),
      point(156, 0),
      point(156, 60),
      point(230, 80),
      point(230, 200),
      point(70, 200),
      point(70, 80),
      point(144, 60),
      point(144, 0),
    ]);
    expect(refusal(bottle, { seam: 15 }).code).toBe('allowance-closes-opening');
  });

  it('refuses widths that make no sense, each with a sentence that names the edge', () => {
    const piece = rectangle(100, 100);
    expect(refusal(piece, { byEdge: { top: -3 } })).toMatchObject({ code: 'allowance-negative' });
    expect(refusal(piece, { byEdge: { top: Number.NaN } })).toMatchObject({ code: 'allowance-not-a-number' });
    expect(refusal(piece, { hem: 5000 })).toMatchObject({ code: 'allowance-too-wide' });
    expect(refusal(piece, { byEdge: { top: -3 } }).sentence).toContain('top');
  });

  it('answers the outline itself when every allowance is nothing', () => {
    const piece = casePiece('O03-bodice-front-parallel');
    const { path } = cut(piece, { seam: 0, hem: 0 });
    expect(enclosedArea(path)).toBeCloseTo(enclosedArea(piece.edges.flatMap((e) => e.path)), 6);
  });
});

describe('allowances on real pieces', () => {
  const cases = readdirSync(new URL('../fixtures/cases/', import.meta.url)).map((name) => name.replace(/\.json$/, ''));

  it.each(cases)('finish the piece of %s in one simple line', (name) => {
    const piece = casePiece(name);
    const { path } = cut(piece, { hem: 30 });
    expect(crossesItself(flattenPath(path, 0.02).slice(0, -1))).toBe(false);
    expect(enclosedArea(path)).toBeGreaterThan(enclosedArea(piece.edges.flatMap((e) => e.path)));
  });

  it('finish a piece that is fanned but not yet trued, for few and many slashes and any opening', () => {
    const front = sampleFront();
    for (const slashes of [1, 4, 24]) {
      for (const total of [20, 150, 400]) {
        const fan = defaultFan(front, { downSide: 50, slashes, opening: total / slashes });
        if (!fan.ok) throw new Error(fan.sentence);
        const worked = workPiece(front, [fan.value, defaultFinish()]);
        if (!worked.ok) throw new Error(`${slashes} slashes, ${total} mm: ${worked.sentence}`);
        expect(crossesItself(flattenPath(worked.value.cutLine!.path, 0.02).slice(0, -1))).toBe(false);
      }
    }
  });

  it('goes straight on to the corner where a neckline bends more tightly than its allowance', () => {
    // Radius of curvature at the end of this neckline: 10.9 mm, so an allowance of 15 mm would run backwards there.
    const neck = cubic(point(80, 26), point(36, 26), point(4.258, 13.106), point(0, 0));
    const piece = pieceOf('Back', [
      edge('neckline', 'neckline', [neck]),
      edge('shoulder', 'shoulder', [line(point(0, 0), point(-100, 32))]),
      edge('side', 'side', [line(point(-100, 32), point(-100, 300))]),
      edge('hem', 'hem', [line(point(-100, 300), point(80, 300))]),
      edge('centre', 'centre-back', [line(point(80, 300), point(80, 26))]),
    ]);
    const { path } = cut(piece, { seam: 15 });
    // Still curves, not the chords of a union.
    expect(path.length).toBeLessThan(20);
    expect(crossesItself(flattenPath(path, 0.005).slice(0, -1))).toBe(false);
    for (let t = 0; t <= 1; t += 0.02) {
      // Only the small barb at the tight end is cut off; elsewhere the width is exact.
      const { distance: width } = nearestOnPath(path, segmentPointAt(neck, t));
      expect(width).toBeGreaterThan(14.95);
      expect(width).toBeLessThan(15.05);
    }
  });

  it('R20 trims a neckline tighter than its allowance like scissors, without a hole or a dent at the neck point', () => {
    // Hand-made backs: the neckline bends more tightly than the allowance at both ends, and meets the shoulder sharply.
    const necks = [
      { width: 15, neck: cubic(point(41.85, 39.97), point(38.34, 39.97), point(-1.75, 19.1), point(0, 0)), drop: 4.84 },
      { width: 20, neck: cubic(point(79.68, 44.59), point(66.64, 44.59), point(7.71, 10.08), point(0, 0)), drop: 15 },
      { width: 10, neck: cubic(point(40.19, 35.12), point(34.07, 35.12), point(0.3, 11.15), point(0, 0)), drop: 30.6 },
    ];
    for (const { width, neck, drop } of necks) {
      const right = neck.start.x;
      const piece = pieceOf('Back', [
        edge('neckline', 'neckline', [neck]),
        edge('shoulder', 'shoulder', [line(point(0, 0), point(-100, drop))]),
        edge('side', 'side', [line(point(-100, drop), point(-100, 300))]),
        edge('hem', 'hem', [line(point(-100, 300), point(right, 300))]),
        edge('centre', 'centre-back', [line(point(right, 300), neck.start)]),
      ]);
      const { path } = cut(piece, { seam: width });
      // All cloth nearer to the neck point than the allowance, on the neckline's side of the shoulder, stays on the piece.
      const neckNormal = Math.atan2(-neck.control2.x, neck.control2.y);
      const shoulderNormal = Math.atan2(-100, -drop);
      for (let share = 0; share <= 1; share += 0.05) {
        const angle = neckNormal + share * (shoulderNormal - neckNormal);
        for (const part of [0.2, 0.5, 0.8, 0.99]) {
          const p = point(part * width * Math.cos(angle), part * width * Math.sin(angle));
          expect(containsPoint(path, p) || nearestOnPath(path, p).distance < 0.1).toBe(true);
        }
      }
    }
  });
});

function sampleFront(): Piece {
  const read = readProject(readFileSync(new URL('../../public/samples/sleeveless-top.json', import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(read.sentence);
  return read.value.blocks.find((b) => b.id === 'front')!;
}

function densely(path: Path): Point[] {
  return path.flatMap((s) => {
    const steps = Math.max(4, Math.ceil(distance(s.start, s.end)));
    return Array.from({ length: steps }, (_, i) => {
      const t = i / steps;
      if (s.kind === 'line') return point(s.start.x + t * (s.end.x - s.start.x), s.start.y + t * (s.end.y - s.start.y));
      const u = 1 - t;
      const f = (a: number, b: number, c: number, d: number) =>
        u * u * u * a + 3 * u * u * t * b + 3 * u * t * t * c + t * t * t * d;
      return point(
        f(s.start.x, s.control1.x, s.control2.x, s.end.x),
        f(s.start.y, s.control1.y, s.control2.y, s.end.y),
      );
    });
  });
}
