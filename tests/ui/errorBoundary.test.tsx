import { render, screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { ErrorBoundary } from '../../src/ui/ErrorBoundary';

let torn = true;
function Part() {
  if (torn) throw new Error('the thread ran out');
  return <p>whole again</p>;
}

beforeEach(() => {
  torn = true;
  // React reports what was caught; here it is expected.
  vi.spyOn(console, 'error').mockImplementation(() => {});
});
afterEach(() => vi.restoreAllMocks());

describe('when drawing the interface fails', () => {
  test('a sentence and a copy of the work are offered, never a blank page', async () => {
    const made = vi.fn((_: Blob) => 'blob:copy');
    vi.spyOn(URL, 'createObjectURL').mockImplementation((blob) => made(blob as Blob));
    const clicked = vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(() => {});
    render(
      <ErrorBoundary save={() => ({ name: 'top.hingeline.json', text: '{"garment":1}' })}>
        <Part />
      </ErrorBoundary>,
    );
    expect(screen.getByRole('alert').textContent).toContain('the thread ran out');
    await userEvent.click(screen.getByRole('button', { name: 'Save a copy' }));
    expect(clicked).toHaveBeenCalledTimes(1);
    expect(await made.mock.calls[0]![0].text()).toBe('{"garment":1}');
  });

  test('trying again draws it again', async () => {
    render(
      <ErrorBoundary save={() => null}>
        <Part />
      </ErrorBoundary>,
    );
    expect(screen.queryByRole('button', { name: 'Save a copy' })).toBeNull();
    torn = false;
    await userEvent.click(screen.getByRole('button', { name: 'Try again' }));
    expect(screen.getByText('whole again')).toBeTruthy();
  });
});
