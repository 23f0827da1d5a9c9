import { readFileSync } from 'node:fs';
import { type Point, point } from '../../../src/geometry/point';
import { cubic, line, type Path, type Segment } from '../../../src/geometry/segment';
import type { Edge, EdgeRole, Piece } from '../../../src/pattern/piece';

/** A plain piece from its edges; everything else empty unless given. */
export function pieceOf(name: string, edges: readonly Edge[], rest: Partial<Piece> = {}): Piece {
  return {
    id: name.toLowerCase().replaceAll(' ', '-'),
    name,
    edges,
    notches: [],
    grainline: null,
    fold: null,
    drillHoles: [],
    darts: [],
    internalLines: [],
    labelAt: null,
    cutCount: 1,
    size: null,
    ...rest,
  };
}

export function edge(id: string, role: EdgeRole, path: Path): Edge {
  return { id, name: id.replaceAll('-', ' '), role, path };
}

/** A rectangle with its upper left corner at the origin: left, hem, right, top. */
export function rectangle(width: number, height: number, rest: Partial<Piece> = {}): Piece {
  const a = point(0, 0);
  const b = point(0, height);
  const c = point(width, height);
  const d = point(width, 0);
  return pieceOf(
    'Rectangle',
    [
      edge('left', 'centre-front', [line(a, b)]),
      edge('hem', 'hem', [line(b, c)]),
      edge('right', 'side', [line(c, d)]),
      edge('top', 'waist', [line(d, a)]),
    ],
    rest,
  );
}

type Command = readonly ['M' | 'L' | 'C', ...number[]];

/** The piece of a reference case (cm, y up) in our frame (mm, y down), on the fold at its centre front if it has one. */
export function casePiece(file: string): Piece {
  const text = readFileSync(new URL(`../../fixtures/cases/${file}.json`, import.meta.url), 'utf8');
  const { piece } = JSON.parse(text) as {
    piece: {
      name: string;
      outline: { edge: string; path: Command[] }[];
      grainline?: [number, number][];
      notches?: { edge: string; fraction: number }[];
      drills?: [number, number][];
    };
  };
  const at = (x: number, y: number): Point => point(10 * x, -10 * y);
  const edges = piece.outline.map((e) => edge(e.edge, roleOf(e.edge), pathOf(e.path, at)));
  const grain = piece.grainline?.map(([x, y]) => at(x, y));
  return pieceOf('Bodice front', edges, {
    grainline: grain ? { start: grain[0]!, end: grain[1]! } : null,
    fold: edges.some((e) => e.id === 'centre-front') ? 'centre-front' : null,
    notches: (piece.notches ?? []).map((n, i) => ({
      id: `n${i}`,
      edge: n.edge,
      distance: n.fraction * chordLength(edges.find((e) => e.id === n.edge)!.path),
      style: i % 2 === 0 ? ('single' as const) : ('double' as const),
    })),
    drillHoles: (piece.drills ?? []).map(([x, y], i) => ({ id: `d${i}`, at: at(x, y) })),
  });
}

function pathOf(commands: readonly Command[], at: (x: number, y: number) => Point): Path {
  const segments: Segment[] = [];
  let from = point(0, 0);
  for (const [kind, ...n] of commands) {
    if (kind === 'L') segments.push(line(from, at(n[0]!, n[1]!)));
    if (kind === 'C') segments.push(cubic(from, at(n[0]!, n[1]!), at(n[2]!, n[3]!), at(n[4]!, n[5]!)));
    from = at(n[n.length - 2]!, n[n.length - 1]!);
  }
  return segments;
}

function roleOf(name: string): EdgeRole {
  const roles: Record<string, EdgeRole> = {
    hem: 'hem',
    side: 'side',
    armhole: 'armhole',
    shoulder: 'shoulder',
    neckline: 'neckline',
    'centre-front': 'centre-front',
    waist: 'waist',
  };
  return roles[name] ?? 'other';
}

function chordLength(path: Path): number {
  return path.reduce((sum, s) => sum + Math.hypot(s.end.x - s.start.x, s.end.y - s.start.y), 0);
}
