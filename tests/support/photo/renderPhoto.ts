import type { Picture } from '../../../src/exchange/photo/picture';
import type { PictureView, Quad } from '../../../src/exchange/photo/pictureView';
import type { Point } from '../../../src/geometry/point';
import type { Path } from '../../../src/geometry/segment';
import { seeded } from '../../exchange/svgMutate';
import { type Coverage, coverage } from './coverage';
import { seenAt, tableAt, viewOf } from './pinhole';
import type { Camera, Light, PhotoOptions, Scene, Sheet, WideShadow } from './scene';
import { expose, type Planes } from './sensor';
import { beside, chain, polygon, sheetCorners } from './shapes';
import { evenSurface, inkSurface, paperOpacity, paperSurface, type Surface, tableSurface } from './textures';

export interface PhotoTruth {
  /** The exact map from the picture to the table, mm. */
  readonly view: PictureView;
  /** The true outline on the table, mm; for a drawn piece the middle of the line. */
  readonly outline: Path | null;
  /** The sheet's corners on the picture, dots. */
  readonly sheet: Quad | null;
  /** The sheet's corners on the table, mm. */
  readonly sheetOnTable: Quad | null;
}

export interface Photo {
  readonly picture: Picture;
  readonly truth: PhotoTruth;
}

/**
 * A photograph of a table computed from its description, with all that a camera adds, and the truth beside it. Edges are
 * the exact area a shape covers of each dot, in linear light. The same arguments give the same picture.
 */
export function renderPhoto(scene: Scene, camera: Camera, options: PhotoOptions): Photo {
  const { width, height } = camera;
  const random = seeded(options.seed);
  const view = viewOf(camera);
  const canvas = new Canvas(view);
  const { light } = options;
  canvas.fill(tableSurface(scene.table, random));
  const paper = (path: Path, kind: 'sheet' | 'white' | 'kraft' | 'tissue') => {
    canvas.shade(path, light, light.paperShadow);
    canvas.paint([chain(path)], paperSurface(kind, random), paperOpacity[kind]);
  };
  if (scene.piece !== null) {
    const { look, path } = scene.piece;
    if (look.kind === 'pen') {
      paper(outlineOf(look.paper), 'white');
      const middle = chain(path, 1);
      const sides = [beside(middle, look.lineWidth / 2), beside(middle, -look.lineWidth / 2).reverse()];
      canvas.paint(sides, inkSurface(random), 0.95);
    } else paper(path, look.kind);
  }
  if (scene.sheet !== null) paper(outlineOf(scene.sheet), 'sheet');
  for (const thing of scene.clutter) {
    canvas.shade(thing.path, light, thing.thickness);
    canvas.paint([chain(thing.path)], evenSurface(thing.colour), thing.opacity);
  }
  canvas.illuminate(light);
  const onTable = scene.sheet === null ? null : sheetCorners(scene.sheet);
  return {
    picture: expose(canvas.planes, width, height, options.optics, random),
    truth: {
      view,
      outline: scene.piece?.path ?? null,
      sheetOnTable: onTable,
      sheet: onTable === null ? null : (onTable.map((corner) => seenAt(view, corner)) as unknown as Quad),
    },
  };
}

function outlineOf(sheet: Sheet): Path {
  return polygon(sheetCorners(sheet));
}

/** Linear light on the dots of a picture, painted from the table upwards. */
class Canvas {
  readonly planes: Planes;
  private readonly view: PictureView;

  constructor(view: PictureView) {
    this.view = view;
    const plane = () => new Float32Array(view.width * view.height);
    this.planes = [plane(), plane(), plane()];
  }

  fill(surface: Surface): void {
    const { width, height } = this.view;
    this.lay({ left: 0, top: 0, width, height, data: new Float32Array(width * height).fill(1) }, surface, 1);
  }

  paint(chains: readonly (readonly Point[])[], surface: Surface, opacity: number): void {
    const covered = this.covered(chains, { x: 0, y: 0 });
    if (covered !== null) this.lay(covered, surface, opacity);
  }

  /** The shadow beside a shape that stands `high` mm up: four thinner and thinner copies, so that its border is soft. */
  shade(path: Path, light: Light, high: number): void {
    if (high <= 0 || light.shadow <= 0) return;
    const points = chain(path);
    for (let step = 1; step <= 4; step++) {
      const by = (high * step) / 4;
      const covered = this.covered([points], { x: -by * Math.cos(light.from), y: -by * Math.sin(light.from) });
      if (covered !== null) this.darken(covered, 1 - (1 - light.shadow) ** (1 / 4));
    }
  }

  /** Light as it falls on the finished table. */
  illuminate(light: Light): void {
    const { width, height } = this.view;
    const c = Math.cos(light.from);
    const s = Math.sin(light.from);
    const [red, green, blue] = this.planes;
    const centre = tableAt(this.view, width / 2, height / 2);
    const half = (width * width + height * height) / 4;
    this.eachDot(0, 0, width, height, (i, x, y, px, py) => {
      const r2 = ((px - width / 2) ** 2 + (py - height / 2) ** 2) / half;
      let level =
        light.exposure *
        (1 - light.vignette * r2) *
        (1 + (light.slope * ((x - centre.x) * c + (y - centre.y) * s)) / 1000);
      for (const shade of light.wide) level *= 1 - shade.depth * within(shade, x, y);
      red[i] = red[i]! * level * light.cast[0];
      green[i] = green[i]! * level * light.cast[1];
      blue[i] = blue[i]! * level * light.cast[2];
    });
  }

  private covered(chains: readonly (readonly Point[])[], by: Point): Coverage | null {
    const loops = chains.map((points) => {
      const flat = new Float64Array(points.length * 2);
      points.forEach((point, i) => {
        const seen = seenAt(this.view, { x: point.x + by.x, y: point.y + by.y });
        flat[2 * i] = seen.x;
        flat[2 * i + 1] = seen.y;
      });
      return flat;
    });
    return coverage(loops, this.view.width, this.view.height);
  }

  private lay({ left, top, width, height, data }: Coverage, surface: Surface, opacity: number): void {
    const [red, green, blue] = this.planes;
    const out = new Float64Array(3);
    this.eachDot(left, top, width, height, (i, x, y, px, py, dot) => {
      const share = data[(py - 0.5 - top) * width + px - 0.5 - left]! * opacity;
      if (share === 0) return;
      surface(x, y, dot, out);
      red[i] = red[i]! + (out[0]! - red[i]!) * share;
      green[i] = green[i]! + (out[1]! - green[i]!) * share;
      blue[i] = blue[i]! + (out[2]! - blue[i]!) * share;
    });
  }

  private darken({ left, top, width, height, data }: Coverage, depth: number): void {
    for (let row = 0; row < height; row++) {
      for (let column = 0; column < width; column++) {
        const share = data[row * width + column]!;
        if (share === 0) continue;
        const i = (top + row) * this.view.width + left + column;
        for (const plane of this.planes) plane[i] = plane[i]! * (1 - depth * share);
      }
    }
  }

  /** Visits the dots of a box with their place on the table (mm), their middles (dots) and a dot's size there (mm). */
  private eachDot(
    left: number,
    top: number,
    width: number,
    height: number,
    visit: (i: number, x: number, y: number, px: number, py: number, dot: number) => void,
  ): void {
    const { width: w, height: h, lens, homography: m } = this.view;
    const mx = w / 2;
    const my = h / 2;
    const half = mx * mx + my * my;
    for (let row = top; row < top + height; row++) {
      const py = row + 0.5;
      let lastX = Number.NaN;
      let lastY = Number.NaN;
      let dot = 0.2;
      for (let column = left; column < left + width; column++) {
        const px = column + 0.5;
        const k = 1 + (lens * ((px - mx) ** 2 + (py - my) ** 2)) / half;
        const u = mx + (px - mx) * k;
        const v = my + (py - my) * k;
        const z = 1 / (m[6] * u + m[7] * v + m[8]);
        const x = (m[0] * u + m[1] * v + m[2]) * z;
        const y = (m[3] * u + m[4] * v + m[5]) * z;
        if (column > left) dot = Math.sqrt((x - lastX) ** 2 + (y - lastY) ** 2);
        lastX = x;
        lastY = y;
        visit(row * w + column, x, y, px, py, dot);
      }
    }
  }
}

/** 1 in the middle of a wide shadow, 0 outside it. */
function within(shade: WideShadow, x: number, y: number): number {
  const c = Math.cos(shade.angle);
  const s = Math.sin(shade.angle);
  const u = ((x - shade.at.x) * c + (y - shade.at.y) * s) / shade.rx;
  const v = ((y - shade.at.y) * c - (x - shade.at.x) * s) / shade.ry;
  const inside = ((1 - Math.sqrt(u * u + v * v)) * Math.min(shade.rx, shade.ry)) / shade.soft + 0.5;
  const t = Math.min(1, Math.max(0, inside));
  return t * t * (3 - 2 * t);
}
