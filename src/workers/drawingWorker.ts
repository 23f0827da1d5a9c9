import { readDrawing } from './readDrawing';
import { serve } from './serve';

serve(readDrawing);
