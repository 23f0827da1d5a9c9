import { containsPoint } from '../geometry/area';
import { pathBounds } from '../geometry/bounds';
import { pathPointAt } from '../geometry/path';
import { distance, type Point, point } from '../geometry/point';
import { line, type Path, type Segment, segmentPointAt } from '../geometry/segment';
import type { BlockPiece } from '../pattern/garment';

/** The room words take up about their place on the base line of the first row, CSS pixels. */
export interface WordBox {
  /** To each side. */
  readonly half: number;
  readonly up: number;
  readonly down: number;
}

export interface QuietPlace {
  readonly at: Point;
  /** What the words must keep off, as points close together, mm. */
  readonly obstacles: readonly Point[];
}

/** Words that fit at this zoom have room enough; it shows a garment of two pieces whole on a small screen, pixels per mm. */
const usualZoom = 0.55;

/** What a place gives up, in shares of room enough, for lying a piece's height lower; words look best high up. */
const priceOfLow = 0.35;

/** And for lying on the strips instead of above the fullness line. */
const priceOfStrips = 0.6;

/** And for lying a piece's width off its middle. */
const priceOfAside = 0.03;

/** Half the width of the ring by which an end of the grainline is dragged, mm at the usual zoom. */
const ringReach = 16;

/** Points of an obstacle lie no further apart than this, mm. */
const obstacleStep = 5;

/**
 * The quietest place for words inside a piece: far from outline and marks, rather high than low, above the fullness line
 * (`fullness`: its height in the piece's frame, mm).
 */
export function quietPlace(block: BlockPiece, words: WordBox, fullness: number | null): QuietPlace {
  const outline = block.edges.flatMap((edge) => edge.path);
  const { minX, minY, maxX, maxY } = pathBounds(outline);
  const slashed = fullness === null ? [] : [line(point(minX, fullness), point(maxX, fullness))];
  const obstacles = [...outline, ...marksOf(block), ...slashed].flatMap(pointsOn);
  let best = point((minX + maxX) / 2, (minY + maxY) / 2);
  let most = Number.NEGATIVE_INFINITY;
  for (let down = 0.12; down < 0.8; down += 0.04) {
    for (let across = 0.2; across < 0.81; across += 0.05) {
      const place = point(minX + (maxX - minX) * across, minY + (maxY - minY) * down);
      if (!containsPoint(outline, place)) continue;
      const room = Math.min(1, usualZoom / fittingZoom(place, words, obstacles));
      const onStrips = fullness !== null && place.y > fullness ? priceOfStrips : 0;
      const worth = room - priceOfLow * down - onStrips - priceOfAside * Math.abs(across - 0.5);
      if (worth <= most) continue;
      most = worth;
      best = place;
    }
  }
  return { at: best, obstacles };
}

/** The smallest zoom, pixels per mm, at which words about a place (mm) lie clear of every obstacle. */
export function fittingZoom(at: Point, { half, up, down }: WordBox, obstacles: readonly Point[]): number {
  let zoom = 0;
  for (const { x, y } of obstacles) {
    const tall = y < at.y ? up : down;
    zoom = Math.max(zoom, Math.min(half / Math.abs(x - at.x), tall / Math.abs(y - at.y)));
  }
  return zoom;
}

/** What the words should keep clear of inside the piece. */
function marksOf(block: BlockPiece): Path {
  const spot = (at: Point) => line(at, at);
  const notches = block.notches.flatMap((notch) => {
    const edge = block.edges.find((candidate) => candidate.id === notch.edge);
    return edge === undefined ? [] : [spot(pathPointAt(edge.path, notch.distance).point)];
  });
  const darts = block.darts.flatMap(({ legs, apex }) => [line(legs[0], apex), line(apex, legs[1])]);
  const grain =
    block.grainline === null
      ? []
      : [
          line(block.grainline.start, block.grainline.end),
          ...[block.grainline.start, block.grainline.end].map(({ x, y }) =>
            line({ x: x - ringReach, y }, { x: x + ringReach, y }),
          ),
        ];
  const inner = block.internalLines.flatMap((one) => one.path);
  return [...notches, ...darts, ...grain, ...inner, ...block.drillHoles.map((hole) => spot(hole.at))];
}

function pointsOn(segment: Segment): Point[] {
  const { start, end } = segment;
  const length =
    segment.kind === 'line'
      ? distance(start, end)
      : distance(start, segment.control1) +
        distance(segment.control1, segment.control2) +
        distance(segment.control2, end);
  const steps = Math.max(1, Math.ceil(length / obstacleStep));
  return Array.from({ length: steps + 1 }, (_, index) => segmentPointAt(segment, index / steps));
}
