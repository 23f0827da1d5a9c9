import { stayPut } from '../../../geometry/rigidMove';
import type { PictureDraft } from '../../../store/pictureDraft';
import { useActions, useBringInStore } from '../../storeContext';
import { useDarkroom } from './photoContext';
import { turnPicture } from './turnPicture';

/** Takes the picture off; of several, only the one that is not joined yet. */
export function PutPictureAway({ picture }: { readonly picture: PictureDraft }) {
  const { actions } = useBringInStore();
  const { notify } = useActions();
  const darkroom = useDarkroom();
  const further = picture.parts.length > 1 && picture.stage !== 'outline';
  const putAway = async () => {
    if (!further) {
      actions.layPicture(null);
      return;
    }
    const rest: PictureDraft = {
      ...picture,
      stage: 'outline',
      parts: picture.parts.slice(0, -1),
      pairs: [],
      tape: null,
      chosen: null,
    };
    // It may have been joined once already, so the others are laid anew.
    const laid = await turnPicture(rest, stayPut, darkroom);
    if (laid.ok) actions.changePicture(() => laid.value);
    else notify({ tone: 'refused', sentence: laid.sentence });
  };
  return (
    <button type="button" className="button button-plain" onClick={() => void putAway()}>
      {further ? 'Go on without this further picture' : 'Put this picture away'}
    </button>
  );
}
