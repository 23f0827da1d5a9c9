import { decode, encode } from 'jpeg-js';
import type { Picture } from '../../src/exchange/photo/picture';
import { proposeOutline } from '../../src/exchange/photo/proposeOutline';
import { straighten } from '../../src/exchange/photo/straighten';
import { sheetOfSize } from '../support/photo/measurePhoto';
import { setPhoto, toldOf } from '../support/photo/photoSet';
import { renderPhoto } from '../support/photo/renderPhoto';
import { must } from './pieces';
import { show } from './timing';

/** The whole way from a photograph to a proposed outline, step by step, and how it grows with the number of dots. */
export function photo(): void {
  console.log('photograph to proposed outline:');
  for (const megapixels of [1.5, 3, 6, 12]) {
    const steps = timeSteps(photograph(megapixels));
    const whole = steps.sheet + steps.straighten + steps.outline;
    console.log(
      `  ${megapixels.toFixed(1).padStart(4)} megapixels: find the sheet ${show(steps.sheet)}, straighten ${show(steps.straighten)}, propose the outline ${show(steps.outline)}, together ${show(whole)}${megapixels === 12 ? ' (goal 1000 ms)' : ''}, ${show(whole / megapixels)} a megapixel, ${(whole / steps.unpack).toFixed(1)} times unpacking the JPEG in script`,
    );
  }
}

/** Number 11 of the published set, at another size. */
function photograph(megapixels: number): Picture {
  const { scene, camera, options } = setPhoto(10);
  const scale = Math.sqrt((megapixels * 1e6) / (camera.width * camera.height));
  const sized = {
    ...camera,
    width: Math.round(camera.width * scale),
    height: Math.round(camera.height * scale),
    focal: camera.focal * scale,
  };
  return renderPhoto(scene, sized, options).picture;
}

interface Steps {
  readonly sheet: number;
  readonly straighten: number;
  readonly outline: number;
  readonly unpack: number;
}

/** Medians over five rounds after one to warm up. */
function timeSteps(picture: Picture): Steps {
  const { width, height, kind } = toldOf(setPhoto(10));
  const file = encode({ width: picture.width, height: picture.height, data: picture.data }, 85).data;
  const rounds: Steps[] = [];
  for (let round = 0; round < 6; round++) {
    const spans: number[] = [];
    const timed = <T>(work: () => T): T => {
      const start = performance.now();
      const value = work();
      spans.push(performance.now() - start);
      return value;
    };
    const corners = timed(() => sheetOfSize(picture, { width, height, kind }));
    if (corners === null) throw new Error('the sheet was not found');
    const seen = must(timed(() => straighten(picture, { kind: 'sheet', width, height, corners })));
    must(timed(() => proposeOutline(picture, seen.view, { at: null, kind, leaveOut: [seen.corners] })));
    timed(() => decode(file, { useTArray: true, maxMemoryUsageInMB: 2048 }));
    rounds.push({ sheet: spans[0]!, straighten: spans[1]!, outline: spans[2]!, unpack: spans[3]! });
  }
  const median = (key: keyof Steps) =>
    rounds
      .slice(1)
      .map((steps) => steps[key])
      .sort((a, b) => a - b)[2]!;
  return {
    sheet: median('sheet'),
    straighten: median('straighten'),
    outline: median('outline'),
    unpack: median('unpack'),
  };
}
