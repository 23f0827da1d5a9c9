/**
 * How much of a file is read before it is refused. Each limit is far above any traced piece and low enough that the
 * reader always answers within two seconds, whatever the file holds.
 */
export const svgLimits = {
  /** Characters of the whole file. */
  characters: 20_000_000,
  /** Elements of the whole file. */
  elements: 100_000,
  /** Elements inside elements, local copies (`use`) included. */
  depth: 200,
  /** Attributes of one element. */
  attributes: 500,
  /** Things met while drawing, each local copy counted again. */
  drawnElements: 100_000,
  /** Characters of path data read while drawing, each local copy counted again. */
  drawnCharacters: 40_000_000,
  /** Line and curve segments over all shapes, those without length included. */
  segments: 250_000,
  /** Separate outlines and lines. */
  shapes: 20_000,
  /** Texts looked at when a name is sought for a piece. */
  texts: 200,
  /** Characters kept of a text, a layer name or a colour. */
  words: 120,
  /** Characters of a length, a link or a view box; longer ones are not believed. */
  short: 256,
  /** Characters of one style or transform; the rest is not read. */
  style: 20_000,
  /** Largest coordinate believed, user units; anything beyond is a damaged number. */
  coordinate: 1e9,
  /** Rules kept from style sheets inside the file. */
  styleRules: 5_000,
  /** Warnings handed on; the rest are counted. */
  warnings: 30,
} as const;
