import { screen } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { places } from '../../src/store/appState';
import { ThePath } from '../../src/ui/path/ThePath';
import { renderOnBench } from '../support/uiHarness';

describe('the path', () => {
  test('shows the stations in the maker’s order and where the maker is', () => {
    renderOnBench(<ThePath />);
    const stations = screen.getAllByRole('button');
    expect(stations.map((station) => station.textContent)).toEqual([
      'Bring in',
      'Mark',
      'Fan',
      'True',
      'Finish',
      'Print',
    ]);
    const here = stations.filter((station) => station.getAttribute('aria-current') === 'step');
    expect(here.map((station) => station.textContent)).toEqual(['Fan']);
  });

  test('goes to any station and back, and nothing is lost by it', async () => {
    const { store, user } = renderOnBench(<ThePath />);
    const { garment } = store.getState();
    for (const [index, station] of screen.getAllByRole('button').entries()) {
      await user.click(station);
      expect(store.getState().place).toBe(places[index]);
      expect(station.getAttribute('aria-current')).toBe('step');
    }
    expect(store.getState().garment).toBe(garment);
    expect(store.getState().past).toHaveLength(0);
  });
});
