/**
 * Recipe steps: what was done to a block piece, as plain data. Every length is in mm and every angle in radians.
 * Steps name edges of their own piece by id; `matchPartner` rewrites the ids when a recipe is replayed on a partner.
 */
export type RecipeStep = CloseDartStep | FanStep | TrueStep | FinishStep;

/** Ordered: darts closed, each at most once, then fan, true and finish, each at most once. */
export type Recipe = readonly RecipeStep[];

/**
 * Slash from the hem to the point of a dart and close the dart, so that its width becomes flare at the hem. The part at
 * the centre line stays. All darts closed on a piece, and its fan, name the same three edges.
 */
export interface CloseDartStep {
  readonly kind: 'close-dart';
  /** Id of the dart on this piece. */
  readonly dart: string;
  /** Edge ids on this piece. */
  readonly centre: string;
  readonly hem: string;
  readonly side: string;
  /** How much of the dart is closed: 0 none, 1 all. What is left is a smaller dart with the same point. */
  readonly share: number;
  /** Where the slash leaves the hem: fraction of the hem's length from the centre line; null: straight down from the
   * dart's point, parallel to the centre line. */
  readonly foot: number | null;
}

/** Cut along a fullness line and slash lines and swing the strips open. */
export interface FanStep {
  readonly kind: 'fan';
  /** Edge ids on this piece. */
  readonly centre: string;
  readonly hem: string;
  readonly side: string;
  /** null: no fullness line; the slash lines run right through to the far edge and hinge there. */
  readonly fullness: FullnessLine | null;
  /** In order from the centre line to the side. Equal `across` values are refused. */
  readonly slashes: readonly SlashLine[];
  /** What the strip at the centre line does when the fullness line is cut. */
  readonly centreRule: CentreRule;
  /** Half opening added at the hem by turning the side edge about its upper end, mm of chord; 0 for none. Only without a fullness line. */
  readonly sideTurn: number;
}

export interface FullnessLine {
  /** Distance down the side seam from its upper end to the hinge, mm along the seam. */
  readonly downSide: number;
  /** Lean of the line from the perpendicular to the centre line; positive raises its centre end. */
  readonly tilt: number;
}

export interface SlashLine {
  readonly id: string;
  /** Where it stands: fraction of the width from the centre line (0) to the side (1), measured square to the centre
   * line, at the fullness line's hinge (or, without a fullness line, at the hem's side corner). */
  readonly across: number;
  /** Lean from parallel to the centre line; positive leans the hem end towards the side. */
  readonly tilt: number;
  readonly opening: Opening;
}

export type Opening =
  /** Straight distance between the two hem ends of the slash, mm; negative overlaps. `far` opens the other end too (only for slashes that run right through). */
  | { readonly measure: 'chord'; readonly hem: number; readonly far: number }
  /** Distance along the arc that the hem end travels, mm. */
  | { readonly measure: 'arc'; readonly hem: number }
  /** The turn itself, radians. */
  | { readonly measure: 'angle'; readonly angle: number };

export const centreRules = ['parallel', 'slide', 'corner'] as const;
export type CentreRule = (typeof centreRules)[number];

/** Redraw centre line, side seam and hem so that the piece can be sewn. */
export interface TrueStep {
  readonly kind: 'true';
  readonly side: SideBlend;
  readonly hem: HemCurve;
  /** An edge on which a dart was closed is redrawn as one smooth line, or keeps the corner where the legs meet; left out: it
   * keeps it. */
  readonly dartEdges?: DartEdges;
}

export const dartEdgeChoices = ['smooth', 'keep'] as const;
export type DartEdges = (typeof dartEdgeChoices)[number];

export interface SideBlend {
  /** Lengths of the blend above and below the hinge, mm along the seam; 0 leaves the corner. */
  readonly up: number;
  readonly down: number;
  /** Handle fraction, 2/3 (arc-like) to 1 (zero end curvature); 0.8 by default. */
  readonly fullness: number;
}

export interface HemCurve {
  readonly level: 'follow-strips' | 'keep-centre-length';
  readonly corners: 'square' | 'keep';
  /** Spans of the hem curve, 1 to 3; more when deviation must be smaller. */
  readonly spans: 1 | 2 | 3;
  /** Weight of fairness against closeness; 3e-7 by default. */
  readonly fairness: number;
  /** Handle lengths at the centre and side end set by the maker, mm; null lets the fit choose. */
  readonly handles: { readonly centre: number | null; readonly side: number | null };
  /** Length added (+) or taken (-) at the centre and side end by the maker, mm. */
  readonly drop: { readonly centre: number; readonly side: number };
}

/** Allowances round the true outline. */
export interface FinishStep {
  readonly kind: 'finish';
  /** Allowance for edges not named below, mm. */
  readonly seam: number;
  /** Hem depth, mm. */
  readonly hem: number;
  /** Allowances by edge id, mm; the fold edge is always 0. */
  readonly byEdge: Readonly<Record<string, number>>;
  /** Mirror the ends of the hem allowance at the hem fold, so that the turned hem lies flat on the seams. */
  readonly mirrorHemEnds: boolean;
}
