import type { Garment } from '../pattern/garment';

/** The first of Version 1, Version 2, ... that no version has yet, counting from how many there are. */
export function nextVersionName(garment: Garment): string {
  return firstFree(garment, garment.versions.length + 1, (count) => `Version ${count}`);
}

/** `Swing hem copy`, then `Swing hem copy 2`, ... */
export function copyName(garment: Garment, name: string): string {
  return firstFree(garment, 1, (count) => (count === 1 ? `${name} copy` : `${name} copy ${count}`));
}

function firstFree(garment: Garment, from: number, name: (count: number) => string): string {
  let count = from;
  while (garment.versions.some((version) => version.name === name(count))) count += 1;
  return name(count);
}
