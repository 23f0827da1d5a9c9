import type { Point } from '../../geometry/point';
import { cubic, line, type Segment } from '../../geometry/segment';
import { arcCubics, arcFromEnds } from '../drawing/arc';
import { NumberReader } from './numbers';

/** One stroke of a path: from a move to the next. */
export interface SubPath {
  readonly segments: readonly Segment[];
  /** Closed by the file itself with `Z`; a closing line is among the segments unless the ends already meet. */
  readonly closed: boolean;
}

export interface PathReading {
  readonly subPaths: readonly SubPath[];
  /** Where reading stopped, counted in characters, or null when the whole text was understood. */
  readonly stoppedAt: number | null;
  /** Segments read, those without length included. */
  readonly count: number;
  /** True when there were more segments than allowed; the path is then useless. */
  readonly tooMany: boolean;
}

/**
 * Reads the `d` of a path, in its own units. Full SVG 2 grammar, relative commands, reflected handles and run-together
 * arc flags included; quadratics are raised exactly, arcs become cubics within 6.7e-8 of their radius.
 * As SVG asks, a path with a mistake in it is drawn up to the mistake and no further.
 */
export function readPathData(d: string, mostSegments: number): PathReading {
  return new PathReader(d, mostSegments).read();
}

const parameterCounts: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  S: 4,
  Q: 4,
  T: 2,
  A: 7,
  Z: 0,
};

class PathReader {
  private readonly numbers: NumberReader;
  private readonly subPaths: SubPath[] = [];
  private segments: Segment[] = [];
  private total = 0;
  private here: Point = { x: 0, y: 0 };
  private start: Point = { x: 0, y: 0 };
  /** Last handle of a cubic or quadratic just drawn, for S and T. */
  private cubicHandle: Point | null = null;
  private quadHandle: Point | null = null;

  constructor(
    d: string,
    private readonly mostSegments: number,
  ) {
    this.numbers = new NumberReader(d);
  }

  read(): PathReading {
    const { numbers } = this;
    let begun = false;
    numbers.skipSpace();
    while (!numbers.done) {
      const letterAt = numbers.at;
      const letter = numbers.text[letterAt]!;
      const command = letter.toUpperCase();
      const count = parameterCounts[command];
      if (count === undefined || (!begun && command !== 'M')) return this.finish(letterAt, begun);
      if (command === 'M') begun = true;
      numbers.at++;
      const stop = command === 'Z' ? this.close() : this.readRun(command, count, letter !== command);
      if (stop !== null) return this.finish(stop, begun);
      if (this.total > this.mostSegments) return this.finish(null, begun);
      numbers.skipSpace();
    }
    return this.finish(null, begun);
  }

  /** All parameter groups after one letter. Answers where a mistake stands, or null. */
  private readRun(command: string, count: number, relative: boolean): number | null {
    const { numbers } = this;
    numbers.skipSpace();
    let doing = command;
    for (;;) {
      const group = this.readGroup(command, count);
      if (typeof group === 'number') return group;
      this.draw(doing, group, relative);
      if (this.total > this.mostSegments) return null;
      // Further pairs after a move are lines.
      if (doing === 'M') doing = 'L';
      const before = numbers.at;
      const comma = numbers.skipSeparator();
      if (!startsNumber(numbers)) return comma ? before : null;
    }
  }

  private readGroup(command: string, count: number): number[] | number {
    const { numbers } = this;
    const group: number[] = [];
    for (let i = 0; i < count; i++) {
      if (i > 0) numbers.skipSeparator();
      const at = numbers.at;
      const value = command === 'A' && (i === 3 || i === 4) ? numbers.flag() : numbers.number();
      if (value === null) return at;
      group.push(Number(value));
    }
    return group;
  }

  private draw(command: string, n: readonly number[], relative: boolean): void {
    const ox = relative ? this.here.x : 0;
    const oy = relative ? this.here.y : 0;
    const at = (i: number): Point => ({ x: ox + n[i]!, y: oy + n[i + 1]! });
    const { here } = this;
    switch (command) {
      case 'M':
        this.endSubPath(false);
        this.start = at(0);
        this.total++;
        this.arrive(this.start, null, null);
        break;
      case 'L':
        this.lineTo(at(0));
        break;
      case 'H':
        this.lineTo({ x: ox + n[0]!, y: here.y });
        break;
      case 'V':
        this.lineTo({ x: here.x, y: oy + n[0]! });
        break;
      case 'C':
        this.cubicTo(at(0), at(2), at(4));
        break;
      case 'S':
        this.cubicTo(reflected(this.cubicHandle, here), at(0), at(2));
        break;
      case 'Q':
        this.quadTo(at(0), at(2));
        break;
      case 'T':
        this.quadTo(reflected(this.quadHandle, here), at(0));
        break;
      default:
        this.arcTo(n, at(5));
    }
  }

  private lineTo(end: Point): void {
    if (!same(this.here, end)) this.segments.push(line(this.here, end));
    this.total++;
    this.arrive(end, null, null);
  }

  private cubicTo(control1: Point, control2: Point, end: Point): void {
    const { here } = this;
    this.total++;
    if (!(same(here, control1) && same(here, control2) && same(here, end)))
      this.segments.push(cubic(here, control1, control2, end));
    this.arrive(end, control2, null);
  }

  private quadTo(control: Point, end: Point): void {
    const { here } = this;
    // Raised exactly: each cubic handle lies two thirds of the way to the quadratic one.
    this.cubicTo(twoThirds(here, control), twoThirds(end, control), end);
    this.arrive(end, null, control);
  }

  private arcTo(n: readonly number[], end: Point): void {
    const arc = arcFromEnds(this.here, end, n[0]!, n[1]!, n[2]!, n[3] === 1, n[4] === 1);
    if (!arc) {
      this.lineTo(end);
      return;
    }
    const cubics = arcCubics(arc, this.here, end);
    this.segments.push(...cubics);
    this.total += cubics.length;
    this.arrive(end, null, null);
  }

  private close(): null {
    if (!same(this.here, this.start)) this.lineTo(this.start);
    this.endSubPath(true);
    this.arrive(this.start, null, null);
    return null;
  }

  private arrive(end: Point, cubicHandle: Point | null, quadHandle: Point | null): void {
    this.here = end;
    this.cubicHandle = cubicHandle;
    this.quadHandle = quadHandle;
  }

  private endSubPath(closed: boolean): void {
    if (this.segments.length > 0) this.subPaths.push({ segments: this.segments, closed });
    this.segments = [];
  }

  private finish(stoppedAt: number | null, begun: boolean): PathReading {
    if (begun) this.endSubPath(false);
    return { subPaths: this.subPaths, stoppedAt, count: this.total, tooMany: this.total > this.mostSegments };
  }
}

function startsNumber(numbers: NumberReader): boolean {
  const code = numbers.text.charCodeAt(numbers.at);
  return (code >= 48 && code <= 57) || code === 43 || code === 45 || code === 46;
}

function reflected(handle: Point | null, here: Point): Point {
  return handle ? { x: 2 * here.x - handle.x, y: 2 * here.y - handle.y } : here;
}

function twoThirds(end: Point, control: Point): Point {
  return { x: end.x + (2 / 3) * (control.x - end.x), y: end.y + (2 / 3) * (control.y - end.y) };
}

function same(a: Point, b: Point): boolean {
  return a.x === b.x && a.y === b.y;
}
