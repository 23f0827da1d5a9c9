import { containsPoint } from '../geometry/area';
import { type Bounds, boundsMeet, pathBounds } from '../geometry/bounds';
import { pathEnd, pathLength, pathPointAt, pathStart } from '../geometry/path';
import { add, dot, type Point, quarterTurn, scale, subtract } from '../geometry/point';
import { movePath, movePoint, moveVector, type RigidMove, stayPut } from '../geometry/rigidMove';
import type { Path } from '../geometry/segment';
import { fullnessCutId } from '../operations/fan';
import { frameOf } from '../operations/linkage/pieceFrame';
import type { FannedPiece, OpenedCut, PlacedPanel } from '../operations/worked';
import type { Piece } from '../pattern/piece';
import type { FanStep } from '../pattern/recipe';
import { type DartView, dartViews } from './dartView';

/** A slash line as it lies after opening, mm in the piece's frame. */
export interface SlashView {
  readonly id: string;
  readonly cut: OpenedCut;
  /** Its far end, where its two sides meet unless the far end was opened too. */
  readonly hinge: Point;
  /** Its two sides, each from the hem to the hinge. */
  readonly centreSide: Path;
  readonly sideSide: Path;
  /** The two hem corners of the opening. */
  readonly hemCentre: Point;
  readonly hemSide: Point;
  /** Unit vector square to the centre line towards the side, turned with the strip on the side's side. */
  readonly towardsSide: Point;
}

/** A fanned piece taken apart for drawing and dragging, mm in the piece's frame. */
export interface FanView {
  /** Boundary of every panel where it lies now, the fixed one among them. */
  readonly panels: readonly Path[];
  readonly slashes: readonly SlashView[];
  /** Darts closed into the hem. */
  readonly darts: readonly DartView[];
  /** The fullness line on the piece above, from the centre line to the hinge; null without one. */
  readonly fullness: Path | null;
  /** The point of the side seam that the strips swing about; null without a fullness line. */
  readonly sideHinge: Point | null;
  /** Unit vector square to the centre line, towards the side, before any strip turns. */
  readonly towardsSide: Point;
  /** Width that `across` is a fraction of, mm. */
  readonly width: number;
}

/** How far beside a cut a point must lie to belong safely to the panel on that side, mm. */
const besideCut = 0.05;

const views = new WeakMap<FannedPiece, { step: FanStep; view: FanView }>();

/** Takes a fanned piece apart. Worked out once per result. */
export function fanView(fanned: FannedPiece, step: FanStep): FanView {
  const known = views.get(fanned);
  if (known !== undefined && known.step === step) return known.view;
  const view = takeApart(fanned, step);
  views.set(fanned, { step, view });
  return view;
}

function takeApart(fanned: FannedPiece, step: FanStep): FanView {
  const slashIds = new Set(step.slashes.map((slash) => slash.id));
  const fullnessCut = fanned.cuts.find((cut) => cut.id === fullnessCutId) ?? null;
  const { towardsSide, width } = acrossFrame(fanned.source, step, fullnessCut);
  const bounded = fanned.panels.map(withBounds);
  const slashes = fanned.cuts.filter((cut) => slashIds.has(cut.id)).map((cut) => placeSlash(bounded, cut, towardsSide));
  return {
    panels: fanned.panels.map((panel) => movePath(panel.move, panel.boundary)),
    slashes,
    darts: dartViews(fanned),
    fullness: fullnessCut?.path ?? null,
    sideHinge: fullnessCut === null ? null : (fullnessCut.pivot ?? pathEnd(fullnessCut.path)),
    towardsSide,
    width,
  };
}

/** The hem corner on the side's side of one slash line, mm in the piece's frame; null when the slash is not there. */
export function hemCornerOf(fanned: FannedPiece, step: FanStep, slash: string): Point | null {
  const cut = fanned.cuts.find((candidate) => candidate.id === slash);
  const frame = frameOf(fanned.source, step);
  if (cut === undefined || !frame.ok) return null;
  return placeSlash(fanned.panels.map(withBounds), cut, frame.value.across).hemSide;
}

interface BoundedPanel {
  readonly panel: PlacedPanel;
  readonly bounds: Bounds;
}

function withBounds(panel: PlacedPanel): BoundedPanel {
  return { panel, bounds: pathBounds(panel.boundary) };
}

function placeSlash(panels: readonly BoundedPanel[], cut: OpenedCut, towardsSide: Point): SlashView {
  const middle = pathPointAt(cut.path, pathLength(cut.path) / 2);
  const along = quarterTurn(middle.tangent);
  const sideNormal = dot(along, towardsSide) >= 0 ? along : scale(along, -1);
  const sideMove = moveAt(panels, add(middle.point, scale(sideNormal, besideCut)));
  const centreMove = moveAt(panels, add(middle.point, scale(sideNormal, -besideCut)));
  const open = pathStart(cut.path);
  return {
    id: cut.id,
    cut,
    hinge: movePoint(sideMove, pathEnd(cut.path)),
    centreSide: movePath(centreMove, cut.path),
    sideSide: movePath(sideMove, cut.path),
    hemCentre: movePoint(centreMove, open),
    hemSide: movePoint(sideMove, open),
    towardsSide: moveVector(sideMove, towardsSide),
  };
}

function moveAt(panels: readonly BoundedPanel[], p: Point): RigidMove {
  const spot = { minX: p.x, maxX: p.x, minY: p.y, maxY: p.y };
  const found = panels.find(({ panel, bounds }) => boundsMeet(bounds, spot, 0) && containsPoint(panel.boundary, p));
  return found?.panel.move ?? stayPut;
}

/** The direction and width that `SlashLine.across` is measured in. The step has fanned this piece, so it has a frame. */
function acrossFrame(
  piece: Piece,
  step: FanStep,
  fullnessCut: OpenedCut | null,
): { readonly towardsSide: Point; readonly width: number } {
  const frame = frameOf(piece, step);
  if (!frame.ok) throw new RangeError(frame.sentence);
  const { across, centreCorner, sideCorner } = frame.value;
  const reference = fullnessCut === null ? sideCorner : (fullnessCut.pivot ?? pathEnd(fullnessCut.path));
  return { towardsSide: across, width: dot(subtract(reference, centreCorner), across) };
}
