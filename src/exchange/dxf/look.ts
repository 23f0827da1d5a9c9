import { indexColour, trueColour } from './colours';
import type { DxfDocument, Layer } from './document';
import { type Entry, numberIn, textIn } from './pairs';

/** What an entity inside a block takes from the place where the block is put. */
export interface Inherited {
  readonly layer: string | null;
  readonly colour: string | null;
  readonly dash: string | null;
}

export interface Look {
  readonly layer: string;
  readonly hidden: 'off' | 'frozen' | null;
  readonly colour: string | null;
  readonly dash: string | null;
}

const byBlock = 0;
const byLayer = 256;

/** Layer, colour and dashes of an entity, its own or those of its layer or block. */
export function lookOf(entry: Entry, around: Inherited, document: DxfDocument): Look {
  const own = textIn(entry, 8) ?? '0';
  // Layer 0 inside a block means: whatever layer the block lies on.
  const layer = own === '0' && around.layer !== null ? around.layer : own;
  const row = document.layers.get(layer.toUpperCase());
  return {
    layer,
    hidden: row?.frozen ? 'frozen' : row?.off ? 'off' : null,
    colour: colourOf(entry, around, row),
    dash: dashOf(entry, around, row, document),
  };
}

function colourOf(entry: Entry, around: Inherited, row: Layer | undefined): string | null {
  const full = numberIn(entry, 420, Number.NaN);
  if (!Number.isNaN(full)) return trueColour(full);
  const index = numberIn(entry, 62, byLayer);
  if (index === byBlock) return around.colour;
  return indexColour(index === byLayer ? (row?.colour ?? 0) : Math.abs(index));
}

function dashOf(entry: Entry, around: Inherited, row: Layer | undefined, document: DxfDocument): string | null {
  const own = textIn(entry, 6)?.toUpperCase() ?? 'BYLAYER';
  if (own === 'BYBLOCK') return around.dash;
  const name = own === 'BYLAYER' ? (row?.lineType ?? 'CONTINUOUS') : own;
  const dashes = document.lineTypes.get(name);
  if (name === 'CONTINUOUS' || name === 'BYBLOCK' || name === 'BYLAYER' || name === '') return null;
  if (dashes === undefined) return name.toLowerCase();
  return dashes.length > 0 ? dashes.map((dash) => Number(dash.toPrecision(6))).join(' ') : null;
}
