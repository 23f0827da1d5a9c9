import { rulerSize, viewBounds } from '../../gestures/camera';
import type { MountedTable } from '../../render/mountTable';
import type { AppStore } from '../../store/appCommands';

/**
 * A piece that is fanned, matched or finished grows, and may grow out of sight. Whoever saw everything before sees
 * everything after; whoever had zoomed in on something is left there.
 */
export function keepInView(store: AppStore, table: MountedTable): () => void {
  let sawAll = true;
  return store.subscribe((state, before) => {
    const changed =
      state.garment !== before.garment || state.activeVersion !== before.activeVersion || state.ghost !== before.ghost;
    if (changed && sawAll && !seesAll(table)) table.fit();
    if (changed || state.camera !== before.camera) sawAll = seesAll(table);
  });
}

/** The measures written under a hem, CSS pixels. */
const roomForMeasures = 24;

function seesAll(table: MountedTable): boolean {
  const { camera, view, layout } = table.scene();
  const seen = viewBounds(camera, view);
  const { pieces } = layout;
  const besideRulers = rulerSize / camera.pixelsPerMm;
  const belowHem = roomForMeasures / camera.pixelsPerMm;
  return (
    pieces.minX >= seen.minX + besideRulers &&
    pieces.minY >= seen.minY + besideRulers &&
    pieces.maxX <= seen.maxX &&
    pieces.maxY <= seen.maxY - belowHem
  );
}
