import { containsPoint } from '../geometry/area';
import { pathBounds } from '../geometry/bounds';
import { nearestOnPath } from '../geometry/nearest';
import { pathPointAt } from '../geometry/path';
import { type Point, point } from '../geometry/point';
import { line, type Path, type Segment } from '../geometry/segment';
import { fanView } from '../gestures/fanView';
import type { ScenePiece } from '../gestures/scene';
import type { BlockPiece } from '../pattern/garment';
import type { Ink, Label } from './drawing';

/**
 * Name of the piece and how it is cut, small and quiet. It belongs to the block, so it stays put while strips swing, and
 * keeps off the fullness line and the strips below it; the printed label has its own place, which slash lines may run
 * through.
 */
export function placeLabel(piece: ScenePiece, ink: Ink): Label[] {
  const { at, room } = restingPlace(piece.block, fullnessHeight(piece));
  const { name } = piece.block;
  const cut = cutWords(piece.block);
  // Words may jut out a little, and the name, which tells the pieces apart, rather more.
  return [
    {
      at,
      text: name,
      ink,
      size: nameSize,
      bold: true,
      align: 'center',
      fromZoom: fittingZoom(name, nameSize, room) / 2,
    },
    {
      at,
      text: cut,
      ink: 'ink-soft',
      size: cutSize,
      align: 'center',
      shift: [0, 17],
      fromZoom: 0.7 * fittingZoom(cut, cutSize, room),
    },
  ];
}

/** CSS pixels. */
const nameSize = 14;
const cutSize = 11.5;

/** Half the width of a letter as a share of the letters' size, on average. */
const halfLetter = 0.26;

/** Pixels per mm at which words fit into the room to both sides of their middle, mm. */
function fittingZoom(words: string, size: number, room: number): number {
  return (words.length * size * halfLetter) / room;
}

function cutWords(block: BlockPiece): string {
  return block.fold === null ? `cut ${block.cutCount}` : `cut ${block.cutCount} on fold`;
}

/** Words are wider than high, so they need that much more room to their sides. */
const widthOverHeight = 2;

/** Room above and below that is room enough, mm. */
const enoughRoom = 32;

/** How much room, mm, a place gives up for lying a piece's height lower; labels look best high up. */
const priceOfLow = 24;

/** How much room, mm, a place gives up for lying on the strips instead of above the fullness line. */
const priceOfStrips = 18;

/** The words only look for another place when the fullness line has come this much further, mm. */
const lineStep = 40;

/** Height of the fullness line across the piece, mm in its frame, in steps; null without one. */
function fullnessHeight({ fanned, fan }: ScenePiece): number | null {
  if (fanned === null || fan === null) return null;
  const { sideHinge } = fanView(fanned, fan);
  return sideHinge === null ? null : Math.round(sideHinge.y / lineStep) * lineStep;
}

interface Place {
  readonly at: Point;
  /** Free to both sides, mm. */
  readonly room: number;
}

const places = new WeakMap<BlockPiece, Map<number | null, Place>>();

/** The quietest place inside the piece: far from outline and marks, rather high than low, above the fullness line. */
function restingPlace(block: BlockPiece, fullness: number | null): Place {
  const known = places.get(block) ?? new Map<number | null, Place>();
  places.set(block, known);
  const place = known.get(fullness) ?? quietestPlace(block, fullness);
  known.set(fullness, place);
  return place;
}

function quietestPlace(block: BlockPiece, fullness: number | null): Place {
  const outline = block.edges.flatMap((edge) => edge.path);
  const { minX, minY, maxX, maxY } = pathBounds(outline);
  const slashed = fullness === null ? [] : [line(point(minX, fullness), point(maxX, fullness))];
  const obstacles = [...outline, ...marksOf(block), ...slashed].map(squeezed);
  let best: Place = { at: point((minX + maxX) / 2, (minY + maxY) / 2), room: (maxX - minX) / 4 };
  let most = Number.NEGATIVE_INFINITY;
  for (let down = 0.12; down < 0.8; down += 0.04) {
    for (let across = 0.2; across < 0.81; across += 0.05) {
      const place = point(minX + (maxX - minX) * across, minY + (maxY - minY) * down);
      if (!containsPoint(outline, place)) continue;
      // The two lines of words hang a little below the place itself.
      const room = nearestOnPath(obstacles, squeezedPoint(point(place.x, place.y + 6))).distance;
      const onStrips = fullness !== null && place.y > fullness ? priceOfStrips : 0;
      const worth = Math.min(room, enoughRoom) - priceOfLow * down - onStrips - Math.abs(across - 0.5);
      if (worth <= most) continue;
      most = worth;
      best = { at: place, room: room * widthOverHeight };
    }
  }
  return best;
}

/** What the words should keep clear of inside the piece. */
function marksOf(block: BlockPiece): Path {
  const spot = (at: Point) => line(at, point(at.x + 0.1, at.y));
  const notches = block.notches.flatMap((notch) => {
    const edge = block.edges.find((candidate) => candidate.id === notch.edge);
    return edge === undefined ? [] : [spot(pathPointAt(edge.path, notch.distance).point)];
  });
  const darts = block.darts.flatMap(({ legs, apex }) => [line(legs[0], apex), line(apex, legs[1])]);
  const grain = block.grainline === null ? [] : [line(block.grainline.start, block.grainline.end)];
  const inner = block.internalLines.flatMap((one) => one.path);
  return [...notches, ...darts, ...grain, ...inner, ...block.drillHoles.map((hole) => spot(hole.at))];
}

function squeezedPoint(p: Point): Point {
  return point(p.x / widthOverHeight, p.y);
}

function squeezed(segment: Segment): Segment {
  const start = squeezedPoint(segment.start);
  const end = squeezedPoint(segment.end);
  return segment.kind === 'line'
    ? line(start, end)
    : {
        kind: 'cubic',
        start,
        control1: squeezedPoint(segment.control1),
        control2: squeezedPoint(segment.control2),
        end,
      };
}
