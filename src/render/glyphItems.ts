import type { Glyph } from './drawing';
import type { Tokens } from './tokens';

/** What is needed to make paper items: the scope to make them in, colours, and device pixels per CSS pixel. */
export interface Brush {
  readonly scope: paper.PaperScope;
  readonly tokens: Tokens;
  readonly ratio: number;
  /** Fingers need larger knobs. */
  readonly coarse: boolean;
}

/** A sign drawn about the origin in CSS pixels, pointing right; its matrix is set by the caller. */
export function glyphItem(glyph: Glyph, brush: Brush): paper.Group {
  const { scope, tokens } = brush;
  const group = new scope.Group({ applyMatrix: false, insert: false });
  const ink = tokens.colour[glyph.ink];
  const paper = tokens.colour.sheet;
  const draw = new Drawer(brush, group);
  const state = glyph.state ?? 'plain';
  const large = brush.coarse ? 1.35 : 1;
  switch (glyph.kind) {
    case 'notch-single':
      draw.line([0, 0], [9, 0], ink, 1.5);
      break;
    case 'notch-double':
      draw.line([0, -2.5], [9, -2.5], ink, 1.5);
      draw.line([0, 2.5], [9, 2.5], ink, 1.5);
      break;
    case 'drill':
      draw.circle(4, { stroke: ink, width: 1.1 });
      draw.circle(1, { fill: ink });
      break;
    case 'arrow':
      draw.polygon(
        [
          [0, 0],
          [-9, -3.2],
          [-9, 3.2],
        ],
        ink,
      );
      break;
    case 'dot':
      draw.circle(2.6, { fill: ink });
      break;
    case 'square-corner':
      draw.open(
        [
          [9, 0],
          [9, 9],
          [0, 9],
        ],
        ink,
        1.1,
      );
      break;
    case 'snap':
      // Seen on any photograph.
      draw.line([-7, -7], [7, 7], paper, 4);
      draw.line([-7, 7], [7, -7], paper, 4);
      draw.line([-6, -6], [6, 6], ink, 1.4);
      draw.line([-6, 6], [6, -6], ink, 1.4);
      break;
    case 'knob':
      halo(draw, state, 12 * large, tokens);
      draw.circle(6 * large, { fill: state === 'selected' ? ink : paper, stroke: ink, width: 1.75 });
      break;
    case 'curve':
      halo(draw, state, 10 * large, tokens);
      draw.circle(4.5 * large, { fill: state === 'selected' ? ink : paper, stroke: ink, width: 1.5 });
      break;
    case 'node':
      halo(draw, state, 11 * large, tokens);
      draw.box(4 * large, 4 * large, 1.2, { fill: state === 'selected' ? ink : paper, stroke: ink, width: 1.5 });
      break;
    case 'ring':
      halo(draw, state, 11 * large, tokens);
      draw.circle(8 * large, { stroke: ink, width: state === 'selected' ? 1.75 : 1 });
      break;
    case 'slide':
      halo(draw, state, 12 * large, tokens);
      draw.box(3.6 * large, 7.5 * large, 3.6 * large, {
        fill: state === 'selected' ? ink : paper,
        stroke: ink,
        width: 1.6,
      });
      break;
  }
  return group;
}

function halo(draw: Drawer, state: NonNullable<Glyph['state']>, radius: number, tokens: Tokens): void {
  if (state !== 'plain') draw.circle(radius, { fill: tokens.colour.accent, alpha: 0.16 });
}

interface Look {
  readonly fill?: string;
  readonly stroke?: string;
  /** CSS pixels. */
  readonly width?: number;
  readonly alpha?: number;
}

type Spot = readonly [number, number];

class Drawer {
  constructor(
    private readonly brush: Brush,
    private readonly group: paper.Group,
  ) {}

  line(from: Spot, to: Spot, ink: string, width: number): void {
    this.open([from, to], ink, width);
  }

  open(spots: readonly Spot[], ink: string, width: number): void {
    this.add(new this.brush.scope.Path({ segments: this.points(spots), insert: false }), { stroke: ink, width });
  }

  polygon(spots: readonly Spot[], ink: string): void {
    this.add(new this.brush.scope.Path({ segments: this.points(spots), closed: true, insert: false }), { fill: ink });
  }

  circle(radius: number, look: Look): void {
    this.add(new this.brush.scope.Path.Circle({ center: [0, 0], radius, insert: false }), look);
  }

  box(halfWidth: number, halfHeight: number, radius: number, look: Look): void {
    const box = new this.brush.scope.Path.Rectangle({
      point: [-halfWidth, -halfHeight],
      size: [2 * halfWidth, 2 * halfHeight],
      radius,
      insert: false,
    });
    this.add(box, look);
  }

  private points(spots: readonly Spot[]): paper.Point[] {
    return spots.map(([x, y]) => new this.brush.scope.Point(x, y));
  }

  private add(path: paper.Path, look: Look): void {
    if (look.fill !== undefined) path.fillColor = new this.brush.scope.Color(look.fill);
    if (look.stroke !== undefined) {
      path.strokeColor = new this.brush.scope.Color(look.stroke);
      path.strokeWidth = look.width ?? 1;
      path.strokeJoin = 'round';
    }
    if (look.alpha !== undefined) path.opacity = look.alpha;
    this.group.addChild(path);
  }
}
