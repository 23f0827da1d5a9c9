/** Dots to the mm in both directions. */
export interface Density {
  readonly x: number;
  readonly y: number;
}

/** How a picture lies in its file: 1 upright, 2 to 8 mirrored or turned (EXIF 2.3, tag 0x0112, from memory). */
export type Turned = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

/** What a header says, as it stands in the file: not yet turned, not yet judged. */
export interface HeaderFound {
  readonly kind: 'jpeg' | 'png' | 'webp' | 'gif' | 'bmp';
  readonly width: number;
  readonly height: number;
  readonly turned: Turned;
  /** Every density the file states; programs often leave an old one standing beside a new one. */
  readonly densities: readonly Density[];
}

/** Why a header gives no picture: no end, no sense, or a kind of coding that browsers do not know. */
export type HeaderFault = 'cut-short' | 'damaged' | 'unusual-jpeg';
