import { describe, expect, it } from 'vitest';
import { segmentLength } from '../../src/geometry/arcLength';
import { containsPoint, enclosedArea } from '../../src/geometry/area';
import { pathLength } from '../../src/geometry/path';
import { distance, type Point } from '../../src/geometry/point';
import { openCuts } from '../../src/operations/linkage/spread';
import type { FannedPiece, TracedSegment } from '../../src/operations/worked';
import { caseIds, loadCase } from '../support/caseFile';

/** mm; asked of the panels' placement is 1e-6, the arithmetic gives 1e-10. */
const mm = 1e-8;
const radian = 1e-11;
/** mm2; areas here reach 4e5 mm2, so 1e-7 keeps twelve digits. */
const mm2 = 1e-6;

function opened(id: string): { fanned: FannedPiece; reference: ReturnType<typeof loadCase> } {
  const reference = loadCase(id);
  const result = openCuts(reference.piece, reference.plan);
  if (!result.ok) throw new Error(`${id}: ${result.code}: ${result.sentence}`);
  return { fanned: result.value, reference };
}

function lengthOf(segments: readonly TracedSegment[], kinds: readonly string[]): number {
  return segments
    .filter(({ origin }) => kinds.includes(origin.kind))
    .reduce((sum, { segment }) => sum + segmentLength(segment), 0);
}

function near(actual: number, wanted: number, within: number, what: string): void {
  expect(Math.abs(actual - wanted), `${what}: ${actual} for ${wanted}`).toBeLessThan(within);
}

function samePoint(actual: Point, wanted: Point, what: string): void {
  expect(distance(actual, wanted), what).toBeLessThan(mm);
}

describe.each(caseIds())('reference case %s', (id) => {
  it('places every panel to 1e-8 mm', () => {
    const { fanned, reference } = opened(id);
    expect(fanned.panels.length).toBe(reference.expected.panels.length);
    for (const { name, at, move, area } of reference.expected.panels) {
      const panel = fanned.panels.find(({ boundary }) => containsPoint(boundary, at))!;
      near(panel.move.angle, move.angle, radian, `${name} angle`);
      near(panel.move.cos, move.cos, radian, `${name} cos`);
      near(panel.move.sin, move.sin, radian, `${name} sin`);
      near(panel.move.tx, move.tx, mm, `${name} tx`);
      near(panel.move.ty, move.ty, mm, `${name} ty`);
      near(panel.area, area, mm2, `${name} area`);
    }
  });

  it('gives pivot, radius, length, angle and chord of every cut', () => {
    const { fanned, reference } = opened(id);
    for (const wanted of reference.expected.cuts) {
      const cut = fanned.cuts.find((one) => one.id === wanted.id)!;
      if (wanted.pivot === null) expect(cut.pivot).toBeNull();
      else samePoint(cut.pivot!, wanted.pivot, `${wanted.id} pivot`);
      if (wanted.radius === null) expect(cut.radius).toBeNull();
      else near(cut.radius!, wanted.radius, mm, `${wanted.id} radius`);
      near(cut.length, wanted.length, mm, `${wanted.id} length`);
      near(cut.angle, wanted.angle, radian, `${wanted.id} angle`);
      near(cut.chord, wanted.chord, mm, `${wanted.id} chord`);
    }
    for (const wanted of reference.expected.sideTurns) {
      const turn = fanned.cuts.find((one) => one.id === `half:${wanted.edge}`)!;
      near(turn.radius!, wanted.radius, mm, `${wanted.edge} radius`);
      near(turn.angle, wanted.angle, radian, `${wanted.edge} angle`);
    }
  });

  it('gives sweeps, areas and gap areas, and the area identity holds', () => {
    const { fanned, reference } = opened(id);
    const { expected } = reference;
    near(fanned.sweepBefore, expected.sweepBefore, mm, 'sweep before');
    near(fanned.sweepChord, expected.sweepChord, mm, 'sweep by chords');
    if (expected.sweepArc !== null) near(fanned.sweepArc, expected.sweepArc, mm, 'sweep by arcs');
    near(fanned.areaBefore, expected.areaBefore, mm2, 'area before');
    near(fanned.areaAfter, expected.areaAfter, mm2, 'area after');
    for (const { id: cutId, area } of expected.gapAreas) {
      near(fanned.cuts.find((cut) => cut.id === cutId)!.gapArea, area, mm2, `gap ${cutId}`);
    }
    const overlaps = fanned.cuts.some(({ gapArea }) => gapArea < -1);
    const sum = [...fanned.panels.map(({ area }) => area), ...fanned.cuts.map(({ gapArea }) => gapArea)];
    const identity = fanned.areaAfter - sum.reduce((a, b) => a + b, 0);
    // Where paper lies double the union is larger than panels less wedges: it keeps what lies outside the chords.
    if (overlaps) expect(identity).toBeGreaterThan(0);
    else near(identity, 0, mm2, 'area identity');
  });

  it('keeps the outline closed, in the order of the edges, and gives each edge its length', () => {
    const { fanned, reference } = opened(id);
    expect(fanned.edges.map((edge) => edge.id)).toEqual(reference.piece.edges.map((edge) => edge.id));
    for (const wanted of reference.expected.edges) {
      const { segments } = fanned.edges.find((edge) => edge.id === wanted.id)!;
      const before = pathLength(reference.piece.edges.find((edge) => edge.id === wanted.id)!.path);
      near(before, wanted.before, mm, `${wanted.id} before`);
      near(lengthOf(segments, ['own']), wanted.own, mm, `${wanted.id} own`);
      near(lengthOf(segments, ['own', 'gap', 'step']), wanted.withGaps, mm, `${wanted.id} with gaps`);
    }
    const outline = fanned.edges.flatMap(({ segments }) => segments.map(({ segment }) => segment));
    outline.forEach((segment, index) => {
      expect(segment.start).toEqual(outline[(index + outline.length - 1) % outline.length]!.end);
    });
    near(enclosedArea(outline), reference.expected.areaAfter, mm2, 'enclosed area');
    const hem = fanned.edges.find((edge) => edge.id === reference.plan.hem)!.segments;
    const [a, b] = [hem[0]!.segment.start, hem.at(-1)!.segment.end];
    const [wantedStart, wantedEnd] =
      distance(a, reference.expected.hemEnds[0]!) < 1
        ? [reference.expected.hemEnds[0]!, reference.expected.hemEnds[1]!]
        : [reference.expected.hemEnds[1]!, reference.expected.hemEnds[0]!];
    samePoint(a, wantedStart, 'hem start');
    samePoint(b, wantedEnd, 'hem end');
  });

  it('carries notches and drill holes', () => {
    const { fanned, reference } = opened(id);
    reference.expected.notches.forEach(({ edge, to }) => {
      const notch = fanned.marks.notches.find((one) => one.edge === edge)!;
      samePoint(notch.at, to, `notch on ${edge}`);
    });
    reference.expected.drillHoles.forEach(({ to }, index) => {
      samePoint(fanned.marks.drillHoles[index]!.at, to, 'drill hole');
    });
    expect(fanned.marks.grainline).toEqual(reference.piece.grainline);
    if (reference.expected.drop !== null) near(fanned.centreDrop, reference.expected.drop, mm, 'drop');
    if (reference.expected.fill !== null) near(fanned.centreFill, reference.expected.fill, mm, 'fill');
  });
});
