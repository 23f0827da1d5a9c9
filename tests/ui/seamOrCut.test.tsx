import { act, cleanup, screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { type Bounds, pathBounds } from '../../src/geometry/bounds';
import { openFile } from '../../src/ui/bringin/fileDoor';
import { BringInPlace } from '../../src/ui/places/BringInPlace';
import { type Bench, renderOnBench } from '../support/uiHarness';

/** 200 mm wide, 300 mm long, its corner at (10, 20). */
const rectangle =
  '<svg xmlns="http://www.w3.org/2000/svg" width="220mm" height="340mm" viewBox="0 0 220 340"><path d="M10 20V320H210V20Z" fill="none" stroke="black"/></svg>';

async function laid(): Promise<Bench> {
  const bench = renderOnBench(<BringInPlace />, null);
  await act(async () => {
    const opened = await openFile(new File([rectangle], 'front.svg'), bench.store, bench.workshop);
    if (!opened.ok) throw new Error(opened.sentence);
    bench.store.commands.setUnit('mm');
  });
  return bench;
}

const make = () => screen.getByRole('button', { name: 'Make it a piece' });
const stitching = () => screen.getByLabelText<HTMLInputElement>('the stitching line');
const cut = () => screen.getByLabelText<HTMLInputElement>('the cut line, allowances included');

function expectBounds(bounds: Bounds, minX: number, minY: number, maxX: number, maxY: number): void {
  expect(bounds.minX).toBeCloseTo(minX, 6);
  expect(bounds.minY).toBeCloseTo(minY, 6);
  expect(bounds.maxX).toBeCloseTo(maxX, 6);
  expect(bounds.maxY).toBeCloseTo(maxY, 6);
}

const madeBounds = ({ store }: Bench) =>
  pathBounds(store.getState().garment!.blocks[0]!.edges.flatMap(({ path }) => path));

async function typeOver(bench: Bench, label: string | RegExp, text: string): Promise<void> {
  const field = screen.getByLabelText(label);
  await bench.user.clear(field);
  await bench.user.type(field, text);
}

test('R35 names the maker gave are not guessed over when the outline is laid again', async () => {
  const bench = await laid();
  const { draft } = bench.bringIn.getState();
  const corners = draft!.corners.map((corner, at) => ({ ...corner, name: `Flap ${at}`, role: 'other' as const }));
  cleanup();
  const again = renderOnBench(<BringInPlace />, null);
  act(() => again.bringIn.actions.layDraft({ ...draft!, corners }));
  expect(again.bringIn.getState().draft!.corners).toEqual(corners);
});

describe('stitching line or cut line', () => {
  test('R32 nothing is taken for granted: without an answer no piece is made', async () => {
    const bench = await laid();
    expect([stitching().checked, cut().checked]).toEqual([false, false]);
    await bench.user.click(make());
    expect(screen.getByRole('alert').textContent).toContain('Say first whether this outline is the stitching line');
    // Beside the question, not below the edges where it would have to be looked for.
    expect(screen.getByRole('alert').compareDocumentPosition(stitching())).toBe(Node.DOCUMENT_POSITION_FOLLOWING);
    expect(bench.store.getState().garment?.blocks).toEqual([]);
  });

  test('a stitching line becomes the piece as it is', async () => {
    const bench = await laid();
    await bench.user.click(stitching());
    await bench.user.click(make());
    expectBounds(madeBounds(bench), 10, 20, 210, 320);
  });

  test('a cut line is drawn in by its allowance, live while it is typed', async () => {
    const bench = await laid();
    await bench.user.click(cut());
    expectBounds(pathBounds(bench.bringIn.getState().inset!), 20, 30, 200, 310);
    await typeOver(bench, 'Allowance all round', '15');
    expectBounds(pathBounds(bench.bringIn.getState().inset!), 25, 35, 195, 305);
    await bench.user.keyboard('{Escape}');
    expectBounds(pathBounds(bench.bringIn.getState().inset!), 20, 30, 200, 310);
    await typeOver(bench, 'Allowance all round', '12{Enter}');
    await bench.user.click(make());
    expectBounds(madeBounds(bench), 22, 32, 198, 308);
    expect(bench.bringIn.getState().inset).toBeNull();
  });

  test('each edge may have its own; the edge on the fold has none', async () => {
    const bench = await laid();
    await bench.user.click(cut());
    const { corners } = bench.bringIn.getState().draft!;
    const hem = corners.findIndex(({ role }) => role === 'hem');
    await typeOver(bench, `${hem + 1}: ${corners[hem]!.name}`, '40{Enter}');
    expectBounds(pathBounds(bench.bringIn.getState().inset!), 20, 30, 200, 280);
    const fold = corners.findIndex(({ role }) => role.startsWith('centre'));
    await bench.user.selectOptions(screen.getByLabelText('On the fold'), String(fold));
    const { minX, maxX } = pathBounds(bench.bringIn.getState().inset!);
    expect(maxX - minX).toBeCloseTo(190, 6);
  });

  test('R35 each width typed is a step of its own to take back, and one given up is none', async () => {
    const bench = await laid();
    await bench.user.click(cut());
    await typeOver(bench, 'Allowance all round', '15');
    await bench.user.keyboard('{Escape}');
    const steps = () => bench.bringIn.getState().draft!.earlier!.map(({ what }) => what);
    expect(steps()).toEqual(['stitching line or cut line']);
    await typeOver(bench, 'Allowance all round', '12{Enter}');
    for (const edge of [1, 2]) {
      const { name } = bench.bringIn.getState().draft!.corners[edge - 1]!;
      await typeOver(bench, `${edge}: ${name}`, `${20 + edge}{Enter}`);
    }
    expect(steps().slice(1)).toEqual(['the allowance all round', 'the allowance of edge 1', 'the allowance of edge 2']);
    act(() => void bench.bringIn.actions.takeBackPoint());
    const { corners, allowance } = bench.bringIn.getState().draft!;
    expect([allowance, corners[0]!.allowance, corners[1]!.allowance]).toEqual([12, 21, undefined]);
  });

  test('an allowance with no room inside is refused with its reason, and nothing is made', async () => {
    const bench = await laid();
    await bench.user.click(cut());
    await typeOver(bench, 'Allowance all round', '120{Enter}');
    expect(bench.bringIn.getState().inset).toBeNull();
    expect(screen.getByRole('alert').textContent).toMatch(/\w+ .*\./);
    await bench.user.click(make());
    expect(bench.store.getState().garment?.blocks).toEqual([]);
  });
});
