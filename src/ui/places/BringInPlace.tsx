import { useRef } from 'react';
import { EdgeWalk } from '../bringin/EdgeWalk';
import { useFileDoor } from '../bringin/fileDoor';
import { OutlineChoice } from '../bringin/OutlineChoice';
import { ScaleQuestion } from '../bringin/ScaleQuestion';
import { FileSign, PlusSign } from '../controls/icons';
import { useActions, useApp, useBringIn, useBringInStore } from '../storeContext';
import { Tray } from './Tray';
import '../bringin/bringin.css';

export function BringInPlace() {
  const draft = useBringIn((state) => state.draft);
  const tool = useApp((state) => state.tool);
  if (draft !== null) {
    if (draft.scale.kind === 'ask') return <ScaleQuestion draft={draft} scale={draft.scale} />;
    return draft.path === null ? <OutlineChoice draft={draft} /> : <EdgeWalk draft={draft} path={draft.path} />;
  }
  return tool === 'pen' ? <PenDrawing /> : <Ways />;
}

/** Nothing new lies on the table: what can be laid there. */
function Ways() {
  const blocks = useApp((state) => state.garment?.blocks) ?? [];
  const { pickTool } = useActions();
  const openFile = useFileDoor();
  const picker = useRef<HTMLInputElement>(null);
  return (
    <Tray
      ready={blocks.length > 0}
      next={
        blocks.length === 0
          ? 'Bring in the first piece: open an SVG of it, or draw its outline.'
          : 'Bring in a further piece, or go on with what is here.'
      }
    >
      <button type="button" className="way" onClick={() => picker.current?.click()}>
        <FileSign />
        <span>
          <strong>Open an SVG</strong>
          <span className="quiet">Lines are read at true size; where the file does not say, you are asked.</span>
        </span>
      </button>
      <button type="button" className="way" onClick={() => pickTool('pen')}>
        <PlusSign />
        <span>
          <strong>Draw with the pen</strong>
          <span className="quiet">Set points round the outline; pull while pressing to bend the line.</span>
        </span>
      </button>
      <input
        ref={picker}
        type="file"
        hidden
        accept=".svg,image/svg+xml"
        onChange={(event) => {
          const file = event.target.files?.[0];
          event.target.value = '';
          if (file !== undefined) void openFile(file);
        }}
      />
      <p className="tray-note">Photos and scans cannot be read yet.</p>
    </Tray>
  );
}

function PenDrawing() {
  const points = useBringIn((state) => state.pen.nodes.length);
  const { actions } = useBringInStore();
  const { pickTool } = useActions();
  return (
    <Tray
      onward={null}
      next={
        points < 3
          ? 'Press on the table to set points round the outline; pull to bend the line.'
          : 'Go on round; press the first point again to close the outline.'
      }
    >
      <div className="tool-row">
        <button type="button" className="button" disabled={points === 0} onClick={() => actions.takeBackPoint()}>
          Back one point
        </button>
        <button
          type="button"
          className="button"
          onClick={() => {
            actions.drawPen({ nodes: [], next: null });
            pickTool('hand');
          }}
        >
          Stop drawing
        </button>
      </div>
      <p className="tray-note">
        {points === 1 ? 'One point set.' : `${points} points set.`} The rulers show true size; undo takes back one
        point.
      </p>
    </Tray>
  );
}
