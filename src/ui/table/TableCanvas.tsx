import { useEffect, useRef } from 'react';
import type { SeeLine, SnapPage } from '../../gestures/scene';
import { type MountedTable, mountTable } from '../../render/mountTable';
import { withStep } from '../../store/draftHistory';
import type { DrawingReader } from '../../workers/drawingReader';
import { useWorkshop } from '../bringin/readerContext';
import { FitSign, TapeSign } from '../controls/icons';
import { useActions, useApp, useAppStore, useBringIn, useBringInStore } from '../storeContext';
import './table.css';

/** Pages come only with a file that was read, so what lays them together is loaded with the first of them that is moved. */
function snapPageWhenLoaded(reader: DrawingReader): SnapPage {
  let loaded: SnapPage | null = null;
  let asked = false;
  return (...page) => {
    if (!asked) {
      asked = true;
      void import('../bringin/pages/snapPages').then(({ snapPages }) => {
        loaded = snapPages(reader);
      });
    }
    return loaded?.(...page) ?? null;
  };
}

/** The sheet itself is painted outside React; here it gets its place, its name, and the line that says what it says. */
export function TableCanvas({ hidden }: { readonly hidden: boolean }) {
  const store = useAppStore();
  const bringIn = useBringInStore();
  const canvas = useRef<HTMLCanvasElement>(null);
  const table = useRef<MountedTable | null>(null);
  const { reader } = useWorkshop();
  const { pickTool } = useActions();
  const hint = useApp((state) => state.hint);
  const hasPicture = useBringIn((state) => state.picture !== null);
  const seeLine = useRef<SeeLine | null>(null);
  const measuring = useApp((state) => state.tool === 'measure');

  useEffect(() => {
    if (canvas.current === null) return;
    const mounted = mountTable(canvas.current, store, {
      bringIn,
      seeLine: (at, reach) => seeLine.current?.(at, reach) ?? null,
      snapPage: snapPageWhenLoaded(reader),
      chooseShape: (id) => {
        // Only a drawing that was brought in has shapes to choose from, so its code is loaded by then.
        void import('../bringin/chooseOutline').then(async ({ outlineChosen }) => {
          const { draft } = bringIn.getState();
          const shape = draft?.shapes.find((candidate) => candidate.id === id);
          if (draft === null || !shape?.closed) return;
          const chosen = await outlineChosen(draft, shape, { bringIn, reader });
          // What lies on the table may have been changed or put away meanwhile.
          if (bringIn.getState().draft !== draft) return;
          if (chosen.ok) bringIn.actions.layDraft(withStep(draft, chosen.value, 'the choice of outline'));
          else
            store.actions.notify({ tone: chosen.code === 'cancelled' ? 'done' : 'refused', sentence: chosen.sentence });
        });
      },
    });
    table.current = mounted;
    return () => {
      table.current = null;
      mounted.destroy();
    };
  }, [store, bringIn, reader]);

  useEffect(() => {
    if (!hasPicture || seeLine.current !== null) return;
    // What reads lines off a picture is not needed until there is one.
    void import('../bringin/photo/seeLine').then(({ createSeeLine }) => {
      seeLine.current = createSeeLine(bringIn);
    });
  }, [hasPicture, bringIn]);

  return (
    <div className="table" inert={hidden}>
      <div className="table-sheet">
        {/* The canvas measures its parent, which therefore has no border of its own. */}
        <div className="table-room">
          {/* biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: the table takes keys of its own, which is what this role tells */}
          <canvas
            ref={canvas}
            className="table-canvas"
            tabIndex={0}
            role="application"
            aria-label="The cutting table at true scale. Tab walks what can be moved, arrow keys move it, plus and minus zoom, 0 shows everything."
          />
        </div>
      </div>
      <div className="table-foot">
        <p className="table-hint" role="status">
          {hint}
        </p>
        <div className="table-tools">
          <button
            type="button"
            className="icon-button"
            aria-pressed={measuring}
            aria-label="Measure from point to point"
            title="Measure from point to point"
            onClick={() => pickTool(measuring ? 'hand' : 'measure')}
          >
            <TapeSign />
          </button>
          <button
            type="button"
            className="icon-button"
            aria-label="Show everything"
            title="Show everything"
            onClick={() => table.current?.fit()}
          >
            <FitSign />
          </button>
        </div>
      </div>
    </div>
  );
}
