import { type Bounds, noBounds, pathBounds, unionBounds } from '../geometry/bounds';
import { reportVersion } from '../measure/report';
import { fan } from '../operations/fan';
import type { FannedPiece, WorkedPiece } from '../operations/worked';
import { fanOrStill } from '../pattern/closings';
import type { BlockPiece, Garment, LengthUnit } from '../pattern/garment';
import { findBlock, findStep, recipeOf } from '../pattern/lookUp';
import type { Piece } from '../pattern/piece';
import type { FanStep } from '../pattern/recipe';
import type { AppState } from '../store/appState';
import type { BringInState, DraftShape } from '../store/bringIn';
import { pictureBounds } from '../store/pictureDraft';
import { shownNow } from '../store/shown';
import { usualFan } from '../store/usualSteps';
import type { ViewSize } from './frames';
import { layOut, type Placed, type TableLayout } from './layout';
import type { ScenePiece, SeeLine, SnapPage, TableScene } from './scene';

/**
 * Reads what is on the table from the stores. Positions come from what is committed, so nothing jumps while something
 * is dragged. Pieces that did not change are the same objects from one scene to the next.
 */
export function createSceneReader(
  seeLine: SeeLine | null = null,
  snapPage: SnapPage | null = null,
): (app: AppState, bringIn: BringInState, view: ViewSize) => TableScene {
  const pieces = new Map<string, ScenePiece>();
  let laid: { readonly key: readonly unknown[]; readonly layout: TableLayout } | null = null;

  function layoutOf(key: readonly unknown[], lay: () => TableLayout): TableLayout {
    if (laid === null || laid.key.length !== key.length || laid.key.some((part, index) => part !== key[index])) {
      laid = { key, layout: lay() };
    }
    return laid.layout;
  }

  function keep(next: ScenePiece): ScenePiece {
    const known = pieces.get(next.id);
    const unchanged =
      known !== undefined && (Object.keys(next) as (keyof ScenePiece)[]).every((name) => known[name] === next[name]);
    if (unchanged) return known;
    pieces.set(next.id, next);
    return next;
  }

  return (app, bringIn, view) => {
    const shown = shownNow(app);
    const base = {
      place: app.place,
      tool: app.tool,
      unit: app.garment?.unit ?? 'cm',
      selection: app.selection,
      camera: app.camera,
      view,
      draft: bringIn.draft,
      pen: bringIn.pen,
      inset: bringIn.inset,
      pages: bringIn.pages,
      snapPage,
      picture: pictureOnTable(bringIn),
      underlay: bringIn.underlay,
      seeLine: seesPicture(bringIn, app) ? seeLine : null,
    };
    // While an outline is brought in and its edges are named, it has the table for itself.
    const picture = app.place === 'bring-in' ? base.picture : null;
    const pages = app.place === 'bring-in' && bringIn.draft === null ? bringIn.pages : null;
    const hidden =
      pages !== null ||
      picture !== null ||
      (bringIn.draft !== null && (app.place === 'bring-in' || app.place === 'mark'));
    if (shown === null || app.garment === null || hidden) {
      const drafted = draftBounds(bringIn);
      const laid = unionOf(drafted, pages?.frame ?? null);
      const bounds = unionOf(laid, picture === null ? null : pictureBounds(picture));
      const key = [drafted, bounds].flatMap((one) => (one === null ? [null] : Object.values(one)));
      const layout = layoutOf(key, () => {
        const whole = layOut(bounds === null ? [] : [{ id: '', bounds, top: 0, left: 0 }]);
        // An outline found in a picture is looked at, not the whole picture round it.
        return drafted === null ? whole : { ...whole, pieces: withRoom(drafted) };
      });
      return { ...base, pieces: [], layout, activeVersion: null };
    }

    const { garment, report } = shown;
    const committed = workedPieces(app.garment, app.activeVersion);
    const ghosts = ghostPieces(garment, app.ghost);
    const layout = layoutOf([...committed, ...ghosts, ...app.garment.blocks], () =>
      layOut(app.garment!.blocks.map((block) => placedPiece(block, committed, ghosts))),
    );
    return {
      ...base,
      layout,
      activeVersion: report.version,
      pieces: report.pieces.flatMap((worked) => {
        const block = findBlock(garment, worked.block.id);
        const offset = layout.offsets.get(worked.block.id);
        if (block === undefined || offset === undefined) return [];
        const recipe = recipeOf(garment, report.version, block.id);
        const active = block.id === app.activePiece;
        const step = fanOrStill(recipe) ?? null;
        const proposal =
          step === null && active && app.place === 'fan' && block.locked ? proposalFor(block, garment.unit) : null;
        return keep({
          id: block.id,
          block,
          worked,
          offset,
          active,
          fan: step ?? proposal?.step ?? null,
          fanned: worked.fanned ?? proposal?.fanned ?? null,
          proposed: proposal !== null,
          trueing: findStep(recipe, 'true') ?? null,
          finish: findStep(recipe, 'finish') ?? null,
          ghost: ghosts.find((ghost) => ghost.id === block.id) ?? null,
        });
      }),
    };
  };
}

function workedPieces(garment: Garment, version: string | null): readonly WorkedPiece[] {
  const report = reportVersion(garment, version);
  return report.ok ? report.value.pieces : [];
}

function ghostPieces(garment: Garment, ghost: string | null): readonly Piece[] {
  if (ghost === null) return [];
  if (ghost === 'block') return garment.blocks;
  return workedPieces(garment, ghost).map((worked) => worked.piece);
}

interface Proposal {
  readonly step: FanStep;
  readonly fanned: FannedPiece;
}

const proposals = new WeakMap<BlockPiece, Map<LengthUnit, Proposal | null>>();

/** What Hingeline would start a fan with, still closed, so that its lines can be shown and taken hold of. */
function proposalFor(block: BlockPiece, unit: LengthUnit): Proposal | null {
  const known = proposals.get(block) ?? new Map<LengthUnit, Proposal | null>();
  proposals.set(block, known);
  if (!known.has(unit)) known.set(unit, propose(block, unit));
  return known.get(unit) ?? null;
}

function propose(block: BlockPiece, unit: LengthUnit): Proposal | null {
  const step = usualFan(block, unit);
  const closed: FanStep | null = step.ok
    ? {
        ...step.value,
        sideTurn: 0,
        slashes: step.value.slashes.map((line) => ({ ...line, opening: { measure: 'chord', hem: 0, far: 0 } })),
      }
    : null;
  const fanned = closed === null ? null : fan(block, closed);
  return closed !== null && fanned?.ok ? { step: closed, fanned: fanned.value } : null;
}

function placedPiece(block: BlockPiece, worked: readonly WorkedPiece[], ghosts: readonly Piece[]): Placed {
  const own = pieceBounds(block);
  const result = worked.find((candidate) => candidate.block.id === block.id);
  const ghost = ghosts.find((candidate) => candidate.id === block.id);
  let bounds = own;
  if (result !== undefined) {
    bounds = unionBounds(bounds, pieceBounds(result.piece));
    if (result.cutLine !== null) bounds = unionBounds(bounds, pathBounds(result.cutLine.path));
  }
  if (ghost !== undefined) bounds = unionBounds(bounds, pieceBounds(ghost));
  return { id: block.id, bounds, top: own.minY, left: own.minX };
}

const knownBounds = new WeakMap<Piece, Bounds>();

function pieceBounds(piece: Piece): Bounds {
  const known = knownBounds.get(piece);
  if (known !== undefined) return known;
  const bounds = pathBounds(piece.edges.flatMap((edge) => edge.path));
  knownBounds.set(piece, bounds);
  return bounds;
}

function unionOf(a: Bounds | null, b: Bounds | null): Bounds | null {
  return a === null || b === null ? (a ?? b) : unionBounds(a, b);
}

/** A drawing that came from elsewhere has the table for itself; the pictures wait. */
function pictureOnTable({ draft, picture }: BringInState): BringInState['picture'] {
  return draft === null || draft.takenFrom !== undefined ? picture : null;
}

/** Whether a straightened picture lies where something is drawn now. */
function seesPicture({ picture, underlay }: BringInState, { place }: AppState): boolean {
  if (place === 'mark') return underlay !== null;
  return place === 'bring-in' && picture?.stage === 'outline' && picture.flat !== null;
}

/** Share of its larger side that is kept free round an outline, for the names of its edges. */
const roomForNames = 0.08;

function withRoom({ minX, minY, maxX, maxY }: Bounds): Bounds {
  const room = roomForNames * Math.max(maxX - minX, maxY - minY);
  return { minX: minX - room, minY: minY - room, maxX: maxX + room, maxY: maxY + room };
}

function draftBounds({ draft }: BringInState): Bounds | null {
  if (draft === null || draft.shapes.length === 0) return null;
  const bounds = knownDrafts.get(draft.shapes) ?? boundsOf(draft.shapes);
  knownDrafts.set(draft.shapes, bounds);
  return bounds.minX > bounds.maxX ? null : bounds;
}

/** Asked at every move of the pointer, and a drawing may have many thousand lines. */
const knownDrafts = new WeakMap<readonly DraftShape[], Bounds>();

function boundsOf(shapes: readonly DraftShape[]): Bounds {
  let bounds = noBounds;
  for (const shape of shapes) bounds = unionBounds(bounds, pathBounds(shape.path));
  return bounds;
}
