import { screen, within } from '@testing-library/react';
import { beforeEach, describe, expect, test } from 'vitest';
import { reportVersion } from '../../src/measure/report';
import { Rack } from '../../src/ui/rack/Rack';
import { formatLength } from '../../src/units/length';
import { type Bench, renderOnBench, sampleGarment } from '../support/uiHarness';

function fanFront({ store }: Bench): void {
  const fan = store.commands.fanOf('front');
  if (!fan.ok) throw new Error(fan.sentence);
  const set = store.commands.setFan('front', fan.value);
  if (!set.ok) throw new Error(set.sentence);
}

function sweepShown(bench: Bench, version: string | null): string {
  const report = reportVersion(bench.store.getState().garment!, version);
  if (!report.ok) throw new Error(report.sentence);
  return formatLength(report.value.garmentSweepAfter!, 'in');
}

describe('the rack', () => {
  let bench: Bench;
  beforeEach(() => {
    bench = renderOnBench(<Rack />);
  });

  const pegs = () => screen.getAllByRole('listitem').slice(0, -1);

  test('hangs the block first, with its outlines and hem sweep', () => {
    const [block] = pegs();
    expect(pegs()).toHaveLength(1);
    expect(within(block!).getByText('Block')).toBeTruthy();
    expect(within(block!).getByText(sweepShown(bench, null))).toBeTruthy();
    expect(block!.querySelectorAll('svg.rack-outline path')).toHaveLength(2);
  });

  test('hangs a version beside it, at the same scale, and takes down what is pressed', async () => {
    fanFront(bench);
    const version = bench.store.getState().activeVersion;
    const take = await screen.findByRole('button', { name: /^Version 1, .* hem sweep\. On the table/ });
    expect(take.getAttribute('aria-pressed')).toBe('true');
    expect(within(take).getByText(sweepShown(bench, version))).toBeTruthy();
    const scales = [...document.querySelectorAll('svg.rack-outline')].map((svg) => {
      const [, , width] = svg.getAttribute('viewBox')!.split(' ').map(Number);
      return Number(svg.getAttribute('width')) / width!;
    });
    expect(scales).toHaveLength(2);
    expect(scales[0]).toBeCloseTo(scales[1]!, 9);
    await bench.user.click(screen.getByRole('button', { name: /^Block, .* hem sweep/ }));
    expect(bench.store.getState().activeVersion).toBeNull();
  });

  test('lays any other under the piece as a ghost, and takes it away again', async () => {
    fanFront(bench);
    const ghost = await screen.findByRole('button', { name: /Lay Block under/ });
    await bench.user.click(ghost);
    expect(bench.store.getState().ghost).toBe('block');
    expect(ghost.getAttribute('aria-pressed')).toBe('true');
    await bench.user.click(ghost);
    expect(bench.store.getState().ghost).toBeNull();
    expect(screen.getByRole<HTMLButtonElement>('button', { name: /Lay Version 1 under/ }).disabled).toBe(true);
  });

  test('names a version and keeps a note', async () => {
    fanFront(bench);
    await bench.user.click(await screen.findByRole('button', { name: 'More for Version 1' }));
    await bench.user.click(screen.getByRole('menuitem', { name: 'Name and note…' }));
    const name = screen.getByLabelText('Name');
    await bench.user.clear(name);
    await bench.user.click(screen.getByRole('button', { name: 'Keep' }));
    expect(screen.getByRole('alert').textContent).toContain('name');
    await bench.user.type(name, 'Swing');
    await bench.user.type(screen.getByLabelText(/^Note/), 'Linen');
    await bench.user.click(screen.getByRole('button', { name: 'Keep' }));
    expect(bench.store.getState().garment?.versions[0]).toMatchObject({ name: 'Swing', note: 'Linen' });
    expect(screen.queryByRole('dialog')).toBeNull();
  });

  test('duplicates and deletes, and undo brings the deleted one back', async () => {
    fanFront(bench);
    await bench.user.click(await screen.findByRole('button', { name: 'More for Version 1' }));
    await bench.user.click(screen.getByRole('menuitem', { name: 'Duplicate' }));
    expect(bench.store.getState().garment?.versions).toHaveLength(2);
    const before = bench.store.getState().garment;
    const copy = before!.versions[1]!.name;
    await bench.user.click(screen.getByRole('button', { name: `More for ${copy}` }));
    await bench.user.click(screen.getByRole('menuitem', { name: 'Delete' }));
    expect(bench.store.getState().garment?.versions.map(({ name }) => name)).toEqual(['Version 1']);
    bench.store.actions.undo();
    expect(bench.store.getState().garment).toEqual(before);
    expect(bench.store.getState().garment?.blocks).toEqual(sampleGarment('sleeveless-top').blocks);
  });

  test('saves what is on the table under a new name', async () => {
    fanFront(bench);
    await bench.user.click(await screen.findByRole('button', { name: 'Save as…' }));
    await bench.user.type(screen.getByLabelText('Name'), 'Wide swing{Enter}');
    const { garment, activeVersion } = bench.store.getState();
    expect(garment?.versions.map(({ name }) => name)).toEqual(['Version 1', 'Wide swing']);
    expect(activeVersion).toBe(garment?.versions[1]?.id);
  });

  test('its menu goes by arrow keys and Escape gives the focus back', async () => {
    fanFront(bench);
    const more = await screen.findByRole('button', { name: 'More for Version 1' });
    more.focus();
    await bench.user.keyboard('{Enter}');
    expect(document.activeElement?.textContent).toBe('Name and note…');
    await bench.user.keyboard('{ArrowDown}');
    expect(document.activeElement?.textContent).toBe('Duplicate');
    await bench.user.keyboard('{End}');
    expect(document.activeElement?.textContent).toBe('Delete');
    await bench.user.keyboard('{Escape}');
    expect(document.activeElement).toBe(more);
    expect(screen.queryByRole('menu')).toBeNull();
  });
});
