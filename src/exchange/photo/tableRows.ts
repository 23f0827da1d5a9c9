import type { Picture } from './picture';
import type { PictureView } from './pictureView';
import type { StraightRun } from './straightRuns';
import { light, seenOpacity } from './tones';
import { toPicture } from './viewPoint';

/** dots. Rows that are averaged lie so far apart: blur joins nearer ones. */
const rowStep = 1.5;

/** What the picture shows across a line on the table, averaged over a short length of it. */
export interface AcrossLine {
  /** Red, green, blue in proportion to light; place k lies at -reach + k step from the line, mm. */
  readonly channels: readonly [Float64Array, Float64Array, Float64Array];
  /** mm across the line for one dot across it on the picture. */
  readonly mmPerDot: number;
}

/**
 * The profile across a line of the table (mm; positive at the left hand of travel as seen on screen, y down), averaged
 * over its way from `begin` to `end`; null where the picture does not show all of it.
 */
export function acrossLine(
  picture: Picture,
  view: PictureView,
  { x, y, tx, ty }: Pick<StraightRun, 'x' | 'y' | 'tx' | 'ty'>,
  [begin, end]: readonly [number, number],
  reach: number,
  step: number,
): AcrossLine | null {
  const across = 2 * Math.round(reach / step) + 1;
  const seenAt = (u: number, v: number) => toPicture(view, { x: x + u * tx + v * ty, y: y + u * ty - v * tx });
  const a = seenAt(begin, 0);
  const b = seenAt(end, 0);
  const rows = Math.max(2, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / rowStep));
  const channels = [0, 1, 2].map(() => new Float64Array(across)) as unknown as AcrossLine['channels'];
  const [red, green, blue] = channels;
  const { width, height, data } = picture;
  let mmPerDot = 1;
  for (let r = 0; r < rows; r++) {
    const u = begin + ((end - begin) * (r + 0.5)) / rows;
    const inner = seenAt(u, -reach);
    const outer = seenAt(u, reach);
    const dx = (outer.x - inner.x) / (across - 1);
    const dy = (outer.y - inner.y) / (across - 1);
    if (r === rows >> 1) {
      // Tilted, the picture of the normal is not square to that of the line: blur counts square to the line.
      const wide = Math.abs((outer.x - inner.x) * (b.y - a.y) - (outer.y - inner.y) * (b.x - a.x));
      mmPerDot = (2 * reach * Math.hypot(b.x - a.x, b.y - a.y)) / wide;
    }
    for (let k = 0; k < across; k++) {
      const px = inner.x + k * dx - 0.5;
      const py = inner.y + k * dy - 0.5;
      if (!(px >= 0 && py >= 0 && px < width - 1 && py < height - 1)) return null;
      const x0 = Math.floor(px);
      const y0 = Math.floor(py);
      for (let corner = 0; corner < 4; corner++) {
        const right = corner & 1;
        const below = corner >> 1;
        const weight = (right ? px - x0 : 1 - px + x0) * (below ? py - y0 : 1 - py + y0);
        const at = ((y0 + below) * width + x0 + right) * 4;
        if (data[at + 3]! < seenOpacity) return null;
        red[k] = red[k]! + (weight / rows) * light[data[at]!]!;
        green[k] = green[k]! + (weight / rows) * light[data[at + 1]!]!;
        blue[k] = blue[k]! + (weight / rows) * light[data[at + 2]!]!;
      }
    }
  }
  return { channels, mmPerDot };
}
