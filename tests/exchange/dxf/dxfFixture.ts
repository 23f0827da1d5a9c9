import { readFileSync } from 'node:fs';
import type { DrawingReading } from '../../../src/exchange/drawing/drawingReading';
import { readDxf } from '../../../src/exchange/dxf/readDxf';
import type { Outcome } from '../../../src/geometry/outcome';
import { succeeded } from '../svgFixture';

/** Bytes of a file under tests/fixtures/dxf. */
export function fixture(name: string): Uint8Array {
  return readFileSync(new URL(`../../fixtures/dxf/${name}`, import.meta.url));
}

/** Pairs written as `code value`, one to a line of the argument, laid out as a DXF file does. */
export function pairs(written: string): string {
  return written
    .split('\n')
    .map((row) => row.trim())
    .filter((row) => row !== '')
    .map((row) => {
      const [code, ...value] = row.split(' ');
      return `${code!.padStart(3)}\n${value.join(' ')}\n`;
    })
    .join('');
}

interface Parts {
  readonly header?: string;
  readonly tables?: string;
  readonly blocks?: string;
}

/** A whole file round some entities, in millimetres unless the header says otherwise. */
export function dxf(entities: string, { header = '9 $INSUNITS\n70 4', tables = '', blocks = '' }: Parts = {}): string {
  const section = (name: string, inside: string) => `0 SECTION\n2 ${name}\n${inside}\n0 ENDSEC\n`;
  return pairs(
    section('HEADER', header) +
      section('TABLES', tables) +
      section('BLOCKS', blocks) +
      section('ENTITIES', entities) +
      '0 EOF',
  );
}

export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function readText(text: string): Outcome<DrawingReading> {
  return readDxf(bytesOf(text));
}

export function read(source: string | Uint8Array): DrawingReading {
  return succeeded(readDxf(typeof source === 'string' ? bytesOf(source) : source));
}

/** Paths of the shapes some entities draw. */
export function pathsIn(entities: string, parts?: Parts) {
  return read(dxf(entities, parts)).shapes.map((shape) => shape.path);
}
