import { describe, expect, it, vi } from 'vitest';
import { createTabGuard } from '../../src/storage/tabGuard';
import { createFakeLocks } from '../support/fakeLocks';

const settled = () => new Promise((resolve) => setTimeout(resolve, 5));

function tab(locks = createFakeLocks()) {
  const onLost = vi.fn();
  return { onLost, locks, guard: createTabGuard(onLost, locks) };
}

describe('the tab guard', () => {
  it('lets one tab have a garment, and the next one when the first lets go', async () => {
    const first = tab();
    const second = tab(first.locks);
    const onFree = vi.fn();
    expect(await first.guard.hold('top', () => {})).toBe(true);
    expect(await second.guard.hold('top', onFree)).toBe(false);
    expect(await second.guard.hold('skirt', () => {})).toBe(true);
    expect(await second.guard.hold('top', onFree)).toBe(false);
    await settled();
    expect(onFree).not.toHaveBeenCalled();
    first.guard.letGo();
    await settled();
    expect(onFree).toHaveBeenCalledTimes(1);
    expect(await first.guard.hold('top', () => {})).toBe(false);
    expect(first.onLost).not.toHaveBeenCalled();
    expect(second.onLost).not.toHaveBeenCalled();
  });

  it('stops waiting when it turns to another garment', async () => {
    const first = tab();
    const second = tab(first.locks);
    const onFree = vi.fn();
    await first.guard.hold('top', () => {});
    await second.guard.hold('top', onFree);
    second.guard.letGo();
    first.guard.letGo();
    await settled();
    expect(onFree).not.toHaveBeenCalled();
    expect(await tab(first.locks).guard.hold('top', () => {})).toBe(true);
  });

  it('does not start waiting after it was told to let go', async () => {
    const first = tab();
    const second = tab(first.locks);
    const onFree = vi.fn();
    await first.guard.hold('top', () => {});
    const asking = second.guard.hold('top', onFree);
    second.guard.letGo();
    expect(await asking).toBe(false);
    first.guard.letGo();
    await settled();
    expect(onFree).not.toHaveBeenCalled();
  });

  it('takes over, and tells the tab that lost the garment', async () => {
    const first = tab();
    const second = tab(first.locks);
    await first.guard.hold('top', () => {});
    await second.guard.hold('top', () => {});
    await second.guard.takeOver('top');
    await settled();
    expect(first.onLost).toHaveBeenCalledTimes(1);
    expect(second.onLost).not.toHaveBeenCalled();
    const back = vi.fn();
    expect(await first.guard.hold('top', back)).toBe(false);
    second.guard.letGo();
    await settled();
    expect(back).toHaveBeenCalledTimes(1);
  });

  it('lets every tab save where the browser has no locks', async () => {
    const guard = createTabGuard(() => {}, null);
    expect(await guard.hold('top', () => {})).toBe(true);
  });
});
