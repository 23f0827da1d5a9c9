import { readFileSync } from 'node:fs';
import { applyScale, type ScaleAnswer, type ScaledReading } from '../../src/exchange/drawing/applyScale';
import type { DrawingReading } from '../../src/exchange/drawing/drawingReading';
import { readSvg } from '../../src/exchange/svg/readSvg';
import type { Outcome } from '../../src/geometry/outcome';

/** Text of a file under tests/fixtures/svg. */
export function fixture(name: string): string {
  return readFileSync(new URL(`../fixtures/svg/${name}`, import.meta.url), 'utf8');
}

/** The value of an outcome; a failure fails the test with its own sentence. */
export function succeeded<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`${outcome.code}: ${outcome.sentence}`);
  return outcome.value;
}

export function read(svg: string): DrawingReading {
  return succeeded(readSvg(svg));
}

export function readScaled(svg: string, answer: ScaleAnswer = { kind: 'stated' }): ScaledReading {
  return succeeded(applyScale(read(svg), answer));
}

/** A drawing in mm (one unit is one mm) round some elements. */
export function sheet(inside: string, attributes = ''): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="1000mm" height="1000mm" viewBox="0 0 1000 1000" ${attributes}>${inside}</svg>`;
}

/** Paths of the shapes in a drawing in mm round some elements. */
export function pathsIn(inside: string) {
  return read(sheet(inside)).shapes.map((shape) => shape.path);
}
