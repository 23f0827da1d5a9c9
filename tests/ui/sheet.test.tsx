import { render, screen } from '@testing-library/react';
import { expect, test, vi } from 'vitest';
import { Sheet } from '../../src/ui/controls/Sheet';

// The HTML standard's closing steps give the focus back only while the dialog is still in the page.
test('a question is closed while it is still on the page, so that the focus goes back to where it was', () => {
  let wasThere: boolean | null = null;
  const close = vi.spyOn(HTMLDialogElement.prototype, 'close').mockImplementation(function (this: HTMLDialogElement) {
    wasThere = this.isConnected;
  });
  const { unmount } = render(
    <Sheet title="Name and note" onClose={() => undefined}>
      words
    </Sheet>,
  );
  expect(screen.getByText('Name and note')).toBeTruthy();
  unmount();
  expect(wasThere).toBe(true);
  close.mockRestore();
});
