import type { PictureBook } from '../../store/pictureDraft';

/** What was read from a file: how to lay it on the table, or the scan it holds; and what was passed over in it. */
export type Laid = ({ readonly lay: () => void } | { readonly scan: Scan }) & { readonly warnings: readonly string[] };

/** A picture file of known size: dots to the mm. */
export interface Scan {
  readonly file: File;
  /** The page of a PDF that it was. */
  readonly page: number;
  /** The PDF, where it has further pages that are pictures. */
  readonly book?: PictureBook & { readonly file: Blob };
  readonly across: number;
  readonly down: number;
}
