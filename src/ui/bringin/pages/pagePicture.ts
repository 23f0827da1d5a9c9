import { type Outcome, succeed } from '../../../geometry/outcome';
import type { Scan } from '../laid';
import { type Workshop, watched } from '../watched';

/** Dots to the inch for a page put together from several pictures; enough to see a pencil line. */
const scanDensity = 300;

/** A page that is only a picture, as a picture file of its own with the size the PDF states. */
export async function pagePicture(
  bytes: Uint8Array,
  source: string,
  page: number,
  workshop: Workshop,
): Promise<Outcome<Scan>> {
  const picture = await watched({ task: 'raster', bytes, page, dpi: scanDensity }, workshop);
  if (!picture.ok) return picture;
  const name = source.replace(/(\.pdf)?$/i, '.png');
  const { file, across, down } = picture.value;
  return succeed({ file: new File([file], name, { type: 'image/png' }), across, down, page });
}
