import { rulerSize, viewBounds } from '../../gestures/camera';
import type { MountedTable } from '../../render/mountTable';
import type { AppStore } from '../../store/appCommands';
import type { BringInStore } from '../../store/bringIn';

/**
 * A piece that is fanned, matched or finished grows, and may grow out of sight. Whoever saw everything before sees
 * everything after; whoever had zoomed in on something is left there.
 */
export function keepInView(store: AppStore, bringIn: BringInStore, table: MountedTable, room: Element): () => void {
  let sawAll = true;
  const stopApp = store.subscribe((state, before) => {
    const changed =
      state.garment !== before.garment || state.activeVersion !== before.activeVersion || state.ghost !== before.ghost;
    if (changed && sawAll && !seesAll(table)) table.fit();
    if (changed || state.camera !== before.camera) sawAll = seesAll(table);
  });
  // A drawing that was just laid down, scaled or taken away leaves quite another picture.
  const stopBringIn = bringIn.subscribe(({ draft }, { draft: before }) => {
    if (draft?.scale.kind !== before?.scale.kind) table.fit();
  });
  // A window made smaller, or the slip opened beside it. The table's own observer came first and knows its new size.
  const sizes = new ResizeObserver(() => {
    if (sawAll && !seesAll(table)) table.fit();
  });
  sizes.observe(room);
  return () => {
    stopApp();
    stopBringIn();
    sizes.disconnect();
  };
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
