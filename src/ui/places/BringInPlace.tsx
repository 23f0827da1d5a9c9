import { lazy, Suspense } from 'react';
import type { BringInDraft } from '../../store/bringIn';
import { EdgeWalk } from '../bringin/EdgeWalk';
import { useFileDoor } from '../bringin/fileDoor';
import { LinePicking } from '../bringin/LinePicking';
import { OutlineChoice } from '../bringin/OutlineChoice';
import { OwnFiles } from '../bringin/OwnFiles';
import { PagesPlace } from '../bringin/pages/PagesPlace';
import { ScaleCheck } from '../bringin/ScaleCheck';
import { ScaleQuestion } from '../bringin/ScaleQuestion';
import { CameraSign, PlusSign } from '../controls/icons';
import { useActions, useApp, useBringIn, useBringInStore } from '../storeContext';
import { Tray } from './Tray';
import '../bringin/bringin.css';

const PicturePlace = lazy(() =>
  import('../bringin/photo/PicturePlace').then(({ PicturePlace }) => ({ default: PicturePlace })),
);

export function BringInPlace() {
  const draft = useBringIn((state) => state.draft);
  const pages = useBringIn((state) => state.pages);
  const hasPicture = useBringIn((state) => state.picture !== null);
  const tool = useApp((state) => state.tool);
  if (draft !== null) return <DraftPlace draft={draft} />;
  if (tool === 'pen') return <PenDrawing />;
  if (pages !== null) return <PagesPlace laid={pages} />;
  if (hasPicture) {
    return (
      <Suspense fallback={null}>
        <PicturePlace />
      </Suspense>
    );
  }
  return <Ways />;
}

/** The questions a drawing raises on its way to a piece, one after the other. */
function DraftPlace({ draft }: { readonly draft: BringInDraft }) {
  const { scale, groups, path } = draft;
  if (scale.kind === 'ask') {
    const { checks } = scale;
    return checks === undefined ? (
      <ScaleQuestion draft={draft} scale={scale} />
    ) : (
      <ScaleCheck draft={draft} scale={scale} stated={checks} />
    );
  }
  if (groups !== undefined && !groups.settled) return <LinePicking draft={draft} groups={groups} />;
  return path === null ? <OutlineChoice draft={draft} /> : <EdgeWalk draft={draft} path={path} />;
}

/** Nothing new lies on the table: what can be laid there. */
function Ways() {
  const blocks = useApp((state) => state.garment?.blocks) ?? [];
  const hasUnderlay = useBringIn((state) => state.underlay !== null);
  const { pickTool } = useActions();
  const { actions } = useBringInStore();
  const openFile = useFileDoor();
  return (
    <Tray
      ready={blocks.length > 0}
      next={
        blocks.length === 0
          ? 'Bring in the first piece: from paper, from a file, or drawn with the pen.'
          : 'Bring in a further piece, or go on with what is here.'
      }
    >
      <OwnFiles onFile={(file) => void openFile(file)} />
      {hasUnderlay && (
        <button type="button" className="way" onClick={actions.takeUpAgain}>
          <CameraSign />
          <span>
            <strong>The same picture again</strong>
            <span className="quiet">Take a further piece from it.</span>
          </span>
        </button>
      )}
      <button type="button" className="way" onClick={() => pickTool('pen')}>
        <PlusSign />
        <span>
          <strong>Draw with the pen</strong>
          <span className="quiet">Set points round the outline; pull while pressing to bend the line.</span>
        </span>
      </button>
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
