let byKey = false;

window.addEventListener('keydown', () => (byKey = true), true);
window.addEventListener('pointerdown', () => (byKey = false), true);

/** Whether the maker works by keyboard at the moment: the focus must then never be lost with a button that goes away. */
export function worksByKey(): boolean {
  return byKey;
}
