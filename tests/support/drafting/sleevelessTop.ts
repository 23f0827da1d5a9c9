import { pathLength } from '../../../src/geometry/path';
import type { Point } from '../../../src/geometry/point';
import { cubic, line, type Path } from '../../../src/geometry/segment';
import type { BlockPiece, Garment } from '../../../src/pattern/garment';
import type { NotchStyle } from '../../../src/pattern/piece';
import { mirrorPiece } from './mirror';

/** Bust girth of size 10, ASTM D5585-11e1: 37 1/4 in. The only published measure in this draft. */
export const bust = 37.25 * 25.4;

/** Everything below is our own choice, mm. */
export const bustEase = 80;
const frontIsWider = 5;
const neckWidth = 80;
const shoulderLength = 105;
const underarmLevel = 235;
const hemLevel = 655;
const betweenPieces = 360;

interface Half {
  readonly id: string;
  readonly name: string;
  readonly centre: { readonly id: 'centre-front' | 'centre-back'; readonly name: string };
  /** Quarter bust with ease. */
  readonly width: number;
  /** Height of the shoulder neck point. */
  readonly neckPointY: number;
  /** How far the neckline dips below that point at the centre, and the lengths of its curve handles at both ends. */
  readonly neck: { readonly depth: number; readonly atShoulder: number; readonly atCentre: number };
  /** Shoulder slope, degrees. */
  readonly shoulderSlope: number;
  /** Narrowest place between centre line and armhole. */
  readonly across: Point;
  readonly armholeNotch: { readonly fromUnderarm: number; readonly style: NotchStyle };
}

/** Half of a bodice with its centre line at x = 0 and its side on the right. */
function draftHalf(half: Half): BlockPiece {
  const slope = (half.shoulderSlope * Math.PI) / 180;
  const neckPoint = { x: neckWidth, y: half.neckPointY };
  const tip = {
    x: neckPoint.x + shoulderLength * Math.cos(slope),
    y: neckPoint.y + shoulderLength * Math.sin(slope),
  };
  // Neckline and armhole leave the shoulder square, so that front and back run on smoothly.
  const squareFrom = (p: Point, far: number): Point => ({
    x: p.x - far * Math.sin(slope),
    y: p.y + far * Math.cos(slope),
  });
  const neckCentre = { x: 0, y: half.neckPointY + half.neck.depth };
  const underarm = { x: half.width, y: underarmLevel };
  const sideHem = { x: half.width + 14, y: hemLevel };
  // The side leaves the hem along (-12, -135); the hem meets it square there and at the centre line.
  const centreHem = { x: 0, y: hemLevel + 8 };

  const hem: Path = [cubic(centreHem, { x: 100, y: centreHem.y }, { x: sideHem.x - 90, y: sideHem.y + 8 }, sideHem)];
  const side: Path = [
    cubic(sideHem, { x: sideHem.x - 12, y: sideHem.y - 135 }, { x: half.width - 6, y: 370 }, underarm),
  ];
  const armhole: Path = [
    cubic(underarm, { x: underarm.x - 52, y: underarm.y }, { x: half.across.x, y: half.across.y + 50 }, half.across),
    cubic(half.across, { x: half.across.x, y: half.across.y - 45 }, squareFrom(tip, 35), tip),
  ];
  const neckline: Path = [
    cubic(
      neckPoint,
      squareFrom(neckPoint, half.neck.atShoulder),
      { x: half.neck.atCentre, y: neckCentre.y },
      neckCentre,
    ),
  ];
  return {
    id: half.id,
    name: half.name,
    locked: true,
    cutCount: 1,
    size: null,
    fold: half.centre.id,
    edges: [
      { id: 'hem', name: 'Hem', role: 'hem', path: hem },
      { id: 'side', name: 'Side seam', role: 'side', path: side },
      { id: 'armhole', name: 'Armhole', role: 'armhole', path: armhole },
      { id: 'shoulder', name: 'Shoulder', role: 'shoulder', path: [line(tip, neckPoint)] },
      { id: 'neckline', name: 'Neckline', role: 'neckline', path: neckline },
      { id: half.centre.id, name: half.centre.name, role: half.centre.id, path: [line(neckCentre, centreHem)] },
    ],
    notches: [
      { id: 'side-notch', edge: 'side', distance: pathLength(side) - 170, style: 'single' },
      {
        id: 'armhole-notch',
        edge: 'armhole',
        distance: half.armholeNotch.fromUnderarm,
        style: half.armholeNotch.style,
      },
    ],
    grainline: { start: { x: 60, y: 260 }, end: { x: 60, y: 580 } },
    drillHoles: [],
    darts: [],
    internalLines: [],
    labelAt: { x: 150, y: 440 },
  };
}

/** Our own sleeveless tunic top: front and back, both half pieces on the fold, no bust dart. */
export function draftSleevelessTop(): Garment {
  const quarter = (bust + bustEase) / 4;
  const front: BlockPiece = {
    ...draftHalf({
      id: 'front',
      name: 'Front',
      centre: { id: 'centre-front', name: 'Centre front' },
      width: quarter + frontIsWider,
      neckPointY: 0,
      neck: { depth: 95, atShoulder: 50, atCentre: 44 },
      shoulderSlope: 22,
      across: { x: 162, y: 150 },
      armholeNotch: { fromUnderarm: 90, style: 'single' },
    }),
    drillHoles: [{ id: 'bust-point', at: { x: 95, y: 268 } }],
  };
  const half = draftHalf({
    id: 'back',
    name: 'Back',
    centre: { id: 'centre-back', name: 'Centre back' },
    width: quarter - frontIsWider,
    neckPointY: -10,
    // Round enough at the shoulder to take a seam allowance: its tightest curve has a radius of 29 mm.
    neck: { depth: 26, atShoulder: 26, atCentre: 44 },
    shoulderSlope: 18,
    across: { x: 172, y: 140 },
    armholeNotch: { fromUnderarm: 95, style: 'double' },
  });
  const frontRight = front.edges[0]!.path[0]!.end.x;
  const backWidth = half.edges[0]!.path[0]!.end.x;
  const back = mirrorPiece(half, frontRight + betweenPieces + backWidth);
  return {
    id: 'sample-sleeveless-top',
    name: 'Sleeveless top',
    note:
      'Our own draft. Bust 37 1/4 in (946 mm) is size 10 of ASTM D5585-11e1, with 80 mm of our own ease; every other ' +
      'measure is our own choice. Tunic length, no bust dart. Stitching lines, no allowances. Make a toile first.',
    unit: 'in',
    blocks: [front, back],
    seamLinks: [
      { id: 'side-seam', first: { piece: 'front', edge: 'side' }, second: { piece: 'back', edge: 'side' }, ease: 0 },
      {
        id: 'shoulder-seam',
        first: { piece: 'front', edge: 'shoulder' },
        second: { piece: 'back', edge: 'shoulder' },
        ease: 0,
      },
    ],
    versions: [],
  };
}
