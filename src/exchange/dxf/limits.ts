/**
 * How much of a file is read before it is refused. Each limit is far above any piece and low enough that the reader
 * always answers within two seconds, whatever the file holds.
 */
export const dxfLimits = {
  /** Bytes of the whole file. */
  bytes: 20_000_000,
  /** Pairs of a code and a value in the whole file. */
  pairs: 2_500_000,
  /** Entities, blocks, layers and line types as written in the file. */
  records: 300_000,
  /** Blocks inside blocks. */
  depth: 32,
  /** Entities met while drawing, each copy of a block counted again. */
  drawn: 100_000,
  /** Pairs of those entities, each copy counted again. */
  drawnPairs: 3_000_000,
  /** Line and curve segments over all shapes, those without length included. */
  segments: 250_000,
  /** Separate outlines and lines. */
  shapes: 20_000,
  /** Points, knots and weights of splines looked at, each copy counted again. */
  splineWork: 100_000,
  /** Trials of fitting a cubic to part of a spline that is none. */
  splineFits: 8_000,
  /** Highest degree of a spline; drawing programs offer up to 11. */
  degree: 11,
  /** Texts looked at when a name is sought for a piece. */
  texts: 200,
  /** Marks (notches, drill holes, grainlines) handed on. */
  marks: 20_000,
  /** Characters kept of a text or a name. */
  words: 120,
  /** Characters of a number; longer ones are not believed. */
  number: 64,
  /** Dashes kept of a line type. */
  dashes: 12,
  /** Largest coordinate believed, units of the drawing; anything beyond is a damaged number. */
  coordinate: 1e9,
  /** Bytes at the beginning of the file in which its version and code page are sought. */
  head: 65_536,
  /** Warnings handed on. */
  warnings: 30,
} as const;
