import type { jsPDF } from 'jspdf';
import type { DrawnItem, DrawnPath, DrawnText, Tone } from './drawing';
import { embeddedFont, fontUrl, needsEmbeddedFont } from './fonts';
import { pageDrawing } from './pageDrawing';
import type { PagePlan } from './pagePlan';

export interface PdfOptions {
  /** Gives the bytes of the font for letters outside Latin-1; fetched beside the app by default. Called only when needed. */
  readonly loadFont?: () => Promise<Uint8Array>;
}

/** Grey of each tone, 0 black to 255 white. */
const greys: Readonly<Record<Tone | 'paper', number>> = { ink: 0, soft: 95, faint: 165, paper: 255 };
const pointsPerMm = 72 / 25.4;

/**
 * The plan as a PDF at true size. Reads it back with any viewer at 100 %; the print dialog is asked not to scale
 * (ViewerPreferences /PrintScaling /None, ISO 32000-1, Table 150), which most viewers only preselect.
 *
 * Rejects when the font for other letters is needed and cannot be loaded.
 */
export async function drawPdf(plan: PagePlan, options: PdfOptions = {}): Promise<Uint8Array> {
  const { jsPDF } = await import('jspdf');
  const pages = plan.pages.map((_, i) => pageDrawing(plan, i));
  const first = pages[0]!;
  const doc = new jsPDF({
    unit: 'mm',
    format: [first.width, first.height],
    orientation: first.width > first.height ? 'landscape' : 'portrait',
    precision: 4,
    compress: true,
    putOnlyUsedFonts: true,
  });
  doc.viewerPreferences({ PrintScaling: 'None' });
  doc.setDocumentProperties({
    title: `${plan.title.garment} · ${plan.title.version}`,
    creator: 'Hingeline',
  });
  if (pages.some((page) => someText(page.items, needsEmbeddedFont))) {
    await addEmbeddedFont(doc, options.loadFont ?? fetchFont);
  }
  pages.forEach((page, i) => {
    if (i > 0) doc.addPage([page.width, page.height], page.width > page.height ? 'landscape' : 'portrait');
    const pen = new Pen(doc);
    pen.items(page.items);
  });
  return new Uint8Array(doc.output('arraybuffer'));
}

async function addEmbeddedFont(doc: jsPDF, load: () => Promise<Uint8Array>): Promise<void> {
  const bytes = await load();
  let binary = '';
  for (let i = 0; i < bytes.length; i += 0x8000) binary += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  doc.addFileToVFS(`${embeddedFont}.ttf`, btoa(binary));
  doc.addFont(`${embeddedFont}.ttf`, embeddedFont, 'normal');
}

async function fetchFont(): Promise<Uint8Array> {
  const answer = await fetch(fontUrl());
  if (!answer.ok) throw new Error('The font for these letters could not be loaded. Go online once, then print again.');
  return new Uint8Array(await answer.arrayBuffer());
}

function someText(items: readonly DrawnItem[], test: (text: string) => boolean): boolean {
  return items.some((item) =>
    item.kind === 'text' ? test(item.text) : item.kind === 'group' ? someText(item.items, test) : false,
  );
}

/** Draws items on the current page; sets colours and line styles only where they change. */
class Pen {
  private stroke = '';
  private fill = -1;
  private textGrey = -1;
  private font = '';

  constructor(private readonly doc: jsPDF) {}

  items(items: readonly DrawnItem[]): void {
    for (const item of items) {
      if (item.kind === 'path') this.path(item);
      else if (item.kind === 'text') this.text(item);
      else this.group(item.box, item.items);
    }
  }

  private group(box: { minX: number; minY: number; maxX: number; maxY: number }, items: readonly DrawnItem[]): void {
    const { doc } = this;
    doc.saveGraphicsState();
    doc.rect(box.minX, box.minY, box.maxX - box.minX, box.maxY - box.minY, null);
    doc.clip();
    doc.discardPath();
    this.items(items);
    doc.restoreGraphicsState();
    // The reader forgets what was set inside.
    this.stroke = '';
    this.fill = -1;
    this.textGrey = -1;
    this.font = '';
  }

  private path({ path, closed, line, fill }: DrawnPath): void {
    const { doc } = this;
    const first = path[0];
    if (!first) return;
    if (line) this.setLine(line.width, line.dash, greys[line.tone]);
    if (fill && this.fill !== greys[fill]) {
      const grey = greys[fill];
      this.fill = grey;
      doc.setFillColor(grey, grey, grey);
    }
    doc.moveTo(first.start.x, first.start.y);
    path.forEach((s, i) => {
      // The last straight side of a closed shape is drawn by closing it, so that its corner is joined.
      if (closed && i === path.length - 1 && s.kind === 'line') return;
      if (s.kind === 'line') doc.lineTo(s.end.x, s.end.y);
      else doc.curveTo(s.control1.x, s.control1.y, s.control2.x, s.control2.y, s.end.x, s.end.y);
    });
    if (closed) doc.close();
    if (line && fill) doc.fillStroke();
    else if (fill) doc.fill();
    else doc.stroke();
  }

  private setLine(width: number, dash: readonly number[], grey: number): void {
    const wanted = `${width}|${dash.join()}|${grey}`;
    if (this.stroke === wanted) return;
    this.stroke = wanted;
    this.doc.setLineWidth(width);
    this.doc.setLineDashPattern([...dash], 0);
    this.doc.setDrawColor(grey, grey, grey);
  }

  private text({ text, at, size, align, turn, tone, bold }: DrawnText): void {
    const { doc } = this;
    const font = needsEmbeddedFont(text) ? `${embeddedFont}|normal` : `helvetica|${bold ? 'bold' : 'normal'}`;
    const wanted = `${font}|${size}`;
    if (this.font !== wanted) {
      this.font = wanted;
      const [name, style] = font.split('|') as [string, string];
      doc.setFont(name, style);
      doc.setFontSize(size * pointsPerMm);
    }
    if (this.textGrey !== greys[tone]) {
      const grey = greys[tone];
      this.textGrey = grey;
      doc.setTextColor(grey, grey, grey);
    }
    // Aligned here rather than by the library, which aligns turned words along the page instead of along themselves.
    const back = align === 'start' ? 0 : doc.getTextWidth(text) * (align === 'middle' ? 0.5 : 1);
    const x = at.x - back * Math.cos(turn);
    const y = at.y - back * Math.sin(turn);
    // The library counts angles the other way round, in degrees.
    // The library writes the text colour as the fill colour.
    this.fill = -1;
    doc.text(text, x, y, turn === 0 ? {} : { angle: (-turn * 180) / Math.PI });
  }
}
