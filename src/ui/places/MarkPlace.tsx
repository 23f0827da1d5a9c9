import { ToolButton } from '../bringin/ToolButton';
import { CountStepper } from '../controls/CountStepper';
import { Fold } from '../controls/Fold';
import { DartList } from '../mark/DartList';
import { EdgeNames } from '../mark/EdgeNames';
import { FoldChoice } from '../mark/FoldChoice';
import { NameAndSize } from '../mark/NameAndSize';
import { NotchList } from '../mark/NotchList';
import { SeamLinks } from '../mark/SeamLinks';
import { type OnTable, useOnTable } from '../onTable';
import { useActions, useApp, useCommands } from '../storeContext';
import { Tray } from './Tray';
import '../bringin/bringin.css';

export function MarkPlace() {
  const table = useOnTable();
  const { goTo, takeDown } = useActions();
  if (table === null) {
    return (
      <Tray next="There is no piece to mark yet.">
        <button type="button" className="button button-main button-wide" onClick={() => goTo('bring-in')}>
          Bring one in
        </button>
      </Tray>
    );
  }
  if (table.block.locked) {
    return (
      <Tray ready next="This block is marked and locked: it stays as it is, and every change goes on a version.">
        <p className="tray-note">
          Only what is sewn to what may still be said. It is needed to match the back and to walk the seams.
        </p>
        <Fold label="What is sewn to what" open>
          <SeamLinks table={table} />
        </Fold>
      </Tray>
    );
  }
  if (table.version !== undefined) {
    return (
      <Tray next="Take the block down from the rack to mark it; marks belong on the original.">
        <button type="button" className="button button-main button-wide" onClick={() => takeDown(null)}>
          Take down the block
        </button>
      </Tray>
    );
  }
  return <Marking table={table} />;
}

function Marking({ table }: { readonly table: OnTable }) {
  const { changeBlock, lockBlocks } = useCommands();
  const { goTo } = useActions();
  const tool = useApp((state) => state.tool);
  const { block } = table;
  return (
    <Tray
      next={nextMark(table)}
      onward={
        <button
          type="button"
          className="button button-main button-wide"
          onClick={() => {
            if (lockBlocks().ok) goTo('fan');
          }}
        >
          Lock the block and fan it
        </button>
      }
    >
      <NameAndSize block={block} />
      <FoldChoice block={block} />
      <div className="field">
        <span className="field-label">Draw on the table</span>
        <div className="tool-row">
          <ToolButton tool="grain" now={tool} label="Grainline" />
          <ToolButton tool="notch" now={tool} label="Notch" />
          <ToolButton tool="dart" now={tool} label="Dart" />
          <ToolButton tool="drill" now={tool} label="Drill hole" />
          <ToolButton tool="hand" now={tool} label="Move points" />
        </div>
      </div>
      <CountStepper
        label="Cut how many"
        value={block.cutCount}
        least={1}
        most={20}
        onCommit={(cutCount) => changeBlock('Cut count', block.id, (piece) => ({ ...piece, cutCount }))}
      />
      <Fold label="Notches">
        <NotchList table={table} />
      </Fold>
      <Fold label="Darts">
        <DartList table={table} />
      </Fold>
      <Fold label="Names of the edges">
        <EdgeNames block={block} />
      </Fold>
      <Fold label="What is sewn to what">
        <SeamLinks table={table} />
      </Fold>
      <p className="tray-note">A locked block never changes again; from then on you work on versions of it.</p>
    </Tray>
  );
}

/** What is still missing, one thing at a time. */
function nextMark({ block }: OnTable): string {
  if (block.fold === null && block.edges.some((edge) => edge.role.startsWith('centre'))) {
    return 'Say which edge lies on the fold, if any, and check the grainline.';
  }
  if (block.grainline === null) return 'Draw the grainline by dragging along the grain on the table.';
  if (block.notches.length === 0) return 'Set notches where seams must meet, then lock the block.';
  return 'Lock the block when all is marked, so that the original stays safe.';
}
