import type { Garment } from '../../pattern/garment';
import { Caution } from './Caution';
import { leftBehind } from './partners';

/** Said before fabric is cut: a piece was forgotten when the one sewn to it was fanned. */
export function LeftBehind({ garment, version }: { readonly garment: Garment; readonly version: string | null }) {
  return leftBehind(garment, version).map(({ id, name }) => (
    <Caution key={id}>{name} is not fanned like the piece it is sewn to. Match it at True.</Caution>
  ));
}
