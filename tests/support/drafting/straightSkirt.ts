import { distanceAt, pathLength, subPath } from '../../../src/geometry/path';
import { distance, type Point } from '../../../src/geometry/point';
import { cubic, line, type Path, segmentPointAt } from '../../../src/geometry/segment';
import type { BlockPiece, Garment } from '../../../src/pattern/garment';
import type { Dart, Edge } from '../../../src/pattern/piece';
import { mirrorPiece } from './mirror';

/** Body measures put into the draft, mm: our choice. */
export const skirtMeasures = { waist: 680, hip: 940, waistToHip: 200, length: 600 };

/**
 * Points of the worked skirt block, mm (WikiEducator, handout for drafting a skirt block; published). The handout's
 * point 1 is the back waist at the centre; x runs to the right and y down. Its point 9 looks misprinted and is not used.
 */
export function skirtPoints({ waist, hip, waistToHip, length } = skirtMeasures) {
  const halfHip = hip / 2 + 25;
  return {
    centreFrontX: halfHip,
    sideX: 255,
    hipY: waistToHip,
    hemY: length,
    backWaistX: waist / 4 + 20 + 12,
    frontWaistX: 305,
    waistRaised: 10,
    backDart: { length: 120, width: 20 },
    frontDart: { length: 100, width: 20, centreX: 390 },
  };
}

const betweenPieces = 300;

interface Half {
  readonly id: string;
  readonly name: string;
  readonly centre: { readonly id: 'centre-front' | 'centre-back'; readonly name: string };
  /** Distances from the centre line. */
  readonly waistX: number;
  readonly hipX: number;
  readonly dartX: number;
  readonly dart: { readonly length: number; readonly width: number };
}

/** Half a skirt with its centre line at x = 0 and its side on the right, drawn through the handout's points. */
function draftHalf(half: Half): BlockPiece {
  const { hipY, hemY, waistRaised } = skirtPoints();
  const centreHem = { x: 0, y: hemY };
  const sideHem = { x: half.hipX, y: hemY };
  const sideHip = { x: half.hipX, y: hipY };
  const sideWaist = { x: half.waistX, y: -waistRaised };
  const centreWaist = { x: 0, y: 0 };
  // The curves are ours; the handout gives their ends. The hip curve joins the straight side smoothly.
  const hipCurve = cubic(
    sideHip,
    { x: half.hipX, y: hipY * 0.6 },
    { x: half.waistX + (half.hipX - half.waistX) * 0.55, y: 45 },
    sideWaist,
  );
  const waist = cubic(sideWaist, { x: half.waistX - 60, y: 4 }, { x: 70, y: 0 }, centreWaist);
  const darted = dartInto(waist, half);
  const side: Path = [line(sideHem, sideHip), hipCurve];
  const edges: Edge[] = [
    { id: 'hem', name: 'Hem', role: 'hem', path: [line(centreHem, sideHem)] },
    { id: 'side', name: 'Side seam', role: 'side', path: side },
    { id: 'waist', name: 'Waist', role: 'waist', path: darted.path },
    { id: half.centre.id, name: half.centre.name, role: half.centre.id, path: [line(centreWaist, centreHem)] },
  ];
  return {
    id: half.id,
    name: half.name,
    locked: true,
    cutCount: 1,
    size: null,
    fold: null,
    edges,
    notches: [{ id: 'hip-notch', edge: 'side', distance: hemY - hipY, style: 'single' }],
    grainline: { start: { x: 50, y: 240 }, end: { x: 50, y: 540 } },
    drillHoles: [],
    darts: [darted.dart],
    internalLines: [],
    labelAt: { x: 130, y: 380 },
  };
}

/** Puts a dart of exact width into the waist curve (side to centre), the mouth straight across, the point square below. */
function dartInto(waist: ReturnType<typeof cubic>, half: Half): { path: Path; dart: Dart } {
  const whole: Path = [waist];
  const middle = distanceAt(whole, 0, parameterAtX(waist, half.dartX));
  const legAt = (along: number): Point => subPath(whole, 0, along).at(-1)!.end;
  // The mouth is measured straight across: widen it along the curve until it is as wide as the handout says.
  let reach = half.dart.width / 2;
  for (let turn = 0; turn < 50; turn += 1) {
    reach *= half.dart.width / distance(legAt(middle - reach), legAt(middle + reach));
  }
  const before = subPath(whole, 0, middle - reach);
  const after = subPath(whole, middle + reach, pathLength(whole));
  const legs = [before.at(-1)!.end, after[0]!.start] as const;
  const across = { x: (legs[1].x - legs[0].x) / half.dart.width, y: (legs[1].y - legs[0].y) / half.dart.width };
  const apex = {
    // A quarter turn of the way from side to centre points up and out of the piece; the dart goes the other way.
    x: (legs[0].x + legs[1].x) / 2 + across.y * half.dart.length,
    y: (legs[0].y + legs[1].y) / 2 - across.x * half.dart.length,
  };
  return { path: [...before, line(...legs), ...after], dart: { id: 'waist-dart', edge: 'waist', apex, legs } };
}

function parameterAtX(segment: ReturnType<typeof cubic>, x: number): number {
  let low = 0;
  let high = 1;
  for (let halving = 0; halving < 60; halving += 1) {
    const t = (low + high) / 2;
    if (segmentPointAt(segment, t).x > x) low = t;
    else high = t;
  }
  return (low + high) / 2;
}

/** The straight skirt of the worked block: front on the fold, back with a centre back seam, one waist dart each. */
export function draftStraightSkirt(): Garment {
  const points = skirtPoints();
  const front: BlockPiece = {
    ...draftHalf({
      id: 'front',
      name: 'Skirt front',
      centre: { id: 'centre-front', name: 'Centre front' },
      waistX: points.centreFrontX - points.frontWaistX,
      hipX: points.centreFrontX - points.sideX,
      dartX: points.centreFrontX - points.frontDart.centreX,
      dart: points.frontDart,
    }),
    fold: 'centre-front',
  };
  const half: BlockPiece = {
    ...draftHalf({
      id: 'back',
      name: 'Skirt back',
      centre: { id: 'centre-back', name: 'Centre back' },
      waistX: points.backWaistX,
      hipX: points.sideX,
      // The handout's values here leave the place of the back dart open; the middle of the back waist is our choice.
      dartX: points.backWaistX / 2,
      dart: points.backDart,
    }),
    cutCount: 2,
    size: null,
  };
  const back = mirrorPiece(half, points.centreFrontX - points.sideX + betweenPieces + points.sideX);
  return {
    id: 'sample-straight-skirt',
    name: 'Straight skirt',
    note:
      'Drafted from the worked skirt block of the WikiEducator handout for waist 68, hip 94, waist to hip 20 and length ' +
      '60 cm; the hip and waist curves and the place of the back dart are ours. Stitching lines, no allowances.',
    unit: 'cm',
    blocks: [front, back],
    seamLinks: [
      { id: 'side-seam', first: { piece: 'front', edge: 'side' }, second: { piece: 'back', edge: 'side' }, ease: 0 },
    ],
    versions: [],
  };
}
