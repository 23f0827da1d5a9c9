import { type Failure, type Outcome, succeed } from '../../geometry/outcome';
import { dxfLimits } from './limits';
import { type Entry, hasFlag, numberIn, type Pairs, textIn } from './pairs';
import { refusals } from './refusals';

/** How a layer is drawn. */
export interface Layer {
  /** Shown: neither off nor frozen. */
  readonly off: boolean;
  readonly frozen: boolean;
  /** AutoCAD colour index. */
  readonly colour: number;
  readonly lineType: string;
}

/** Entities that are drawn together wherever the block is placed. */
export interface Block {
  readonly name: string;
  readonly baseX: number;
  readonly baseY: number;
  /** It stands for another file. */
  readonly external: boolean;
  readonly entries: readonly Entry[];
}

/** A DXF file by its sections; entities are not looked into yet. Names are kept in capitals, as the format compares them. */
export interface DxfDocument {
  /** `$INSUNITS`, the unit of the drawing; null when the file does not say. */
  readonly units: number | null;
  /** `$MEASUREMENT`: 0 inches, 1 metric; null when the file does not say. */
  readonly measurement: number | null;
  readonly layers: ReadonlyMap<string, Layer>;
  /** Dashes and gaps, units of the drawing; empty for a solid line. */
  readonly lineTypes: ReadonlyMap<string, readonly number[]>;
  readonly blocks: ReadonlyMap<string, Block>;
  readonly entities: readonly Entry[];
  /** The file ends as it should. */
  readonly ended: boolean;
}

/** Sorts the pairs of a file into its sections. Files that break off inside a section are refused. */
export function readDocument(pairs: Pairs, endsInside: boolean): Outcome<DxfDocument> {
  const entries = splitEntries(pairs);
  if (!Array.isArray(entries)) return entries;
  const header = { units: null as number | null, measurement: null as number | null };
  const layers = new Map<string, Layer>();
  const lineTypes = new Map<string, readonly number[]>();
  const blocks = new Map<string, Block>();
  const entities: Entry[] = [];
  let section: string | null = null;
  let open: (Block & { readonly entries: Entry[] }) | null = null;
  for (const entry of entries) {
    const { type } = entry;
    if (type === 'EOF') break;
    if (type === 'SECTION') {
      section = textIn(entry, 2)?.toUpperCase() ?? '';
      if (section === 'HEADER') Object.assign(header, readHeader(entry));
    } else if (type === 'ENDSEC') section = null;
    else if (section === 'TABLES') readTableRow(entry, layers, lineTypes);
    else if (section === 'ENTITIES') entities.push(entry);
    else if (section === 'BLOCKS') {
      if (type === 'BLOCK') {
        open = {
          name: textIn(entry, 2) ?? '',
          baseX: numberIn(entry, 10, 0),
          baseY: numberIn(entry, 20, 0),
          external: hasFlag(entry, 70, 4),
          entries: [],
        };
        // Of two blocks of one name the first counts, as with everything else that is written twice.
        if (!blocks.has(open.name.toUpperCase())) blocks.set(open.name.toUpperCase(), open);
      } else if (type === 'ENDBLK') open = null;
      else open?.entries.push(entry);
    }
  }
  const ended = entries.some(({ type }) => type === 'EOF');
  if (endsInside || (section !== null && !ended)) return refusals.cutShort();
  return succeed({ ...header, layers, lineTypes, blocks, entities, ended });
}

/** Every stretch from one code 0 to the next. */
function splitEntries(pairs: Pairs): Entry[] | Failure {
  const entries: Entry[] = [];
  let from = -1;
  const close = (to: number) => {
    if (from >= 0) entries.push({ pairs, type: pairs.text(from).toUpperCase(), from, to });
  };
  for (let i = 0; i < pairs.count; i++) {
    if (pairs.code(i) !== 0) continue;
    close(i);
    from = i;
    if (entries.length > dxfLimits.records) return refusals.pairs();
  }
  close(pairs.count);
  return entries;
}

/** Header variables stand as pairs 9, name, followed by their values. */
function readHeader({ pairs, from, to }: Entry): { units?: number; measurement?: number } {
  const found: { units?: number; measurement?: number } = {};
  for (let i = from + 1; i + 1 < to; i++) {
    if (pairs.code(i) !== 9 || pairs.code(i + 1) !== 70) continue;
    const name = pairs.text(i).toUpperCase();
    if (name === '$INSUNITS') found.units = pairs.number(i + 1);
    else if (name === '$MEASUREMENT') found.measurement = pairs.number(i + 1);
  }
  return found;
}

function readTableRow(entry: Entry, layers: Map<string, Layer>, lineTypes: Map<string, readonly number[]>): void {
  const name = textIn(entry, 2)?.toUpperCase();
  if (name === undefined) return;
  if (entry.type === 'LAYER') {
    const colour = numberIn(entry, 62, 7);
    layers.set(name, {
      off: colour < 0,
      frozen: hasFlag(entry, 70, 1),
      colour: Math.abs(colour),
      lineType: textIn(entry, 6)?.toUpperCase() ?? 'CONTINUOUS',
    });
  } else if (entry.type === 'LTYPE') {
    const dashes: number[] = [];
    for (let i = entry.from + 1; i < entry.to && dashes.length < dxfLimits.dashes; i++) {
      if (entry.pairs.code(i) === 49) dashes.push(Math.abs(entry.pairs.number(i)));
    }
    lineTypes.set(name, dashes.every(Number.isFinite) ? dashes : []);
  }
}
