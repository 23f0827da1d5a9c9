import { carryOut } from '../gestures/carryOut';
import { openOutline } from '../gestures/draftNodes';
import { type ScreenPoint, tablePoint, type ViewSize } from '../gestures/frames';
import type { Mark, TableEvent } from '../gestures/gesture';
import { openPages } from '../gestures/pageDrag';
import { openPicture } from '../gestures/pictureSpots';
import type { SeeLine, SnapPage, TableScene } from '../gestures/scene';
import { createSceneReader } from '../gestures/sceneNow';
import { idleTable, reduceTable, type TableAnswer } from '../gestures/table';
import type { AppStore } from '../store/appCommands';
import type { Camera } from '../store/appState';
import { type BringInStore, createBringInStore } from '../store/bringIn';
import { isTrueSize, partNow, picturesNeeded } from '../store/pictureDraft';
import type { Shown } from './board';
import { createCameraKeeper } from './cameraKeeper';
import { draftDrawing, draftNodesDrawing, insetDrawing, penDrawing } from './draftDrawing';
import { lensNow } from './lensNow';
import { createMagnifier } from './magnifier';
import { handleDrawing, markDrawing } from './overlayDrawing';
import { pagesShown } from './pagesDrawing';
import { pictureDrawing } from './pictureDrawing';
import { pieceDrawing } from './pieceDrawing';
import { releaseAllBut } from './pixels';
import { createStage } from './stage';
import { listen } from './tableInput';
import { createTableKeys } from './tableKeys';
import { readTokens, watchTheme } from './tokens';
import { picturesOn } from './underlay';

export interface TableOptions {
  /** What lies on the table before it is a piece. Without it nothing can be brought in on this table. */
  readonly bringIn?: BringInStore;
  /** A shape of the draft was clicked to be the outline. */
  readonly chooseShape?: (shape: string) => void;
  /** Finds a dark line or a paper's edge on the picture under the outline, for the pen to follow. */
  readonly seeLine?: SeeLine;
  /** Finds where a page laid by hand meets its neighbours. */
  readonly snapPage?: SnapPage;
}

export interface MountedTable {
  /** Stops listening and painting and gives the canvas back; mounting the same canvas again is fine. */
  destroy(): void;
  /** Shows everything that lies on the table. */
  fit(): void;
  /** What is on the table now, for keyboard commands and lists outside the canvas. */
  scene(): TableScene;
}

/**
 * Paints the cutting table on a canvas and turns pointers and keys on it into commands. It lives outside React: it
 * listens to the stores, and paints at most once per animation frame. The table fills the canvas's parent, which must
 * be positioned; a second canvas for what is live is laid over the first and taken away by `destroy`. Keys act while
 * the canvas, or nothing at all, has the focus.
 */
export function mountTable(canvas: HTMLCanvasElement, store: AppStore, options: TableOptions = {}): MountedTable {
  const bringIn = options.bringIn ?? createBringInStore();
  const readScene = createSceneReader(options.seeLine ?? null, options.snapPage ?? null);
  const coarse = window.matchMedia('(pointer: coarse)');
  const calm = window.matchMedia('(prefers-reduced-motion: reduce)');
  const keeper = createCameraKeeper(() => !calm.matches);
  const stage = createStage(canvas, readTokens(canvas));
  const magnifier = createMagnifier(canvas, readTokens(canvas));
  let view: ViewSize = { width: 0, height: 0 };
  let table = idleTable;
  let marks: readonly Mark[] = [];
  let pointer: ScreenPoint | null = null;
  /** The last move of each pointer since the last frame. */
  const waitingMoves = new Map<number, TableEvent>();
  let frame = 0;

  canvas.style.display = 'block';
  canvas.style.touchAction = 'none';
  stage.repaint(readTokens(canvas), coarse.matches);

  const scene = () => readScene(store.getState(), bringIn.getState(), view);

  function markDirty(): void {
    if (frame === 0) frame = requestAnimationFrame(paint);
  }

  function paint(time: number): void {
    let more = false;
    try {
      flushMoves();
      if (view.width > 0 && view.height > 0) {
        more = keepCamera(time);
        const now = scene();
        const unit = isUnscaled(now) ? null : now.unit;
        const look = { camera: now.camera, view, layout: now.layout, unit, pointer };
        stage.show(look, picturesOn(now), baseDrawings(now), liveDrawings(now));
        magnifier.show(lensNow(now, table, pointer), view);
        publishView(canvas, now.camera);
      }
    } finally {
      // Also after a frame that failed, so that the next one comes.
      frame = 0;
    }
    if (more) markDirty();
  }

  function baseDrawings(now: TableScene): Shown[] {
    // The piece being worked on lies uppermost, where strips swing over a neighbour.
    const stacked = [...now.pieces].sort((a, b) => Number(a.active) - Number(b.active));
    const shown: Shown[] = stacked.map((piece) => ({
      key: `piece ${piece.id}`,
      drawing: pieceDrawing(piece, now),
      offset: piece.offset,
    }));
    const pages = openPages(now);
    if (pages !== null) shown.push(...pagesShown(pages));
    if (now.draft !== null) shown.push({ key: 'draft', drawing: draftDrawing(now.draft), offset: origin });
    return shown;
  }

  function liveDrawings(now: TableScene): Shown[] {
    const shown: Shown[] = [];
    for (const piece of now.pieces) {
      const hovered = table.hover !== null && 'piece' in table.hover && table.hover.piece === piece.id;
      if (!piece.active && !hovered) continue;
      const drawing = handleDrawing(now, piece, table.hover);
      shown.push({ key: `handles ${piece.id}`, drawing, offset: piece.offset });
    }
    const picture = openPicture(now);
    if (picture !== null) shown.push({ key: 'picture', drawing: pictureDrawing(picture, now.unit), offset: origin });
    if (now.draft !== null && now.inset !== null) {
      shown.push({ key: 'inset', drawing: insetDrawing(now.inset), offset: origin });
    }
    const outline = openOutline(now);
    if (outline !== null) shown.push({ key: 'nodes', drawing: draftNodesDrawing(outline), offset: origin });
    if (now.pen.nodes.length > 0) {
      shown.push({ key: 'pen', drawing: penDrawing(now.pen, now.unit), offset: origin });
    }
    if (marks.length > 0) shown.push({ key: 'marks', drawing: markDrawing(marks), offset: origin });
    return shown;
  }

  function flushMoves(): void {
    const moves = [...waitingMoves.values()];
    waitingMoves.clear();
    for (const event of moves) apply(reduceTable(table, event, scene()));
  }

  function apply(answer: TableAnswer): void {
    table = answer.state;
    carryOut(answer, { app: store, bringIn, chooseShape: options.chooseShape });
    if (answer.marks !== undefined) marks = answer.marks;
    if (answer.cursor !== undefined) canvas.style.cursor = answer.cursor;
    markDirty();
  }

  /** Lets the keeper move the camera; true when it is still on its way. */
  function keepCamera(time: number): boolean {
    const now = scene();
    // A drawing that was just scaled leaves quite another picture.
    const thing = thingOn(now) ?? store.getState().garment?.id ?? null;
    const { camera, more } = keeper.keep({ camera: now.camera, view, layout: now.layout, thing }, time);
    if (camera !== null) store.actions.look(camera);
    return more;
  }

  function showAll(): void {
    keeper.showAll();
    markDirty();
  }

  const keys = createTableKeys(canvas, store, scene, showAll, {
    picture: (picture) => bringIn.actions.changePicture(() => picture),
    draft: bringIn.actions.layDraft,
  });

  const stopListening = listen(canvas, {
    move(event) {
      waitingMoves.set(event.pointer.id, event);
      if (event.pointer.kind !== 'touch') pointer = event.pointer.at;
      markDirty();
    },
    now(event) {
      flushMoves();
      if (event.type === 'leave') pointer = null;
      keys.heard(event, table.active !== null);
      apply(reduceTable(table, event, scene()));
    },
    // Nothing is moved by keys while the pointer holds something.
    focused: keys.focused,
    key: (event) => table.active === null && keys.press(event),
  });

  function resize(): void {
    const box = (canvas.parentElement ?? canvas).getBoundingClientRect();
    view = { width: box.width, height: box.height };
    stage.resize(view, window.devicePixelRatio || 1);
    markDirty();
  }

  const sizes = new ResizeObserver(resize);
  sizes.observe(canvas.parentElement ?? canvas);
  const stopDensity = watchDensity(resize);
  const recolour = () => {
    stage.repaint(readTokens(canvas), coarse.matches);
    magnifier.repaint(readTokens(canvas));
    markDirty();
  };
  const stopTheme = watchTheme(recolour);
  coarse.addEventListener('change', recolour);
  const stopApp = store.subscribe(markDirty);
  const stopBringIn = bringIn.subscribe(markDirty);
  const stopPixels = bringIn.subscribe((state) => releaseAllBut(picturesNeeded(state)));
  let alive = true;
  // Words drawn before the font has come are drawn again in it.
  void document.fonts?.ready.then(() => {
    if (alive) recolour();
  });
  resize();

  return {
    destroy() {
      alive = false;
      cancelAnimationFrame(frame);
      stopListening();
      sizes.disconnect();
      stopDensity();
      stopTheme();
      coarse.removeEventListener('change', recolour);
      stopApp();
      stopBringIn();
      stopPixels();
      magnifier.destroy();
      stage.destroy();
    },
    fit: showAll,
    scene,
  };
}

const origin = tablePoint(0, 0);

/** Whether a mm on the table means nothing yet. */
function isUnscaled({ draft, picture }: TableScene): boolean {
  return draft === null ? picture !== null && !isTrueSize(picture) : draft.scale.kind === 'ask';
}

/** What is being brought in, by a name that changes whenever quite another picture lies on the table. */
function thingOn(scene: TableScene): string | null {
  const { draft, picture } = scene;
  if (draft !== null) return `${draft.source} ${draft.scale.kind}`;
  const pages = openPages(scene);
  if (pages !== null) return `${pages.source} pages`;
  return picture === null ? null : `${partNow(picture).id} ${picture.stage}`;
}

/**
 * Says on the canvas where the table is looked at, for assistive and automated use: `data-centre`, the table's point at
 * the middle of the canvas as `across down` in mm, and `data-pixels-per-mm`. Only written here, never read back.
 */
function publishView(canvas: HTMLCanvasElement, { centre, pixelsPerMm }: Camera): void {
  const { dataset } = canvas;
  const where = `${centre.x} ${centre.y}`;
  if (dataset.centre !== where) dataset.centre = where;
  if (dataset.pixelsPerMm !== String(pixelsPerMm)) dataset.pixelsPerMm = String(pixelsPerMm);
}

/** Calls back when the window comes to a screen of another density. */
function watchDensity(changed: () => void): () => void {
  let query: MediaQueryList | null = null;
  const arm = () => {
    query?.removeEventListener('change', onChange);
    query = window.matchMedia(`(resolution: ${window.devicePixelRatio}dppx)`);
    query.addEventListener('change', onChange);
  };
  const onChange = () => {
    changed();
    arm();
  };
  arm();
  return () => query?.removeEventListener('change', onChange);
}
