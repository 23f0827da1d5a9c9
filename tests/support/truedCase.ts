import { readFileSync } from 'node:fs';
import { defaultTrue } from '../../src/operations/true';
import type { FanStep, TrueStep } from '../../src/pattern/recipe';
import { caseIds, loadCase, type ReferenceCase } from './caseFile';

/** The trueing part of a reference case, tests/fixtures/cases/*.json: cm in the files, mm here. */
export interface TruedCase extends ReferenceCase {
  readonly fanStep: FanStep;
  readonly trueStep: TrueStep;
  readonly trued: TruedFigures;
}

/** Lengths in mm, areas in mm2, angles in radians, curvature in 1/mm (positive: outward). */
export interface TruedFigures {
  readonly sweep: number;
  readonly arcBridged: number;
  readonly hemDeviation: number;
  readonly hemDeviationStrips: number;
  readonly hemRms: number;
  readonly handles: readonly [number, number];
  readonly spans: number;
  readonly area: number;
  readonly corners: readonly [number, number];
  readonly turning: number;
  readonly curvatureMax: number;
  readonly curvatureSignChanges: number;
  readonly lengths: Readonly<Record<string, number>>;
  readonly blendLoss: number;
  readonly fillAtHem: number;
  readonly allowance: readonly {
    readonly depth: number;
    readonly cutEdge: number;
    readonly garmentAtDepth: number;
    readonly excess: number;
    readonly worstEase: number;
  }[];
}

// biome-ignore lint/suspicious/noExplicitAny: the files are checked by what the tests read from them
type Json = any;

const folder = new URL('../fixtures/cases/', import.meta.url);
const radians = (degrees: number) => (degrees * Math.PI) / 180;

/** Cases that say how they are trued. */
export function truedCaseIds(): string[] {
  return caseIds().filter((id) => readJson(id).trueing !== undefined);
}

export function loadTruedCase(id: string): TruedCase {
  const json = readJson(id);
  const spread = loadCase(id);
  return { ...spread, fanStep: fanStepOf(json, spread), trueStep: trueStepOf(json), trued: figuresOf(json) };
}

function readJson(id: string): Json {
  const file = caseIds().find((name) => name === id || name.startsWith(`${id}-`));
  return JSON.parse(readFileSync(new URL(`${file}.json`, folder), 'utf8'));
}

/** What trueing reads of the fan step: which edges are which, and whether a fullness line was cut. */
function fanStepOf(json: Json, { plan }: ReferenceCase): FanStep {
  return {
    kind: 'fan',
    centre: 'centre-front',
    hem: plan.hem,
    side: 'side',
    fullness: json.trueing.straight === undefined ? null : { downSide: 0, tilt: 0 },
    slashes: [],
    centreRule: 'parallel',
    sideTurn: 0,
  };
}

function trueStepOf({ trueing }: Json): TrueStep {
  const standard = defaultTrue();
  const blend = trueing.blend ?? { up: 0, down: 0 };
  return {
    ...standard,
    side: { ...standard.side, up: 10 * blend.up, down: 10 * blend.down },
    hem: { ...standard.hem, spans: trueing.spans, fairness: trueing.fairness },
    // The cases were computed with the edge that held a dart left as cut.
    dartEdges: 'keep',
  };
}

function figuresOf({ expected: { trued } }: Json): TruedFigures {
  return {
    sweep: 10 * trued.sweep,
    arcBridged: 10 * trued.arc_bridged,
    hemDeviation: 10 * trued.max_dev,
    hemDeviationStrips: 10 * trued.max_dev_strips,
    hemRms: 10 * trued.rms,
    handles: [10 * trued.handles[0], 10 * trued.handles[1]],
    spans: trued.spans,
    area: 100 * trued.area,
    corners: [radians(trued.corner_deg[0]), radians(trued.corner_deg[1])],
    turning: radians(trued.turning_deg),
    curvatureMax: trued.kappa_max / 10,
    curvatureSignChanges: trued.curvature_sign_changes,
    lengths: Object.fromEntries(Object.entries<number>(trued.lengths).map(([edge, length]) => [edge, 10 * length])),
    blendLoss: 10 * (trued.blend_loss ?? 0),
    fillAtHem: 10 * (trued.fill_at_hem ?? 0),
    allowance: trued.allowance.map((row: Json) => ({
      depth: 10 * row.depth,
      cutEdge: 10 * row.cut_edge,
      garmentAtDepth: 10 * row.garment_at_depth,
      excess: 10 * row.excess,
      worstEase: row.worst_ease_pct / 100,
    })),
  };
}
