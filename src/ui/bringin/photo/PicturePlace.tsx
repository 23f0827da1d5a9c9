import { useBringIn } from '../../storeContext';
import { CheckStep } from './CheckStep';
import { JoinStep } from './JoinStep';
import { OutlineStep } from './OutlineStep';
import { SheetStep } from './SheetStep';

/** A photograph or scan on its way to an outline: straightened, checked, and followed round the piece. */
export function PicturePlace() {
  const picture = useBringIn((state) => state.picture);
  switch (picture?.stage) {
    case undefined:
      return null;
    case 'corners':
      return <SheetStep picture={picture!} />;
    case 'check':
      return <CheckStep picture={picture!} />;
    case 'join':
      return <JoinStep picture={picture!} />;
    case 'outline':
      return <OutlineStep picture={picture!} />;
  }
}
