import type { Point } from '../geometry/point';
import type { RigidMove } from '../geometry/rigidMove';
import type { Path, Segment } from '../geometry/segment';
import type { EdgeRole, Piece } from '../pattern/piece';

/** Where a segment of a result came from. Parameters refer to the block edge's own segments. */
export type Provenance =
  | {
      readonly kind: 'own';
      readonly edge: string;
      readonly segment: number;
      readonly from: number;
      readonly to: number;
      readonly panel: number;
    }
  | { readonly kind: 'gap'; readonly cut: string }
  | { readonly kind: 'step'; readonly cut: string }
  | { readonly kind: 'trued'; readonly edges: readonly string[] };

export interface TracedSegment {
  readonly segment: Segment;
  readonly origin: Provenance;
}

/** An edge of a result; it keeps the block edge's id, name and role. */
export interface WorkedEdge {
  readonly id: string;
  readonly name: string;
  readonly role: EdgeRole;
  readonly segments: readonly TracedSegment[];
}

/** A panel cut from the block, where it was and how it moved. */
export interface PlacedPanel {
  readonly index: number;
  /** Closed boundary in block coordinates. */
  readonly boundary: Path;
  readonly move: RigidMove;
  /** mm2 */
  readonly area: number;
}

/** A cut after opening. Positive angle opens; an overlap is negative. */
export interface OpenedCut {
  readonly id: string;
  /** Hinge in block coordinates; null when the two sides only slid apart. */
  readonly pivot: Point | null;
  /** Distance from hinge to open end, mm; null when there is no hinge. */
  readonly radius: number | null;
  /** Length of the cut, mm. */
  readonly length: number;
  /** radians, > 0 opens */
  readonly angle: number;
  /** Straight opening at the open end, mm; < 0 overlaps. */
  readonly chord: number;
  /** Area of the wedge (negative for an overlap), mm2. */
  readonly gapArea: number;
  /** The cut line in block coordinates, from the open end to the hinge. */
  readonly path: Path;
}

/** A piece after cutting and opening, before trueing. */
export interface FannedPiece {
  readonly source: Piece;
  readonly edges: readonly WorkedEdge[];
  readonly panels: readonly PlacedPanel[];
  readonly cuts: readonly OpenedCut[];
  /** The marks, carried: notches as points with the edge they sit on, holes, darts, lines, grainline. */
  readonly marks: CarriedMarks;
  /** How far the centre strip moved down (drop) and inward from the centre line (fill), mm; 0 without a fullness line. */
  readonly centreDrop: number;
  readonly centreFill: number;
  /** Sum of openings shown at the side seam, radians. */
  readonly totalTurn: number;
  readonly areaBefore: number;
  readonly areaAfter: number;
  readonly sweepBefore: number;
  /** Hem length with gaps bridged by chords and by arcs, mm. */
  readonly sweepChord: number;
  readonly sweepArc: number;
}

export interface CarriedMarks {
  readonly notches: readonly {
    readonly id: string;
    readonly edge: string;
    readonly at: Point;
    readonly style: 'single' | 'double';
  }[];
  readonly drillHoles: readonly { readonly id: string; readonly at: Point }[];
  readonly darts: readonly {
    readonly id: string;
    readonly edge: string;
    readonly apex: Point;
    readonly legs: readonly [Point, Point];
  }[];
  /** Lines that a cut crosses come apart; `broken` says so. */
  readonly internalLines: readonly {
    readonly id: string;
    readonly name: string;
    readonly paths: readonly Path[];
    readonly broken: boolean;
  }[];
  readonly grainline: { readonly start: Point; readonly end: Point } | null;
}

/** What trueing did, all in mm, radians, mm2. */
export interface TrueReport {
  readonly sweep: number;
  /** Largest distance from the hem curve to the (ramped) strip hems, and to the bare strip hems. */
  readonly hemDeviation: number;
  readonly hemDeviationStrips: number;
  readonly hemRms: number;
  readonly handles: { readonly centre: number; readonly side: number };
  readonly spans: number;
  readonly curvatureSignChanges: number;
  readonly unwantedInflections: number;
  readonly blendLoss: number;
  readonly centreFillAtHem: number;
  readonly cornerCentre: number;
  readonly cornerSide: number;
  readonly area: number;
  /** Total turning of the hem and its largest curvature, positive outward (convex), for hem allowance arithmetic. */
  readonly hemTurning: number;
  readonly hemCurvatureMax: number;
  readonly warnings: readonly string[];
}

export interface EdgeLength {
  readonly id: string;
  readonly name: string;
  readonly before: number;
  readonly after: number;
}

/** A finished cut line, each side knowing its edge. Closed, same direction as the outline. */
export interface CutLine {
  readonly path: Path;
  readonly hemFold: Path | null;
}

/** A piece with its whole recipe applied. `piece` is an ordinary piece, so any reader of pieces can use it. */
export interface WorkedPiece {
  readonly block: Piece;
  readonly piece: Piece;
  readonly edges: readonly WorkedEdge[];
  readonly fanned: FannedPiece | null;
  readonly trued: TrueReport | null;
  readonly cutLine: CutLine | null;
  readonly sweepBefore: number | null;
  readonly sweepAfter: number | null;
  readonly areaBefore: number;
  readonly areaAfter: number;
  readonly lengths: readonly EdgeLength[];
  /** Sentences worth showing: costs of a rule, lines that came apart, too full a hem. */
  readonly warnings: readonly string[];
}
