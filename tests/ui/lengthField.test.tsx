import { render, screen } from '@testing-library/react';
import userEvent from '@testing-library/user-event';
import { useState } from 'react';
import { describe, expect, test, vi } from 'vitest';
import { fail, type Outcome, succeed } from '../../src/geometry/outcome';
import type { LengthUnit } from '../../src/pattern/garment';
import { LengthField } from '../../src/ui/controls/LengthField';

interface Watched {
  readonly unit?: LengthUnit;
  readonly start?: number;
  readonly least?: number;
  readonly refuse?: (length: number) => boolean;
}

interface HostProps {
  readonly unit: LengthUnit;
  readonly start: number;
  readonly least: number | undefined;
  readonly preview: (length: number) => Outcome<null>;
  readonly commit: (length: number) => Outcome<null>;
  readonly drop: () => void;
}

function Host({ unit, start, least, preview, commit, drop }: HostProps) {
  const [value, setValue] = useState(start);
  return (
    <LengthField
      label="Opening"
      value={value}
      unit={unit}
      {...(least === undefined ? {} : { least })}
      onPreview={preview}
      onCommit={(length) => {
        const kept = commit(length);
        if (kept.ok) setValue(length);
        return kept;
      }}
      onDrop={drop}
    />
  );
}

function mount({ unit = 'in', start = 38.1, least, refuse = () => false }: Watched = {}) {
  const preview = vi.fn((length: number): Outcome<null> => (refuse(length) ? refusal : succeed(null)));
  const commit = vi.fn((length: number): Outcome<null> => (refuse(length) ? refusal : succeed(null)));
  const drop = vi.fn();
  render(<Host unit={unit} start={start} least={least} preview={preview} commit={commit} drop={drop} />);
  return { field: screen.getByLabelText<HTMLInputElement>('Opening'), preview, commit, drop };
}

const refusal = fail('too-wide', 'The strips would cross.');

describe('a length field', () => {
  test('shows the length in the maker’s unit', () => {
    expect(mount().field.value).toBe('1 1/2 in');
  });

  test('shows what is typed at once and keeps it with Enter, once', async () => {
    const user = userEvent.setup();
    const { field, preview, commit } = mount();
    await user.clear(field);
    await user.type(field, '1 3/8');
    expect(preview).toHaveBeenLastCalledWith(34.925);
    expect(commit).not.toHaveBeenCalled();
    await user.keyboard('{Enter}');
    await user.tab();
    expect(commit).toHaveBeenCalledTimes(1);
    expect(commit).toHaveBeenCalledWith(34.925);
    expect(field.value).toBe('1 3/8 in');
  });

  test('a unit that is typed wins over the one shown', async () => {
    const user = userEvent.setup();
    const { field, commit } = mount();
    await user.clear(field);
    await user.type(field, '4 cm');
    await user.tab();
    expect(commit).toHaveBeenCalledWith(40);
  });

  test('leaving the field keeps what was typed; leaving it untouched keeps nothing', async () => {
    const user = userEvent.setup();
    const { field, commit } = mount({ unit: 'cm' });
    await user.click(field);
    await user.tab();
    expect(commit).not.toHaveBeenCalled();
    await user.clear(field);
    await user.type(field, '5');
    await user.tab();
    expect(commit).toHaveBeenCalledWith(50);
  });

  test('Escape puts the old length back and drops what was shown', async () => {
    const user = userEvent.setup();
    const { field, commit, drop } = mount();
    await user.clear(field);
    await user.type(field, '2');
    await user.keyboard('{Escape}');
    expect(field.value).toBe('1 1/2 in');
    expect(drop).toHaveBeenCalled();
    await user.tab();
    expect(commit).not.toHaveBeenCalled();
  });

  test('text that cannot be read stays, with a sentence, and nothing is kept', async () => {
    const user = userEvent.setup();
    const { field, commit, drop } = mount();
    await user.clear(field);
    await user.type(field, 'a bit');
    await user.tab();
    expect(field.value).toBe('a bit');
    expect(field.getAttribute('aria-invalid')).toBe('true');
    expect(screen.getByRole('alert').textContent).toContain('a bit');
    expect(commit).not.toHaveBeenCalled();
    expect(drop).toHaveBeenCalled();
  });

  test('a half-typed fraction is not scolded', async () => {
    const user = userEvent.setup();
    const { field } = mount();
    await user.clear(field);
    await user.type(field, '1 3/');
    expect(screen.queryByRole('alert')).toBeNull();
  });

  test('a length the table refuses is explained and the text stays', async () => {
    const user = userEvent.setup();
    const scrolledTo = vi.spyOn(Element.prototype, 'scrollIntoView');
    const { field, commit } = mount({ refuse: (length) => length > 200 });
    await user.clear(field);
    await user.type(field, '12');
    const refused = screen.getByRole('alert');
    expect(refused.textContent).toContain('The strips would cross.');
    expect(scrolledTo.mock.contexts).toEqual([refused]);
    scrolledTo.mockRestore();
    await user.tab();
    expect(commit).toHaveBeenCalledTimes(1);
    expect(field.value).toBe('12');
  });

  test('a length below the least is refused with the least', async () => {
    const user = userEvent.setup();
    const { field, commit } = mount({ unit: 'mm', least: 5 });
    await user.clear(field);
    await user.type(field, '2');
    await user.tab();
    expect(screen.getByRole('alert').textContent).toContain('at least 5.0 mm');
    expect(commit).not.toHaveBeenCalled();
  });

  test.each([
    ['mm', 38.1, '{ArrowUp}', 39],
    ['mm', 38.1, '{Shift>}{ArrowDown}{/Shift}', 30],
    ['in', 38.1, '{ArrowUp}', 39.6875],
  ] as const)('in %s an arrow key nudges %d to the next step', async (unit, start, keys, expected) => {
    const user = userEvent.setup();
    const { field, preview, commit } = mount({ unit, start });
    await user.click(field);
    await user.keyboard(keys);
    expect(preview.mock.lastCall?.[0]).toBeCloseTo(expected, 9);
    await user.keyboard('{Enter}');
    expect(commit.mock.lastCall?.[0]).toBeCloseTo(expected, 9);
  });
});
