/** How the table is lit. `system` follows the device. */
export type Light = 'light' | 'dark';

const keptUnder = 'hingeline-light';

/** The light the maker chose on this device, or null to follow the system. */
export function chosenLight(): Light | null {
  try {
    const kept = localStorage.getItem(keptUnder);
    return kept === 'light' || kept === 'dark' ? kept : null;
  } catch {
    // A browser that keeps nothing still gets the system's light.
    return null;
  }
}

export function systemLight(): Light {
  return matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
}

/** Lights the whole page; the canvas watches the same attribute. */
export function applyLight(light: Light): void {
  document.documentElement.dataset.theme = light;
}

export function keepLight(light: Light): void {
  applyLight(light);
  try {
    localStorage.setItem(keptUnder, light);
  } catch {
    // Not kept for the next visit; nothing is lost by it.
  }
}
