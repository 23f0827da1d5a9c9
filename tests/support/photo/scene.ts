import type { Point } from '../../../src/geometry/point';
import type { Path } from '../../../src/geometry/segment';

/** Share of the light each channel sends back, 0 to 1, in linear light (not as coded in a picture). */
export type Colour = readonly [number, number, number];

export type TableKind = 'plain' | 'wood' | 'cloth' | 'mat';

export interface Sheet {
  /** mm; the width runs along the sheet's own x. */
  readonly width: number;
  readonly height: number;
  /** Its upper left corner on the table, mm. */
  readonly at: Point;
  /** Turn of the sheet on the table, radians from x towards y. */
  readonly angle: number;
}

/** A piece cut out of paper, or drawn with a pen on a paper that is larger than it. */
export type PieceLook =
  | { readonly kind: 'kraft' | 'white' | 'tissue' }
  | { readonly kind: 'pen'; readonly lineWidth: number; readonly paper: Sheet };

/** Something else on the table. Painted over all paper, in order, with a shadow of its own. */
export interface Clutter {
  readonly path: Path;
  readonly colour: Colour;
  /** mm. How far its shadow falls; 0 for none. */
  readonly thickness: number;
  /** 1 hides what lies under it; tape lets some through. */
  readonly opacity: number;
}

/** A flat table, z = 0: mm, x right, y down as seen from above. */
export interface Scene {
  readonly table: TableKind;
  readonly sheet: Sheet | null;
  readonly piece: { readonly path: Path; readonly look: PieceLook } | null;
  readonly clutter: readonly Clutter[];
}

/**
 * A pinhole looking at a place on the table. At tilt 0 it hangs straight above with the table's x to the right.
 */
export interface Camera {
  /** Dots. */
  readonly width: number;
  readonly height: number;
  /** Focal length in dots. A telephone's usual lens has about 0.72 of the longer side. */
  readonly focal: number;
  /** The place on the table in the middle of the picture, mm. */
  readonly aim: Point;
  /** From the pinhole to that place, mm. */
  readonly distance: number;
  /** radians from straight down. */
  readonly tilt: number;
  /** Direction on the table, radians from x towards y, towards which the camera leans away from straight above. */
  readonly tiltTowards: number;
  /** Turn of the camera about its own axis, radians. */
  readonly roll: number;
  /** Lens term of `PictureView`. */
  readonly lens: number;
}

export interface Light {
  /** How bright white paper in even light comes out, 1 being the most a picture can hold. */
  readonly exposure: number;
  /** Part of the light lost in the corners of the picture. */
  readonly vignette: number;
  /** Light grows by this part from one side of the table scene to the other (across 1,000 mm). */
  readonly slope: number;
  /** Where it comes from on the table, radians from x towards y; shadows fall the other way. */
  readonly from: number;
  /** Brightness of the channels; [1, 1, 1] is white light. */
  readonly cast: Colour;
  /** 0 to 1: how dark shadows beside paper edges and things are. */
  readonly shadow: number;
  /** mm. How far the shadow of a paper edge reaches: its thickness and how much it stands up, at a low light. */
  readonly paperShadow: number;
  /** Wide shadows with soft borders (someone leaning over the table). */
  readonly wide: readonly WideShadow[];
}

/** An ellipse of shade with a border that fades over `soft` mm. */
export interface WideShadow {
  readonly at: Point;
  readonly rx: number;
  readonly ry: number;
  readonly angle: number;
  readonly soft: number;
  readonly depth: number;
}

export interface Optics {
  /** Standard deviation of the Gaussian blur, dots. */
  readonly blur: number;
  /** Standard deviation of the noise of a white dot, in parts of white (0.01 is a fair telephone indoors). */
  readonly noise: number;
  /** 0 for none, to 1: a camera's own sharpening (unsharp mask, radius 1.2 dots, on coded values). */
  readonly sharpen: number;
  /** 0 for none, to 1: an S-shaped tone curve on coded values, as telephones apply. */
  readonly tone: number;
  /** 1 to 100; null leaves the picture uncompressed. */
  readonly jpeg: number | null;
}

export interface PhotoOptions {
  readonly light: Light;
  readonly optics: Optics;
  /** Seed of the noise and of all textures. */
  readonly seed: number;
}

export const plainLight: Light = {
  exposure: 1,
  vignette: 0,
  slope: 0,
  from: Math.PI * 1.25,
  cast: [1, 1, 1],
  shadow: 0,
  paperShadow: 0,
  wide: [],
};

export const cleanOptics: Optics = { blur: 0, noise: 0, sharpen: 0, tone: 0, jpeg: null };
