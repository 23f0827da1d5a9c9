import { describe, expect, it } from 'vitest';
import { enclosedArea } from '../../src/geometry/area';
import { pathLength } from '../../src/geometry/path';
import { line } from '../../src/geometry/segment';
import { moveDraftNode } from '../../src/gestures/draftNodes';
import { activePieceOf, pieceOf, type TableScene } from '../../src/gestures/scene';
import { defaultFinish } from '../../src/operations/finish';
import { defaultTrue } from '../../src/operations/true';
import { draftDrawing, draftNodesDrawing } from '../../src/render/draftDrawing';
import type { Drawing, Fill, Stroke } from '../../src/render/drawing';
import { foldDash } from '../../src/render/marksOnPiece';
import { handleDrawing, markDrawing } from '../../src/render/overlayDrawing';
import { pieceDrawing } from '../../src/render/pieceDrawing';
import type { BringInDraft } from '../../src/store/bringIn';
import { TableDriver } from '../gestures/tableDriver';
import { must } from '../support/testStore';

const fills = (drawing: Drawing) => drawing.shapes.filter((shape): shape is Fill => shape.kind === 'fill');
const strokes = (drawing: Drawing) => drawing.shapes.filter((shape): shape is Stroke => shape.kind === 'stroke');
const drawn = (scene: TableScene, id = 'front') => pieceDrawing(pieceOf(scene, id)!, scene);

describe('what is drawn for a piece', () => {
  it('fan: the washed area left between the strips is exactly the opened wedges', () => {
    const driver = new TableDriver().fanned();
    const areas = fills(drawn(driver.scene)).map((shape) => ({
      ink: shape.ink,
      area: shape.paths.reduce((sum, path) => sum + enclosedArea(path), 0),
    }));
    const [wash, ...strips] = areas;
    expect(wash!.ink).toBe('accent-wash');
    expect(strips.every((strip) => strip.ink === 'sheet')).toBe(true);
    expect(strips).toHaveLength(6);
    const wedges = wash!.area - strips.reduce((sum, strip) => sum + strip.area, 0);
    const { cuts } = activePieceOf(driver.scene)!.fanned!;
    expect(wedges).toBeCloseTo(
      cuts.reduce((sum, cut) => sum + cut.gapArea, 0),
      6,
    );
  });

  it('fan: each opening carries its measure in the unit of the maker, and every hinge a dot', () => {
    const driver = new TableDriver().fanned();
    must(driver.store.commands.setUnit('cm'));
    const measures = drawn(driver.scene).labels.filter((label) => label.ink === 'accent');
    expect(measures.map((label) => label.text)).toEqual(['4.0', '4.0', '4.0', '4.0']);
    must(driver.store.commands.setOpeningForAll('front', 38.1));
    must(driver.store.commands.setUnit('in'));
    expect(drawn(driver.scene).labels.filter((label) => label.ink === 'accent')[0]!.text).toBe('1 1/2');
    expect(drawn(driver.scene).glyphs.filter((glyph) => glyph.kind === 'dot')).toHaveLength(5);
  });

  it('fan: the name of the piece keeps off the fullness line, and stays out where slash lines run right through', () => {
    const driver = new TableDriver().fanned();
    const name = () => drawn(driver.scene).labels.find((label) => label.text === 'Front');
    for (const downSide of [20, 60, 140, 260]) {
      must(driver.store.commands.moveFullnessLine('front', downSide));
      const { fanned } = activePieceOf(driver.scene)!;
      const height = fanned!.cuts.find(({ id }) => id === 'fullness')!.pivot!.y;
      // Two lines of words from 14 mm above to 25 mm below their middle at 1 px/mm.
      expect(name()!.at.y + 25 < height || name()!.at.y - 14 > height).toBe(true);
    }
    must(driver.store.commands.setFullnessLine('front', null));
    expect(name()).toBeUndefined();
    driver.store.actions.goTo('finish');
    expect(name()).toBeDefined();
  });

  it('the fold is dash-dot with its bracket; notches are drawn as the piece has them', () => {
    const driver = new TableDriver();
    driver.store.actions.goTo('mark');
    const drawing = drawn(driver.scene);
    const { block } = pieceOf(driver.scene, 'front')!;
    const fold = strokes(drawing).find((shape) => shape.dash === foldDash)!;
    expect(pathLength(fold.paths[0]!)).toBeCloseTo(
      pathLength(block.edges.find((edge) => edge.id === block.fold)!.path),
      9,
    );
    const single = block.notches.filter((notch) => notch.style === 'single').length;
    expect(drawing.glyphs.filter((glyph) => glyph.kind === 'notch-single')).toHaveLength(single);
    // Two arrows for the grainline, two for the fold bracket.
    expect(drawing.glyphs.filter((glyph) => glyph.kind === 'arrow')).toHaveLength(4);
  });

  it('true: the hem in the accent is the hem of the piece, with a square at each square corner', () => {
    const driver = new TableDriver().fanned();
    must(driver.store.commands.setTrue('front', defaultTrue()));
    driver.store.actions.goTo('true');
    const drawing = drawn(driver.scene);
    const { worked } = activePieceOf(driver.scene)!;
    const accent = strokes(drawing).find((shape) => shape.ink === 'accent')!;
    expect(accent.paths[0]).toEqual(worked.piece.edges.find((edge) => edge.role === 'hem')!.path);
    expect(drawing.glyphs.filter((glyph) => glyph.kind === 'square-corner')).toHaveLength(2);
  });

  it('finish: the band is cut line less outline, and nothing solid runs along the fold', () => {
    const driver = new TableDriver().fanned();
    must(driver.store.commands.setTrue('front', defaultTrue()));
    must(driver.store.commands.setFinish('front', defaultFinish()));
    driver.store.actions.goTo('finish');
    const drawing = drawn(driver.scene);
    const band = fills(drawing).find((shape) => shape.ink === 'accent-wash')!;
    expect(band.paths).toHaveLength(2);
    const { worked } = activePieceOf(driver.scene)!;
    const solid = strokes(drawing).filter((shape) => shape.dash === undefined && shape.width > 1.2);
    const onFold = strokes(drawing).filter((shape) => shape.dash === foldDash);
    const total = [...solid, ...onFold]
      .flatMap((shape) => shape.paths)
      .reduce((sum, path) => sum + pathLength(path), 0);
    expect(total).toBeCloseTo(pathLength(worked.cutLine!.path), 6);
    expect(onFold[0]!.paths).toHaveLength(1);
  });

  it('the ghost lies dashed under the lines and over the areas', () => {
    const driver = new TableDriver().fanned();
    driver.store.actions.layGhost('block');
    const { shapes } = drawn(driver.scene);
    const ghost = shapes.findIndex((shape) => shape.kind === 'stroke' && shape.ink === 'ink-soft');
    expect(ghost).toBeGreaterThan(shapes.findLastIndex((shape) => shape.kind === 'fill'));
    expect(shapes.slice(0, ghost).some((shape) => shape.kind === 'stroke')).toBe(false);
  });

  it('pieces not worked on are drawn softer', () => {
    const driver = new TableDriver();
    driver.store.actions.goTo('mark');
    expect(strokes(drawn(driver.scene, 'front'))[0]!.ink).toBe('ink');
    expect(strokes(drawn(driver.scene, 'back'))[0]!.ink).toBe('ink-soft');
  });

  it('what did not change is the same drawing, so its items are kept', () => {
    const driver = new TableDriver().fanned();
    const before = [drawn(driver.scene, 'front'), drawn(driver.scene, 'back')];
    driver.store.actions.look({ centre: { x: 0, y: 0 }, pixelsPerMm: 2 });
    expect(drawn(driver.scene, 'front')).toBe(before[0]);
    must(driver.store.commands.setOpeningForAll('front', 50, 'preview'));
    expect(drawn(driver.scene, 'front')).not.toBe(before[0]);
    expect(drawn(driver.scene, 'back')).toBe(before[1]);
  });
});

const square: BringInDraft = {
  source: 'a.svg',
  name: 'A',
  shapes: [{ id: 's', name: 'S', path: [], closed: true }],
  outline: 's',
  path: [
    line({ x: 0, y: 0 }, { x: 0, y: 100 }),
    line({ x: 0, y: 100 }, { x: 100, y: 100 }),
    line({ x: 100, y: 100 }, { x: 100, y: 0 }),
    line({ x: 100, y: 0 }, { x: 0, y: 0 }),
  ],
  corners: [],
  scale: { kind: 'certain', sentence: '' },
};

describe('what is drawn over the pieces', () => {
  it('a handle where each thing can be taken hold of, the selected one marked', () => {
    const driver = new TableDriver().fanned();
    const piece = activePieceOf(driver.scene)!;
    const { id } = piece.fan!.slashes[0]!;
    driver.store.actions.select({ kind: 'opening', piece: 'front', slash: id });
    const drawing = handleDrawing(driver.scene, activePieceOf(driver.scene)!, null);
    expect(drawing.glyphs.filter((glyph) => glyph.kind === 'knob')).toHaveLength(4);
    expect(drawing.glyphs.filter((glyph) => glyph.kind === 'slide')).toHaveLength(5);
    expect(drawing.glyphs.filter((glyph) => glyph.state === 'selected')).toHaveLength(1);
  });

  it('an edge under the pointer shows its name and length', () => {
    const driver = new TableDriver();
    driver.store.actions.goTo('mark');
    const hit = { kind: 'edge', piece: 'back', edge: 'side', sentence: '' } as const;
    const drawing = handleDrawing(driver.scene, pieceOf(driver.scene, 'back')!, hit);
    expect(drawing.labels[0]!.text).toMatch(/^Side seam {2}16 9\/16 in$/);
  });

  it('a snap has a mark and a word, a tape its length', () => {
    const at = { across: 1, down: 2 };
    const drawing = markDrawing([
      { kind: 'snap', at, word: 'notch' },
      { kind: 'measure', from: at, to: { across: 31, down: 42 }, text: '5.0 cm' },
    ]);
    expect(drawing.glyphs.map((glyph) => glyph.kind)).toEqual(['snap', 'arrow', 'arrow']);
    expect(drawing.labels.map((label) => label.text)).toEqual(['notch', '5.0 cm']);
  });

  it('a brought-in outline shows each corner and names each edge in its middle', () => {
    const path = [
      { kind: 'line', start: { x: 0, y: 0 }, end: { x: 0, y: 100 } },
      { kind: 'line', start: { x: 0, y: 100 }, end: { x: 80, y: 100 } },
      { kind: 'line', start: { x: 80, y: 100 }, end: { x: 0, y: 0 } },
    ] as const;
    const drawing = draftDrawing({
      source: 'a.svg',
      name: 'A',
      shapes: [{ id: 's', name: 'S', path, closed: true }],
      outline: 's',
      path,
      corners: [
        { segment: 0, t: 0, name: 'Centre front', role: 'centre-front' },
        { segment: 1, t: 0, name: 'Hem', role: 'hem' },
      ],
      scale: { kind: 'certain', sentence: '' },
    });
    expect(drawing.glyphs).toHaveLength(2);
    expect(drawing.labels.map((label) => label.text)).toEqual(['Centre front', '1', 'Hem', '2']);
    expect(drawing.labels[0]!.at).toEqual({ x: 0, y: 50 });
    // Either the name or the number, never both; across the page a name needs more room than down it.
    const [name, number, hem] = drawing.labels;
    expect(number!.belowZoom).toBe(name!.fromZoom);
    expect(number!.fromZoom).toBeLessThanOrEqual(name!.fromZoom!);
    // Down the page a name needs no more than its height: it is shown once 100 mm are as long as a line of words is tall.
    expect(name!.fromZoom! * 100).toBeGreaterThan(name!.size);
    expect(name!.fromZoom! * 100).toBeLessThan(2 * name!.size);
    // The other edge runs on over 80 mm and the slanting side; there the width of its name counts as well.
    expect(hem!.fromZoom! * (80 + Math.hypot(80, 100))).toBeGreaterThan(hem!.size * 1.5);
    expect(drawing.shapes.filter(({ ink }) => ink === 'warn')).toEqual([]);
  });

  it('while a point of the outline is moved, the other lines of the drawing are not drawn anew', () => {
    const other = { id: 'o', name: 'O', path: [line({ x: 200, y: 0 }, { x: 300, y: 0 })], closed: false };
    const draft = { ...square, shapes: [...square.shapes, other] };
    const moved = moveDraftNode(draft, { segment: 1, handle: null }, { x: 5, y: 110 }, false);
    const linesOf = (shown: Drawing) => strokes(shown).find(({ paths }) => paths.includes(other.path));
    expect(linesOf(draftDrawing(draft))).toBeDefined();
    expect(linesOf(draftDrawing(moved))).toBe(linesOf(draftDrawing(draft)));
    expect(linesOf(draftDrawing({ ...draft, outline: null }))).not.toBe(linesOf(draftDrawing(draft)));
  });

  it('of points too close to be told apart only some are shown, but always the chosen one', () => {
    const { glyphs } = draftNodesDrawing({ ...square, node: { segment: 2, handle: null } });
    expect(glyphs.map(({ state }) => state)).toEqual(['plain', 'plain', 'selected', 'plain']);
    expect(glyphs.map(({ crowd }) => crowd?.name ?? null)).toEqual(['point', 'point', null, 'point']);
  });

  it('stretches of an outline that the picture leaves in doubt are shown under its line', () => {
    const path = [
      { kind: 'line', start: { x: 0, y: 0 }, end: { x: 0, y: 100 } },
      { kind: 'line', start: { x: 0, y: 100 }, end: { x: 80, y: 100 } },
      { kind: 'line', start: { x: 80, y: 100 }, end: { x: 0, y: 0 } },
    ] as const;
    const { shapes } = draftDrawing({
      source: 'a.jpg',
      name: 'A',
      shapes: [],
      outline: 's',
      path,
      corners: [],
      scale: { kind: 'certain', sentence: '' },
      doubtful: [[path[1]]],
    });
    const broad = shapes.findIndex((shape) => shape.kind === 'stroke' && shape.ink === 'warn');
    const line = shapes.findIndex((shape) => shape.kind === 'stroke' && shape.ink === 'ink');
    expect(shapes[broad]).toMatchObject({ paths: [[path[1]]] });
    expect(broad).toBeLessThan(line);
  });
});
