import fc from 'fast-check';
import { add, type Point, point, scale, subtract, unit } from '../../src/geometry/point';
import { compose, movePath, moveSegment, type RigidMove, shiftBy, turnAbout } from '../../src/geometry/rigidMove';
import {
  type CubicSegment,
  cubic,
  line,
  type Path,
  reversePath,
  type Segment,
  segmentPointAt,
} from '../../src/geometry/segment';
import type { Edge, EdgeRole, Piece } from '../../src/pattern/piece';

/** Garment-sized lengths, mm. */
const span = 1000;

/** Numbers of the stated range in steps of about a billionth of it (fast-check's doubles are mostly denormal). */
function real(min: number, max: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 2 ** 30 }).map((k) => min + (max - min) * (k / 2 ** 30));
}

/** A point of the sheet, mm; now and then on a coarse grid, so that equal and aligned coordinates come up. */
export function points(): fc.Arbitrary<Point> {
  const anywhere = fc.record({ x: real(-span, span), y: real(-span, span) });
  const onGrid = fc.record({ x: fc.integer({ min: -4, max: 4 }), y: fc.integer({ min: -4, max: 4 }) });
  return fc.oneof({ weight: 4, arbitrary: anywhere }, { weight: 1, arbitrary: onGrid.map((p) => scale(p, 100)) });
}

export function rigidMoves(): fc.Arbitrary<RigidMove> {
  return fc
    .tuple(points(), real(-Math.PI, Math.PI), points())
    .map(([centre, angle, shift]) => compose(shiftBy(shift), turnAbout(centre, angle)));
}

export function lines(): fc.Arbitrary<Segment> {
  return fc.tuple(points(), points()).map(([a, b]) => line(a, b));
}

/** A curve as pattern edges have them: handles of a third or so of the chord, bent to one side or both. */
export function gentleCubics(): fc.Arbitrary<CubicSegment> {
  return fc
    .tuple(
      points(),
      real(-Math.PI, Math.PI),
      real(5, 600),
      real(0.2, 0.5),
      real(0.2, 0.5),
      real(-0.7, 0.7),
      real(-0.7, 0.7),
    )
    .map(([start, heading, chord, h1, h2, lean1, lean2]) => {
      const direction = (lean: number) => point(Math.cos(heading + lean), Math.sin(heading + lean));
      const end = add(start, scale(direction(0), chord));
      return cubic(
        start,
        add(start, scale(direction(lean1), h1 * chord)),
        add(end, scale(direction(lean2), -h2 * chord)),
        end,
      );
    });
}

/** Two curves moved so that they pass through one point, at known parameters: pairs that are sure to meet. */
export function meetingCubics(
  curves: () => fc.Arbitrary<CubicSegment> = gentleCubics,
): fc.Arbitrary<{ readonly a: CubicSegment; readonly b: CubicSegment; readonly ta: number; readonly tb: number }> {
  const place = fc.oneof({ weight: 5, arbitrary: real(0, 1) }, { weight: 1, arbitrary: fc.constantFrom(0, 1) });
  return fc.tuple(curves(), curves(), place, place, real(-Math.PI, Math.PI)).map(([a, other, ta, tb, angle]) => {
    const turned = moveSegment(turnAbout(point(0, 0), angle), other);
    const shift = subtract(segmentPointAt(a, ta), segmentPointAt(turned, tb));
    return { a, b: moveSegment(shiftBy(shift), turned) as CubicSegment, ta, tb };
  });
}

/** Any four control points: loops, cusps, S-bends, and the degenerate kinds below. */
export function wildCubics(): fc.Arbitrary<CubicSegment> {
  const free = fc.tuple(points(), points(), points(), points()).map(([a, b, c, d]) => cubic(a, b, c, d));
  return fc.oneof({ weight: 3, arbitrary: free }, { weight: 2, arbitrary: nearDegenerateCubics() });
}

/** Cubics near the edge of sense: handles of no length, straight ones, near-cusps, tiny ones, repeated points. */
export function nearDegenerateCubics(): fc.Arbitrary<CubicSegment> {
  const tiny = fc.constantFrom(0, 1e-12, -1e-9, 1e-6, 1e-3);
  return fc.oneof(
    // No handle at the start, at the end, or at both.
    fc.tuple(points(), points(), points()).map(([a, b, c]) => cubic(a, a, b, c)),
    fc.tuple(points(), points(), points()).map(([a, b, c]) => cubic(a, b, c, c)),
    fc.tuple(points(), points()).map(([a, b]) => cubic(a, a, b, b)),
    // Control points on the chord, in order or not, and off it by a hair.
    fc.tuple(points(), points(), real(-0.5, 1.5), real(-0.5, 1.5), tiny).map(([a, b, s, t, off]) => {
      const along = (k: number) => point(a.x + (b.x - a.x) * k, a.y + (b.y - a.y) * k + off);
      return cubic(a, along(s), along(t), b);
    }),
    // Crossed handles of the cusp's length, and off it by a hair.
    fc
      .tuple(points(), real(10, 300), tiny)
      .map(([a, size, off]) =>
        cubic(a, point(a.x + size + off, a.y + size), point(a.x, a.y + size), point(a.x + size, a.y)),
      ),
    // A curve that is almost a point.
    fc.tuple(points(), points(), real(1e-6, 1e-2)).map(([a, b, size]) => {
      const u = scale(unit(b), size);
      return cubic(a, point(a.x + u.x, a.y), point(a.x, a.y + u.y), add(a, u));
    }),
  );
}

export function segments(): fc.Arbitrary<Segment> {
  return fc.oneof<fc.Arbitrary<Segment>[]>(lines(), gentleCubics(), wildCubics());
}

/** Lines and gentle curves laid end to start; open. */
export function paths(maxSegments = 6): fc.Arbitrary<Path> {
  const step = fc.record({
    length: real(1, 300),
    heading: real(-Math.PI, Math.PI),
    curved: fc.boolean(),
    lean1: real(-0.6, 0.6),
    lean2: real(-0.6, 0.6),
  });
  return fc.tuple(points(), fc.array(step, { minLength: 1, maxLength: maxSegments })).map(([from, steps]) => {
    let at = from;
    return steps.map((s): Segment => {
      const start = at;
      const direction = (lean: number) => point(Math.cos(s.heading + lean), Math.sin(s.heading + lean));
      at = add(start, scale(direction(0), s.length));
      if (!s.curved) return line(start, at);
      const handle = s.length / 3;
      return cubic(
        start,
        add(start, scale(direction(s.lean1), handle)),
        add(at, scale(direction(s.lean2), -handle)),
        at,
      );
    });
  });
}

/** A closed, simple outline of lines and gentle curves, in our orientation (counter-clockwise on screen), about `centre`. */
export function closedOutlines(): fc.Arbitrary<Path> {
  return fc
    .tuple(
      points(),
      fc.array(fc.record({ radius: real(150, 300), bulge: real(-0.06, 0.2) }), { minLength: 4, maxLength: 10 }),
    )
    .map(([centre, spokes]) => {
      const corner = (i: number) => {
        const angle = (-2 * Math.PI * i) / spokes.length;
        const { radius } = spokes[i % spokes.length]!;
        return point(centre.x + radius * Math.cos(angle), centre.y + radius * Math.sin(angle));
      };
      const corners = spokes.map((_, i) => corner(i));
      return spokes.map((spoke, i): Segment => {
        const start = corners[i]!;
        const end = corners[(i + 1) % corners.length]!;
        if (Math.abs(spoke.bulge) < 0.02) return line(start, end);
        // Handles pushed outward (to the right of travel, seen with y down: the quarter turn), a little inward at times.
        const out = scale(point(-(end.y - start.y), end.x - start.x), spoke.bulge);
        const third = scale(point(end.x - start.x, end.y - start.y), 1 / 3);
        return cubic(start, add(add(start, third), out), add(add(end, scale(third, -1)), out), end);
      });
    });
}

/** What the piece generator drew, for tests that need the numbers behind a piece. */
export interface PieceDraft {
  readonly kind: 'trapezoid' | 'skirt' | 'bodice';
  readonly piece: Piece;
  /** Edge ids, as a fan step names them. */
  readonly centre: string;
  readonly hem: string;
  readonly side: string;
  /** Straight length of the centre line and width at the hem before the random move, mm. */
  readonly height: number;
  readonly hemWidth: number;
}

/**
 * A pattern piece such as people fan: centre line, hem, side and top edges, some of them curved, the hem anything from
 * straight to well curved; turned and shifted at random, and half of the time mirrored (centre at the right).
 * Always in our orientation. `move: false` keeps it upright with its centre's top at the origin.
 */
export function pieceDrafts(
  options: { readonly move?: boolean; readonly mirror?: boolean } = {},
): fc.Arbitrary<PieceDraft> {
  const measures = fc.record({
    kind: fc.constantFrom('trapezoid' as const, 'skirt' as const, 'bodice' as const),
    height: real(350, 700),
    topWidth: real(150, 260),
    flare: real(0, 90),
    hemDip: real(0, 18),
    sideCurve: real(0, 14),
    sideRise: real(0, 15),
    mirrored: options.mirror === false ? fc.constant(false) : fc.boolean(),
    move: options.move === false ? fc.constant(null) : rigidMoves(),
  });
  return measures.map((m): PieceDraft => {
    const hemWidth = m.topWidth + m.flare;
    const named = uprightEdges(m.kind, m.height, m.topWidth, hemWidth, m.hemDip, m.sideCurve, m.sideRise);
    const mirrored = m.mirrored ? mirrorEdges(named) : named;
    const edges = m.move === null ? mirrored : mirrored.map((e) => ({ ...e, path: movePath(m.move!, e.path) }));
    const piece: Piece = {
      id: 'drawn',
      name: 'Drawn piece',
      edges,
      notches: [],
      grainline: null,
      fold: null,
      drillHoles: [],
      darts: [],
      internalLines: [],
      labelAt: null,
      cutCount: 2,
      size: null,
    };
    return { kind: m.kind, piece, centre: 'centre', hem: 'hem', side: 'side', height: m.height, hemWidth };
  });
}

/** Edges with the centre line at x = 0, top at y = 0, hem downwards: centre down, hem to the right, side up, top back. */
function uprightEdges(
  kind: PieceDraft['kind'],
  height: number,
  topWidth: number,
  hemWidth: number,
  hemDip: number,
  sideCurve: number,
  sideRise: number,
): Edge[] {
  const edge = (id: string, role: EdgeRole, path: Path): Edge => ({ id, name: id, role, path });
  const hemCentre = point(0, height);
  const hemSide = point(hemWidth, height - sideRise);
  const centreTop = point(0, kind === 'bodice' ? 90 : 0);
  const sideTop = point(topWidth, kind === 'bodice' ? 0.38 * height : -sideRise / 2);
  const centre = edge('centre', 'centre-front', [line(centreTop, hemCentre)]);
  // The hem leaves the centre square to it and dips by up to hemDip before rising to the side.
  const hem = edge('hem', 'hem', [
    kind === 'trapezoid' && hemDip < 6
      ? line(hemCentre, hemSide)
      : cubic(
          hemCentre,
          point(hemWidth / 3, height),
          point((2 * hemWidth) / 3, height - sideRise / 3 + hemDip / 4),
          hemSide,
        ),
  ]);
  const along = (k: number) => point(hemSide.x + (sideTop.x - hemSide.x) * k, hemSide.y + (sideTop.y - hemSide.y) * k);
  const side = edge('side', 'side', [
    sideCurve < 3
      ? line(hemSide, sideTop)
      : cubic(hemSide, along(1 / 3), add(along(2 / 3), point(sideCurve, 0)), sideTop),
  ]);
  if (kind !== 'bodice') {
    const waist = edge('waist', 'waist', [
      sideCurve < 5
        ? line(sideTop, centreTop)
        : cubic(sideTop, point((2 * topWidth) / 3, -sideRise / 4), point(topWidth / 3, 0), centreTop),
    ]);
    return [centre, hem, side, waist];
  }
  const shoulderTip = point(topWidth * 0.72, 0.05 * height);
  const neckPoint = point(topWidth * 0.36, 0);
  return [
    centre,
    hem,
    side,
    edge('armhole', 'armhole', [
      cubic(sideTop, point(topWidth * 0.74, sideTop.y), point(topWidth * 0.66, sideTop.y - 0.12 * height), shoulderTip),
    ]),
    edge('shoulder', 'shoulder', [line(shoulderTip, neckPoint)]),
    edge('neckline', 'neckline', [
      cubic(neckPoint, point(neckPoint.x, 50), point(neckPoint.x * 0.6, centreTop.y), centreTop),
    ]),
  ];
}

/** Mirrored left to right, each edge reversed and their order too, so that the orientation stays ours. */
function mirrorEdges(edges: readonly Edge[]): Edge[] {
  const flip = (p: Point) => point(-p.x, p.y);
  const flipped = (s: Segment): Segment =>
    s.kind === 'line'
      ? line(flip(s.start), flip(s.end))
      : cubic(flip(s.start), flip(s.control1), flip(s.control2), flip(s.end));
  return edges.map((edge) => ({ ...edge, path: reversePath(edge.path.map(flipped)) })).reverse();
}
