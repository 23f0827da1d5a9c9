/** The size a layer is named for, as `12` in `Size 12` or `M` in `size_M`; null where its name tells none. */
export function sizeFromLayer(layer: string | null): string | null {
  const found = /^\s*size[\s_:-]*([0-9]{1,3}(?:\s*[/-]\s*[0-9]{1,3})?|[0-9]?X{0,3}[SL]|M)\s*$/i.exec(layer ?? '');
  return found?.[1]?.toUpperCase() ?? null;
}
