import type { Point } from '../../geometry/point';
import { invert, movePoint, type RigidMove, stayPut } from '../../geometry/rigidMove';
import type { Picture } from './picture';
import type { PictureView } from './pictureView';
import { type Block, blockSide, sampleBlock } from './sampleBlock';
import { toPicture } from './viewPoint';

/** A part of the table seen straight from above. */
export interface FlatPicture {
  readonly picture: Picture;
  /** mm: where the upper left corner of the picture lies on the table. */
  readonly origin: Point;
  readonly dotsPerMm: number;
}

/** A part of the table, mm. */
export interface TablePart {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** One of several pictures of a table, and the move from its own table (mm) to the common one. */
export interface PictureOnTable {
  readonly picture: Picture;
  readonly view: PictureView;
  readonly move: RigidMove;
}

/** Pictures change over to each other across this share of a picture's half diagonal, so that no hard seam shows. */
const blend = 0.05;

/**
 * A part of the table as a picture of even scale. Between block corners places are off by less than 0.01 dot. Dots are
 * mixed from four neighbours, or averaged where the picture shows more than the result can hold. Where the picture shows
 * nothing the opacity is 0.
 */
export function flatPicture(picture: Picture, view: PictureView, part: TablePart, dotsPerMm: number): FlatPicture {
  return joinFlat([{ picture, view, move: stayPut }], part, dotsPerMm);
}

/** Several pictures laid on one table; every place is taken from the picture that shows it nearest to its own middle. */
export function joinFlat(parts: readonly PictureOnTable[], part: TablePart, dotsPerMm: number): FlatPicture {
  const width = Math.max(1, Math.round((part.maxX - part.minX) * dotsPerMm));
  const height = Math.max(1, Math.round((part.maxY - part.minY) * dotsPerMm));
  const origin = { x: part.minX, y: part.minY };
  const data = new Uint8ClampedArray(width * height * 4);
  const grids = parts.map((one) => gridOf(one, width, height, origin, dotsPerMm));
  const corners = grids.map(() => new Float64Array(8));
  for (let top = 0; top < height; top += blockSide) {
    for (let left = 0; left < width; left += blockSide) {
      const block = {
        left,
        top,
        width: Math.min(blockSide, width - left),
        height: Math.min(blockSide, height - top),
      };
      let only = -1;
      let count = 0;
      for (let i = 0; i < grids.length; i++) {
        cornersOf(grids[i]!, left / blockSide, top / blockSide, corners[i]!);
        if (!shows(grids[i]!, corners[i]!)) continue;
        only = i;
        count++;
      }
      if (count === 1) sampleBlock(grids[only]!.picture, corners[only]!, block, data, width);
      else if (count > 1) mix(grids, corners, block, data, width);
    }
  }
  return { picture: { width, height, data }, origin, dotsPerMm };
}

/** Blends the block from the pictures that show it, each weighing more the nearer the place lies to its middle. */
function mix(
  grids: readonly Grid[],
  corners: readonly Float64Array[],
  block: Block,
  data: Uint8ClampedArray,
  width: number,
): void {
  const shown = grids.flatMap((grid, i) => {
    const c = corners[i]!;
    return shows(grid, c) ? [{ grid, c, distances: distancesOf(grid, c) }] : [];
  });
  // Where one is the nearest by far at every corner, or the others are not there at all, it alone is drawn.
  const best = shown.reduce((p, q) => (Math.max(...q.distances) < Math.max(...p.distances) ? q : p));
  const bestFarthest = Math.max(...best.distances);
  const bestCovers = best.c.every(
    (v, i) => v >= 0 && v <= (i % 2 === 0 ? best.grid.picture.width : best.grid.picture.height),
  );
  if (bestCovers && shown.every((one) => one === best || Math.min(...one.distances) > bestFarthest + blend)) {
    sampleBlock(best.grid.picture, best.c, block, data, width);
    return;
  }
  const sums = new Float64Array(blockSide * blockSide * 5);
  const own = new Uint8ClampedArray(blockSide * blockSide * 4);
  for (const { grid, c, distances } of shown) {
    own.fill(0);
    sampleBlock(grid.picture, c, { ...block, left: 0, top: 0 }, own, blockSide);
    for (let y = 0; y < block.height; y++) {
      for (let x = 0; x < block.width; x++) {
        const at = y * blockSide + x;
        if (own[4 * at + 3] === 0) continue;
        let nearest = Number.POSITIVE_INFINITY;
        for (const one of shown) nearest = Math.min(nearest, between(one.distances, x, y));
        // A place shown by one picture alone keeps a weight above nothing.
        const weight = Math.max(1e-3, 1 - (between(distances, x, y) - nearest) / blend);
        for (let k = 0; k < 4; k++) sums[5 * at + k] = sums[5 * at + k]! + weight * own[4 * at + k]!;
        sums[5 * at + 4] = sums[5 * at + 4]! + weight;
      }
    }
  }
  for (let y = 0; y < block.height; y++) {
    for (let x = 0; x < block.width; x++) {
      const at = 5 * (y * blockSide + x);
      const to = ((block.top + y) * width + block.left + x) * 4;
      if (sums[at + 4] === 0) continue;
      for (let k = 0; k < 4; k++) data[to + k] = sums[at + k]! / sums[at + 4]!;
    }
  }
}

type Four = readonly [number, number, number, number];

function between(d: Four, x: number, y: number): number {
  const u = (x + 0.5) / blockSide;
  const v = (y + 0.5) / blockSide;
  return (d[0] * (1 - u) + d[1] * u) * (1 - v) + (d[3] * (1 - u) + d[2] * u) * v;
}

/** Where the corners of all blocks lie on one picture: x y for each, row by row. */
interface Grid {
  readonly picture: Picture;
  readonly columns: number;
  readonly places: Float64Array;
}

function gridOf(one: PictureOnTable, width: number, height: number, origin: Point, dotsPerMm: number): Grid {
  const columns = Math.ceil(width / blockSide) + 1;
  const rows = Math.ceil(height / blockSide) + 1;
  const back = invert(one.move);
  const places = new Float64Array(columns * rows * 2);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const onTable = {
        x: origin.x + (column * blockSide) / dotsPerMm,
        y: origin.y + (row * blockSide) / dotsPerMm,
      };
      const seen = toPicture(one.view, movePoint(back, onTable));
      places[2 * (row * columns + column)] = seen.x;
      places[2 * (row * columns + column) + 1] = seen.y;
    }
  }
  return { picture: one.picture, columns, places };
}

/** The places of a block's four corners, in the order of `BlockCorners`. */
function cornersOf({ places, columns }: Grid, column: number, row: number, into: Float64Array): void {
  const top = 2 * (row * columns + column);
  const bottom = top + 2 * columns;
  into[0] = places[top]!;
  into[1] = places[top + 1]!;
  into[2] = places[top + 2]!;
  into[3] = places[top + 3]!;
  into[4] = places[bottom + 2]!;
  into[5] = places[bottom + 3]!;
  into[6] = places[bottom]!;
  into[7] = places[bottom + 1]!;
}

/** Whether any of a block may lie on the picture. */
function shows({ picture }: Grid, c: Float64Array): boolean {
  return (
    (c[0]! > 0 || c[2]! > 0 || c[4]! > 0 || c[6]! > 0) &&
    (c[1]! > 0 || c[3]! > 0 || c[5]! > 0 || c[7]! > 0) &&
    (c[0]! < picture.width || c[2]! < picture.width || c[4]! < picture.width || c[6]! < picture.width) &&
    (c[1]! < picture.height || c[3]! < picture.height || c[5]! < picture.height || c[7]! < picture.height)
  );
}

/** Distances of a block's corners from the middle of the picture, in half diagonals. */
function distancesOf({ picture: { width, height } }: Grid, c: Float64Array): Four {
  const half = Math.hypot(width, height) / 2;
  const at = (i: number): number => Math.hypot(c[i]! - width / 2, c[i + 1]! - height / 2) / half;
  return [at(0), at(2), at(4), at(6)];
}
