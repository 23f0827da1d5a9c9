/**
 * How much of a file is read before it is refused. Each limit is far above any pattern; together they keep the memory
 * within a few hundred megabytes whatever the file holds.
 */
export const pdfLimits = {
  /** Bytes of the whole file. */
  bytes: 60_000_000,
  /** Bytes that one packed part of the file may unpack to: ten times the largest page of lines that is read. */
  unpackedPart: 40_000_000,
  /** Bytes that all parts but pictures may unpack to. */
  unpacked: 400_000_000,
  /** Bytes that a picture may unpack to: four to the dot. */
  unpackedPicture: 240_000_000,
  /** Values of one sampled function: a colour of four inks at 25 steps each takes 1,600,000. */
  samples: 2_000_000,
  pages: 200,
  /** Drawing operators of one page, forms drawn again counted again. */
  pageOperators: 500_000,
  /** Forms (drawings inside the drawing) of one page, each time they are drawn. */
  forms: 20_000,
  /** Turns the library may take over one page: three to a form, one to a font set or to a hundred operators. */
  turns: 60_000,
  /** Drawing operators of all pages. */
  operators: 2_000_000,
  /** Line and curve segments of one page. */
  pageSegments: 250_000,
  /** Line and curve segments of all pages; a tiled pattern may draw the whole of itself on every page. */
  segments: 1_500_000,
  /** Separate outlines and lines of one page. */
  pageShapes: 20_000,
  /** Separate outlines and lines kept of all pages. */
  shapes: 100_000,
  /** Texts kept of one page. */
  texts: 1_000,
  /** Characters kept of a text or a layer name. */
  words: 120,
  /** Saved states inside each other. */
  depth: 2_000,
  /** mm. Largest coordinate believed; anything beyond is a damaged number. */
  coordinate: 1e6,
  /** Dots of a picture handed to the photo path. */
  dots: 60_000_000,
} as const;
