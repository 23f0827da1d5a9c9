import { decodePicture, showPicture } from './decodePicture';
import { movable } from './photoMessages';
import { createPhotoWork } from './photoWork';
import { serve } from './serve';

serve(createPhotoWork({ decode: decodePicture, show: showPicture }), movable);
