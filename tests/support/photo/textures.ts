import type { Colour, TableKind } from './scene';

/** Writes the colour at a place (mm) into `out`; `dot` is the size of a picture dot there, mm. */
export type Surface = (x: number, y: number, dot: number, out: Float64Array) => void;

const lattice = 256;

/** Smooth noise of mean 0 within -1 to 1, one lump about every unit; the same for the same seed. */
export function lumps(random: () => number): (x: number, y: number) => number {
  const values = Float32Array.from({ length: lattice * lattice }, () => 2 * random() - 1);
  return (x, y) => {
    const ix = Math.floor(x);
    const iy = Math.floor(y);
    const fx = x - ix;
    const fy = y - iy;
    const sx = fx * fx * (3 - 2 * fx);
    const sy = fy * fy * (3 - 2 * fy);
    const row = (iy & 255) * lattice;
    const next = ((iy + 1) & 255) * lattice;
    const a = values[row + (ix & 255)]!;
    const b = values[row + ((ix + 1) & 255)]!;
    const c = values[next + (ix & 255)]!;
    const d = values[next + ((ix + 1) & 255)]!;
    return a + (b - a) * sx + (c - a + (a - b - c + d) * sx) * sy;
  };
}

function tinted(colour: Colour, amount: number, out: Float64Array): void {
  out[0] = colour[0] * (1 + amount);
  out[1] = colour[1] * (1 + amount);
  out[2] = colour[2] * (1 + amount);
}

/** Share of a dot that a line of this width covers when its middle is `away` from the dot's: a box filter. */
function lineShare(away: number, width: number, dot: number): number {
  const low = Math.max(-dot / 2, away - width / 2);
  const high = Math.min(dot / 2, away + width / 2);
  return Math.max(0, high - low) / dot;
}

function fromNearest(value: number, step: number): number {
  return value - Math.round(value / step) * step;
}

/**
 * What lies under everything. `plain`: a grey-blue table top. `wood`: boards with grain and joints. `cloth`: a woven
 * ground with rows of two-coloured figures. `mat`: dark green with ruled lines every 10 mm and heavier every 50 mm.
 */
export function tableSurface(kind: TableKind, random: () => number): Surface {
  const noise = lumps(random);
  if (kind === 'plain') {
    return (x, y, _dot, out) =>
      tinted([0.1, 0.13, 0.17], 0.06 * noise(x / 40, y / 40) + 0.04 * noise(x / 2, y / 2), out);
  }
  if (kind === 'wood') {
    return (x, y, dot, out) => {
      const board = Math.floor((y + 5000) / 118);
      const bend = 9 * noise(x / 180 + board * 17.3, y / 60);
      const grain = noise(x / 90 + board * 31.7, (y + bend) / 2.6) + 0.5 * noise(x / 30, (y + bend) / 0.9);
      const joint = lineShare(fromNearest(y + 5000, 118), 1.2, dot);
      tinted([0.3, 0.17, 0.08], (0.05 * (board % 3) + 0.22 * grain) * (1 - joint) - 0.8 * joint, out);
    };
  }
  if (kind === 'mat') {
    return (x, y, dot, out) => {
      tinted([0.025, 0.12, 0.08], 0.08 * noise(x / 1.5, y / 1.5), out);
      const fine = Math.max(lineShare(fromNearest(x, 10), 0.3, dot), lineShare(fromNearest(y, 10), 0.3, dot));
      const heavy = Math.max(lineShare(fromNearest(x, 50), 0.9, dot), lineShare(fromNearest(y, 50), 0.9, dot));
      const share = Math.max(0.8 * fine, 0.9 * heavy);
      for (let c = 0; c < 3; c++) out[c] = out[c]! + (0.55 - out[c]!) * share;
    };
  }
  return (x, y, dot, out) => {
    const weave = 0.12 * noise(x / 0.8, y / 0.8) + 0.1 * noise(x / 25, y / 25);
    tinted([0.12, 0.16, 0.3], weave, out);
    // Figures on a slanted lattice: discs in rust with a light ring.
    const row = Math.round(y / 34);
    const dy = y - row * 34;
    const dx = fromNearest(x - row * 17, 42);
    const r = Math.hypot(dx, dy * 1.2);
    const disc = Math.min(1, Math.max(0, (10 - r) / dot + 0.5));
    const ring = Math.min(1, Math.max(0, (1.6 - Math.abs(r - 11.6)) / dot + 0.5));
    const rust: Colour = [0.36, 0.1, 0.05];
    for (let c = 0; c < 3; c++) {
      out[c] = out[c]! + (rust[c]! * (1 + weave) - out[c]!) * disc;
      out[c] = out[c]! + (0.5 * (1 + weave) - out[c]!) * ring;
    }
  };
}

export const paperColours = {
  sheet: [0.84, 0.84, 0.86],
  white: [0.8, 0.8, 0.79],
  kraft: [0.4, 0.26, 0.14],
  tissue: [0.72, 0.63, 0.45],
} as const satisfies Record<string, Colour>;

/** How much of what lies below is hidden; tissue lets the table show. */
export const paperOpacity = { sheet: 1, white: 1, kraft: 1, tissue: 0.82 } as const;

/** Paper with fibres (kraft) or nearly even. */
export function paperSurface(kind: keyof typeof paperColours, random: () => number): Surface {
  const noise = lumps(random);
  const fibre = kind === 'kraft' ? 0.06 : kind === 'tissue' ? 0.03 : 0.01;
  return (x, y, _dot, out) =>
    tinted(paperColours[kind], fibre * noise(x / 3, y / 0.8) + 0.5 * fibre * noise(x / 60, y / 60), out);
}

/** One even colour. */
export function evenSurface(colour: Colour): Surface {
  return (_x, _y, _dot, out) => {
    out[0] = colour[0];
    out[1] = colour[1];
    out[2] = colour[2];
  };
}

/** Dark ink, a little uneven along the line. */
export function inkSurface(random: () => number): Surface {
  const noise = lumps(random);
  return (x, y, _dot, out) => tinted([0.03, 0.03, 0.045], 0.3 * noise(x / 4, y / 4), out);
}
