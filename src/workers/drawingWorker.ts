import { succeed } from '../geometry/outcome';
import { type Packed, packPaths, unpackPaths } from './packPaths';
import { type DrawingAsk, readDrawing } from './readDrawing';
import { serve } from './serve';

serve<Packed, Packed>(
  async (ask, report) => {
    const answer = await readDrawing(unpackPaths<DrawingAsk>(ask), report);
    return answer.ok ? succeed(packPaths(answer.value)) : answer;
  },
  ({ numbers }) => [numbers.buffer],
);
