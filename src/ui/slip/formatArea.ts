import type { LengthUnit } from '../../pattern/garment';

/** An area of mm2 as cm2 or square inches: nobody thinks of fabric in mm2. */
export function formatArea(area: number, unit: LengthUnit): string {
  return unit === 'in' ? `${(area / 645.16).toFixed(0)} sq in` : `${(area / 100).toFixed(0)} cm²`;
}
