import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Point } from '../../../src/geometry/point';
import { cubic, line, type Path, type Segment } from '../../../src/geometry/segment';

/** What pdfjs finds on a page, in mm from its upper left corner, y down. */
export interface ReadPage {
  readonly width: number;
  readonly height: number;
  readonly strokes: readonly ReadStroke[];
  readonly texts: readonly ReadText[];
}

export interface ReadStroke {
  readonly path: Path;
  /** mm */
  readonly width: number;
  readonly dash: readonly number[];
  /** As `#rrggbb`. */
  readonly colour: string;
  /** The clipping box in force, mm; null for none. */
  readonly clip: { minX: number; minY: number; maxX: number; maxY: number } | null;
}

export interface ReadText {
  readonly text: string;
  readonly at: Point;
  readonly width: number;
}

const mm = 25.4 / 72;

interface State {
  width: number;
  dash: readonly number[];
  colour: string;
  clip: ReadStroke['clip'];
}

/** Reads a PDF with pdfjs: every stroked path with its style and clip, and every text with its place. */
export async function readPdf(bytes: Uint8Array): Promise<{ pages: ReadPage[]; printScaling: string | null }> {
  const task = getDocument({ data: bytes.slice(), verbosity: 0 });
  const document = await task.promise;
  const pages: ReadPage[] = [];
  for (let n = 1; n <= document.numPages; n++) {
    const page = await document.getPage(n);
    const [, , width, height] = page.view as [number, number, number, number];
    const { fnArray, argsArray } = await page.getOperatorList();
    const strokes: ReadStroke[] = [];
    let state: State = { width: mm, dash: [], colour: '#000000', clip: null };
    const saved: State[] = [];
    let clipNext = false;
    const texts: ReadText[] = [];
    let fontSize = 0;
    let textAt: Point = { x: 0, y: 0 };
    for (let i = 0; i < fnArray.length; i++) {
      const args = argsArray[i] as unknown[];
      switch (fnArray[i]) {
        case OPS.save:
          saved.push({ ...state });
          break;
        case OPS.restore:
          state = saved.pop()!;
          break;
        case OPS.transform:
          throw new Error('The pages are expected to draw in plain page coordinates.');
        case OPS.setLineWidth:
          state.width = (args[0] as number) * mm;
          break;
        case OPS.setDash:
          state.dash = (args[0] as number[]).map((d) => d * mm);
          break;
        case OPS.setStrokeRGBColor:
          state.colour = args[0] as string;
          break;
        case OPS.setFont:
          fontSize = args[1] as number;
          break;
        case OPS.moveText:
          textAt = { x: args[0] as number, y: args[1] as number };
          break;
        case OPS.setTextMatrix: {
          const matrix = args[0] as number[];
          textAt = { x: matrix[4]!, y: matrix[5]! };
          break;
        }
        case OPS.showText: {
          const glyphs = (args[0] as { unicode?: string; width?: number }[]).filter((g) => typeof g === 'object');
          texts.push({
            text: glyphs.map((g) => g.unicode ?? '').join(''),
            at: { x: textAt.x * mm, y: (height - textAt.y) * mm },
            width: (glyphs.reduce((sum, g) => sum + (g.width ?? 0), 0) / 1000) * fontSize * mm,
          });
          break;
        }
        case OPS.clip:
          clipNext = true;
          break;
        case OPS.constructPath: {
          const [paint, [data]] = args as [number, [Float32Array | null]];
          if (!data) break;
          const path = readPath(data, height);
          if (clipNext) {
            state.clip = boxOf(path);
            clipNext = false;
          }
          if (paint === OPS.stroke || paint === OPS.closeStroke || paint === OPS.fillStroke)
            strokes.push({ ...state, path });
          break;
        }
      }
    }
    pages.push({ width: width * mm, height: height * mm, strokes, texts });
  }
  const preferences = (await document.getViewerPreferences()) as Map<string, string> | null;
  await task.destroy();
  return { pages, printScaling: preferences?.get('PrintScaling') ?? null };
}

/** Codes: 0 move, 1 line, 2 cubic, 4 close. */
function readPath(data: Float32Array, height: number): Path {
  const segments: Segment[] = [];
  let start: Point = { x: 0, y: 0 };
  let at = start;
  const point = (i: number): Point => ({ x: data[i]! * mm, y: (height - data[i + 1]!) * mm });
  for (let i = 0; i < data.length; ) {
    const code = data[i]!;
    i += 1;
    if (code === 0) {
      start = point(i);
      at = start;
      i += 2;
    } else if (code === 1) {
      segments.push(line(at, point(i)));
      at = point(i);
      i += 2;
    } else if (code === 2) {
      segments.push(cubic(at, point(i), point(i + 2), point(i + 4)));
      at = point(i + 4);
      i += 6;
    } else if (code === 4) {
      if (Math.hypot(start.x - at.x, start.y - at.y) > 1e-6) segments.push(line(at, start));
      at = start;
    } else {
      throw new Error(`Unknown path code ${code}`);
    }
  }
  return segments;
}

function boxOf(path: Path): { minX: number; minY: number; maxX: number; maxY: number } {
  const points = path.flatMap((s) => [s.start, s.end]);
  return {
    minX: Math.min(...points.map((p) => p.x)),
    minY: Math.min(...points.map((p) => p.y)),
    maxX: Math.max(...points.map((p) => p.x)),
    maxY: Math.max(...points.map((p) => p.y)),
  };
}
