import { useId, useState } from 'react';
import { edgeParts } from '../../exchange/edgeParts';
import { sidesApartLimit, sidesDiffer } from '../../exchange/foldInHalf/foldInHalf';
import type { MirrorAxis } from '../../exchange/foldInHalf/mirrorAxes';
import { pathLength, pathPointAt } from '../../geometry/path';
import type { Point } from '../../geometry/point';
import { segmentPointAt } from '../../geometry/segment';
import { sidesApartWarn } from '../../geometry/tolerance';
import { nameInSentence } from '../../pattern/nameInSentence';
import type { BringInDraft, DraftLie, FoldLine } from '../../store/bringIn';
import { foldLineOf, foldLineThrough } from '../../store/foldLine';
import { ChoiceGroup } from '../controls/ChoiceGroup';
import { Complaint } from '../controls/Complaint';
import { Fold } from '../controls/Fold';
import { Caution } from '../places/Caution';
import { useActions } from '../storeContext';
import { foldDraft } from './foldDraft';

interface FoldingProps {
  readonly draft: BringInDraft;
  readonly lie: DraftLie;
  readonly axes: readonly MirrorAxis[];
  readonly onChange: (draft: BringInDraft, what: string) => void;
}

/** Where a piece drawn whole is folded, how far its sides are apart there, and which half is drawn. */
export function FoldingInHalf({ draft, lie, axes, onChange }: FoldingProps) {
  const id = useId();
  const { setHint } = useActions();
  const [complaint, setComplaint] = useState<string | null>(null);
  const { line } = lie;
  const path = draft.path!;
  const limit = sidesApartLimit(path);
  const lay = (chosen: FoldLine | null) => {
    setComplaint(chosen === null ? 'These two places give no line through the piece. Choose two others.' : null);
    if (chosen !== null) onChange({ ...draft, lie: { ...lie, line: chosen } }, 'the line of the fold');
  };
  const level = line !== null && Math.abs(line.to.x - line.from.x) > Math.abs(line.to.y - line.from.y);
  const [minus, plus] = level ? ['upper half', 'lower half'] : ['right half', 'left half'];
  const fold = () => {
    const folded = foldDraft(draft);
    // What was said of the end of the fold no longer holds.
    setHint(null);
    if (folded.ok) onChange(folded.value, 'folding it in half');
    else setComplaint(folded.sentence);
  };
  return (
    <>
      {axes.length > 1 && (
        <div className="field">
          <label className="field-label" htmlFor={`${id}-axis`}>
            Fold it
          </label>
          <select
            id={`${id}-axis`}
            className="pick"
            value={axes.findIndex((axis) => sameLine(foldLineOf(axis), line))}
            onChange={(event) => {
              const axis = axes[Number(event.target.value)];
              if (axis !== undefined) lay(foldLineOf(axis));
            }}
          >
            {axes.every((axis) => !sameLine(foldLineOf(axis), line)) && <option value={-1}>as set by you</option>}
            {axes.map((axis, index) => (
              <option key={axis.ends[0].x + axis.ends[1].y} value={index}>
                {wayOf(axis)}, sides {axis.apart.toFixed(1)} mm apart
              </option>
            ))}
          </select>
        </div>
      )}
      {line === null ? (
        <Complaint>
          No line divides it into two halves that are the same. Set the fold by two places, or say that it is cut as it
          lies.
        </Complaint>
      ) : line.apart > limit ? (
        <Complaint>{sidesDiffer(line.apart, limit).sentence}</Complaint>
      ) : line.apart > sidesApartWarn ? (
        <Caution>
          Both sides are up to {line.apart.toFixed(1)} mm apart, at the ring. Look there before you fold.
        </Caution>
      ) : (
        <p className="tray-note">Both sides are nowhere more than {line.apart.toFixed(1)} mm apart.</p>
      )}
      {line !== null && (
        <ChoiceGroup
          label="Draw"
          choices={[
            { value: 'mean', label: 'their mean' },
            { value: 'plus', label: plus! },
            { value: 'minus', label: minus! },
          ]}
          value={lie.kept}
          onChoose={(kept) => onChange({ ...draft, lie: { ...lie, kept } }, 'which half is drawn')}
        />
      )}
      <Fold label="Set the fold by two places">
        <FoldPlaces draft={draft} line={line} onLay={lay} />
      </Fold>
      {complaint !== null && <Complaint>{complaint}</Complaint>}
      <button
        type="button"
        className="button button-wide"
        disabled={line === null || line.apart > limit}
        onClick={fold}
      >
        Fold it in half
      </button>
    </>
  );
}

interface FoldPlacesProps {
  readonly draft: BringInDraft;
  readonly line: FoldLine | null;
  readonly onLay: (line: FoldLine | null) => void;
}

/** The fold through two places of the outline, each a corner or the middle of an edge: for keyboards, and for makers who know. */
function FoldPlaces({ draft, line, onLay }: FoldPlacesProps) {
  const id = useId();
  const places = placesOf(draft);
  const [chosen, setChosen] = useState<readonly [string, string]>(['', '']);
  const pick = (which: 0 | 1, name: string) => {
    const next: readonly [string, string] = which === 0 ? [name, chosen[1]] : [chosen[0], name];
    setChosen(next);
    const [one, two] = next.map((wanted) => places.find((place) => place.name === wanted)?.at);
    if (one !== undefined && two !== undefined) onLay(foldLineThrough(draft.path!, one, two));
  };
  return (
    <>
      {([0, 1] as const).map((which) => (
        <div key={which} className="field">
          <label className="field-label" htmlFor={`${id}-${which}`}>
            {which === 0 ? 'From' : 'To'}
          </label>
          <select
            id={`${id}-${which}`}
            className="pick"
            value={chosen[which]}
            onChange={(event) => pick(which, event.target.value)}
          >
            <option value="">{line === null ? 'choose' : 'as it is'}</option>
            {places.map(({ name }) => (
              <option key={name} value={name}>
                {name}
              </option>
            ))}
          </select>
        </div>
      ))}
    </>
  );
}

function placesOf({ path, corners }: BringInDraft): readonly { readonly name: string; readonly at: Point }[] {
  const parts = path === null ? null : edgeParts(path, corners);
  if (path === null || parts === null || !parts.ok) return [];
  return corners.flatMap((corner, i) => {
    const part = parts.value[i]!;
    const name = `${i + 1}: ${nameInSentence(corner.name)}`;
    return [
      { name: `start of ${name}`, at: segmentPointAt(path[corner.segment]!, corner.t) },
      { name: `middle of ${name}`, at: pathPointAt(part, pathLength(part) / 2).point },
    ];
  });
}

function wayOf({ ends: [from, to] }: MirrorAxis): string {
  const [across, down] = [Math.abs(to.x - from.x), Math.abs(to.y - from.y)];
  if (across < down / 4) return 'upright';
  return down < across / 4 ? 'level' : 'aslant';
}

function sameLine(a: FoldLine, b: FoldLine | null): boolean {
  return b !== null && a.from.x === b.from.x && a.from.y === b.from.y && a.to.x === b.to.x && a.to.y === b.to.y;
}
