import { useId, useState } from 'react';
import { fail, type Outcome, succeed } from '../../geometry/outcome';
import { pathLength, pathPointAt } from '../../geometry/path';
import { add, angleBetween, distance, mix, quarterTurn, scale, subtract, turn, unit } from '../../geometry/point';
import { moveDartOrder } from '../../gestures/dartDrag';
import { dartOrder, takeAwayDart } from '../../gestures/dartTool';
import { addDart, type DartPlaces } from '../../pattern/addDart';
import type { BlockPiece } from '../../pattern/garment';
import { findEdge } from '../../pattern/lookUp';
import { moveDart, placesOf } from '../../pattern/moveDart';
import { nameInSentence } from '../../pattern/nameInSentence';
import type { Dart, Edge } from '../../pattern/piece';
import type { Mode } from '../../store/appCommands';
import { formatLength } from '../../units/length';
import { CloseSign } from '../controls/icons';
import { LengthField } from '../controls/LengthField';
import { LiveLength } from '../controls/LiveLength';
import type { OnTable } from '../onTable';
import { useActions, useApp, useCommands } from '../storeContext';

/** mm. A waist dart to begin with: 25 mm wide and 110 mm long. Ours. */
const usual = { width: 25, length: 110 };

/** Every dart with its size, and a further one by its measures: for keyboards, and where the numbers are known. */
export function DartList({ table }: { readonly table: OnTable }) {
  const { block } = table;
  return (
    <>
      {block.darts.map((dart, index) => (
        <DartRow key={dart.id} block={block} dart={dart} number={index + 1} />
      ))}
      <FurtherDart block={block} />
    </>
  );
}

interface DartRowProps {
  readonly block: BlockPiece;
  readonly dart: Dart;
  readonly number: number;
}

function DartRow({ block, dart, number }: DartRowProps) {
  const commands = useCommands();
  const lengthUnit = useApp((state) => state.garment?.unit ?? 'cm');
  const which = `${number} on the ${nameInSentence(findEdge(block, dart.edge)?.name ?? 'edge')}`;
  const { width, length } = sizeOf(dart);
  const middle = middleOf(block, dart);
  const lay = (change: Partial<DartSize>, mode: Mode): Outcome<unknown> => {
    const places = resized(block, dart, change);
    const moved = places === null ? dartGone : moveDart(block, dart.id, places);
    return places === null || !moved.ok ? moved : moveDartOrder(block.id, dart.id, places)(commands, mode);
  };
  return (
    <div className="field">
      <div className="notch-row">
        <span>
          Dart {which}: {formatLength(width, lengthUnit)} wide, {formatLength(length, lengthUnit)} long
        </span>
        <button
          type="button"
          className="icon-button"
          aria-label={`Take away dart ${which}`}
          onClick={() => takeAwayDart(block.id, dart.id)(commands, 'commit')}
        >
          <CloseSign />
        </button>
      </div>
      <div className="pair">
        <LiveLength
          label={`Dart ${number}, width`}
          value={width}
          least={2}
          set={(value, mode) => lay({ width: value }, mode)}
        />
        <LiveLength
          label={`Dart ${number}, length`}
          value={length}
          least={5}
          set={(value, mode) => lay({ length: value }, mode)}
        />
      </div>
      <LiveLength
        label={`Dart ${number}, its middle along the edge`}
        value={middle}
        least={0}
        set={(value, mode) => lay({ middle: value }, mode)}
      />
    </div>
  );
}

const dartGone = fail('dart-unknown', 'This dart is not there any more.');

/** A dart as it is typed, mm: its mouth, the way from the middle of its mouth to its point, and where on the edge. */
interface DartSize {
  readonly width: number;
  readonly length: number;
  readonly middle: number;
}

function sizeOf({ legs, apex }: Dart): Pick<DartSize, 'width' | 'length'> {
  return { width: distance(...legs), length: distance(mix(...legs, 0.5), apex) };
}

function middleOf(block: BlockPiece, dart: Dart): number {
  const places = placesOf(block, dart);
  return places === null ? 0 : (places.from + places.to) / 2;
}

/** The dart with one measure typed anew; its point keeps its lean to the mouth. null when its edge is gone. */
function resized(block: BlockPiece, dart: Dart, change: Partial<DartSize>): DartPlaces | null {
  const places = placesOf(block, dart);
  const edge = findEdge(block, dart.edge);
  if (places === null || edge === undefined) return null;
  const { width, length, middle } = { ...sizeOf(dart), middle: (places.from + places.to) / 2, ...change };
  const [from, to] =
    change.width === undefined && change.middle === undefined
      ? [places.from, places.to]
      : [middle - width / 2, middle + width / 2];
  const mouth = [pathPointAt(edge.path, Math.max(0, from)).point, pathPointAt(edge.path, to).point] as const;
  const lean = angleBetween(subtract(dart.legs[1], dart.legs[0]), subtract(dart.apex, mix(...dart.legs, 0.5)));
  const towards = turn(unit(subtract(mouth[1], mouth[0])), lean);
  return { edge: edge.id, from, to, apex: add(mix(...mouth, 0.5), scale(towards, length)) };
}

function FurtherDart({ block }: { readonly block: BlockPiece }) {
  const id = useId();
  const commands = useCommands();
  const { notify } = useActions();
  const lengthUnit = useApp((state) => state.garment?.unit ?? 'cm');
  const [picked, setPicked] = useState<string | null>(null);
  const [width, setWidth] = useState(usual.width);
  const [length, setLength] = useState(usual.length);
  const edge = findEdge(block, picked ?? '') ?? block.edges.find(({ role }) => role === 'waist') ?? block.edges[0];
  const set = () => {
    if (edge === undefined) return;
    const places = halfway(edge, width, length);
    const made = addDart(block, 'dart', places);
    if (made.ok) dartOrder(block.id, places)(commands, 'commit');
    else notify({ tone: 'refused', sentence: made.sentence });
  };
  return (
    <div className="field">
      <label className="field-label" htmlFor={id}>
        A further dart, on the edge
      </label>
      <div className="pair">
        <select id={id} className="pick" value={edge?.id} onChange={(event) => setPicked(event.target.value)}>
          {block.edges.map((candidate) => (
            <option key={candidate.id} value={candidate.id}>
              {candidate.name}
            </option>
          ))}
        </select>
        <button type="button" className="button" onClick={set}>
          Set dart halfway
        </button>
      </div>
      <LengthField label="Width of its mouth" value={width} least={2} unit={lengthUnit} onCommit={keep(setWidth)} />
      <LengthField label="Length to its point" value={length} least={5} unit={lengthUnit} onCommit={keep(setLength)} />
    </div>
  );
}

const keep = (set: (length: number) => void) => (length: number) => {
  set(length);
  return succeed(length);
};

/** A dart in the middle of an edge, square to its mouth. */
function halfway(edge: Edge, width: number, length: number): DartPlaces {
  const middle = pathLength(edge.path) / 2;
  const [from, to] = [Math.max(0, middle - width / 2), middle + width / 2];
  const [a, b] = [pathPointAt(edge.path, from).point, pathPointAt(edge.path, to).point];
  const inward = scale(quarterTurn(unit(subtract(b, a))), -length);
  return { edge: edge.id, from, to, apex: add(mix(a, b, 0.5), inward) };
}
