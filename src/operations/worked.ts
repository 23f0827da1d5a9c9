import type { Point } from '../geometry/point';
import type { RigidMove } from '../geometry/rigidMove';
import type { Path, Segment } from '../geometry/segment';
import type { EdgeRole, Piece } from '../pattern/piece';

/**
 * Where a segment of a result came from. Parameters refer to the block edge's own segments. `panel` is that of the fan;
 * where darts were closed first, it is the fan's panel plus the number of the fan's panels times the closing's panel.
 */
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

/** What closing one dart did. Lengths in mm, angles in radians; points lie on the piece after all darts are closed. */
export interface ClosedDart {
  readonly dart: string;
  readonly share: number;
  /** Angle of the whole dart at its point, and how much of it became the opening below. */
  readonly dartAngle: number;
  readonly angle: number;
  /** From the dart's point to the foot of the slash on the hem. */
  readonly radius: number;
  /** Straight opening at the hem. */
  readonly opening: number;
  /** The wedge that opened: the dart's point, and the foot of the slash on the centre's and on the side's part. */
  readonly wedge: { readonly apex: Point; readonly centreFoot: Point; readonly sideFoot: Point };
  /** From the dart's point to where its legs meet now; null while some of the dart is left. */
  readonly seam: Path | null;
  /** The dart as it lay on the block. */
  readonly before: { readonly apex: Point; readonly legs: readonly [Point, Point] };
  /** How much longer one leg is than the other; that much the edge steps where they meet. */
  readonly legDifference: number;
  /** Angle by which the edge turns where the legs meet, 0 when it runs on smoothly or some of the dart is left. */
  readonly corner: number;
}

/** A piece with darts closed into its hem, before it is fanned. */
export interface DartsClosed {
  readonly block: Piece;
  /** What goes into the fan: an ordinary piece whose hem bridges the openings by straight lines. */
  readonly piece: Piece;
  /** The same edges, each segment with where on the block it came from. */
  readonly edges: readonly WorkedEdge[];
  readonly panels: readonly PlacedPanel[];
  readonly cuts: readonly OpenedCut[];
  readonly darts: readonly ClosedDart[];
  readonly areaBefore: number;
  readonly warnings: readonly string[];
}

/** A piece after cutting and opening, before trueing. */
export interface FannedPiece {
  /** The piece that was fanned: the block, or the block with its darts closed. Panels and cuts are in its coordinates. */
  readonly source: Piece;
  /** The darts that were closed before; null when there were none. */
  readonly closed: DartsClosed | null;
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
  /** Edges drawn anew where darts were closed. */
  readonly smoothed: readonly SmoothedEdge[];
  readonly warnings: readonly string[];
}

/** What drawing an edge anew as a smooth line did, mm. */
export interface SmoothedEdge {
  readonly edge: string;
  /** Largest distance from where it lay. */
  readonly moved: number;
  /** How much longer it became than the cloth along it, steps of uneven legs apart; negative: shorter. */
  readonly longer: number;
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
