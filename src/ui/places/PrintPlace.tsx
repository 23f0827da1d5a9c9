import { useId, useMemo, useState } from 'react';
import { succeed } from '../../geometry/outcome';
import { nameAndSize } from '../../pattern/sizeWords';
import { papers } from '../../print/paper';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { Fold } from '../controls/Fold';
import { LengthField } from '../controls/LengthField';
import { Tick } from '../controls/Tick';
import { downloadFile, fileName } from '../download';
import { notToOpen, planNow } from '../print/planNow';
import type { PrintDesk } from '../print/printDesk';
import { useActions, useShown } from '../storeContext';
import { Caution } from './Caution';
import { LeftBehind } from './LeftBehind';
import { Tray } from './Tray';

const noneHeld: ReadonlyMap<string, string> = new Map();

export function PrintPlace({ desk }: { readonly desk: PrintDesk }) {
  const id = useId();
  const shown = useShown();
  const { notify } = useActions();
  const [drawing, setDrawing] = useState(false);
  const halves = useMemo(() => (shown === null ? noneHeld : notToOpen(shown.garment, shown.report)), [shown]);
  if (shown === null || shown.report.pieces.length === 0) return <Tray next="Bring in a piece first." />;
  const { garment, report } = shown;
  const { choice, choose } = desk;
  const onFold = report.pieces.filter(({ block }) => block.fold !== null && !choice.leftOut.includes(block.id));
  const plan = planNow(garment, report, choice);
  const version = garment.versions.find((candidate) => candidate.id === report.version)?.name ?? 'Block';

  const save = async () => {
    if (!plan.ok) return;
    setDrawing(true);
    try {
      const { drawPdf } = await import('../../print/drawPdf');
      const bytes = await drawPdf(plan.value);
      downloadFile(fileName(`${garment.name} ${version}`, 'pdf'), bytes as BlobPart, 'application/pdf');
      notify({ tone: 'done', sentence: 'The PDF is saved. Print it at 100 %, never “fit to page”.' });
    } catch (error) {
      const said = error instanceof Error ? error.message : String(error);
      notify({ tone: 'refused', sentence: `The PDF could not be made. ${said}` });
    } finally {
      setDrawing(false);
    }
  };

  return (
    <Tray next="Print the first page, measure its squares both ways; if they are true, print the rest.">
      <div className="pair pair-narrow">
        <div className="field">
          <label className="field-label" htmlFor={`${id}-paper`}>
            Paper
          </label>
          <select
            id={`${id}-paper`}
            className="pick"
            value={choice.paper}
            onChange={(event) => choose({ paper: event.target.value, page: null })}
          >
            {papers.map((paper) => (
              <option key={paper.name} value={paper.name}>
                {paper.name}
              </option>
            ))}
          </select>
        </div>
        <ChoiceGroup
          label="Laid"
          choices={[
            { value: 'upright', label: 'upright' },
            { value: 'across', label: 'across' },
          ]}
          value={choice.landscape ? 'across' : 'upright'}
          onChoose={(way) => choose({ landscape: way === 'across', page: null })}
        />
      </div>
      {plan.ok && (
        <p className="print-count" role="status">
          <strong>{plan.value.pages.length}</strong> {plan.value.pages.length === 1 ? 'page' : 'pages'}
          {plan.value.blankPagesLeftOut > 0 && `, ${plan.value.blankPagesLeftOut} blank left out`}
        </p>
      )}
      <button
        type="button"
        className="button button-main button-wide"
        disabled={!plan.ok || drawing}
        onClick={() => void save()}
      >
        {drawing ? 'Drawing the pages…' : 'Save PDF'}
      </button>
      {report.pieces.length > 1 && (
        <fieldset>
          <legend className="field-label">Pieces</legend>
          {report.pieces.map(({ block }) => (
            <Tick
              key={block.id}
              label={nameAndSize(block)}
              checked={!choice.leftOut.includes(block.id)}
              onChange={(wanted) => choose({ page: null, leftOut: withOrWithout(choice.leftOut, block.id, !wanted) })}
            />
          ))}
        </fieldset>
      )}
      {onFold.length > 0 && (
        <fieldset>
          <legend className="field-label">Opened out, to cut in a single layer</legend>
          {onFold.map(({ block }) => (
            <Tick
              key={block.id}
              label={`${nameAndSize(block)}, whole`}
              checked={choice.opened.includes(block.id) && !halves.has(block.id)}
              disabled={halves.has(block.id)}
              onChange={(whole) => choose({ page: null, opened: withOrWithout(choice.opened, block.id, whole) })}
            />
          ))}
          {onFold.map(({ block }) =>
            halves.has(block.id) ? (
              <p key={block.id} className="tray-note">
                {halves.get(block.id)}
              </p>
            ) : null,
          )}
        </fieldset>
      )}
      <Fold label="Margin and overlap">
        <div className="pair">
          <LengthField
            label="Margin"
            value={choice.margin}
            unit={garment.unit}
            least={0}
            onCommit={(margin) => {
              choose({ margin, page: null });
              return succeed(margin);
            }}
          />
          <LengthField
            label="Overlap"
            value={choice.overlap}
            unit={garment.unit}
            least={0}
            onCommit={(overlap) => {
              choose({ overlap, page: null });
              return succeed(overlap);
            }}
          />
        </div>
        <p className="tray-note">Most printers need a margin of 6.35 mm (1/4 in) or more.</p>
      </Fold>
      <LeftBehind garment={garment} version={report.version} />
      {report.version !== null && report.pieces.some(({ cutLine }) => cutLine === null) && (
        <Caution>A piece has no allowances yet; its stitching line is printed.</Caution>
      )}
      {plan.ok && plan.value.warnings.map((sentence) => <Caution key={sentence}>{sentence}</Caution>)}
      <Caution>
        Test the printed square before cutting, and sew a toile first. Close a rotary blade after every cut.
      </Caution>
    </Tray>
  );
}

function withOrWithout(ids: readonly string[], id: string, wanted: boolean): readonly string[] {
  const others = ids.filter((other) => other !== id);
  return wanted ? [...others, id] : others;
}
