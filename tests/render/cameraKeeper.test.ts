import { describe, expect, it } from 'vitest';
import { fitCamera } from '../../src/gestures/camera';
import { layOut } from '../../src/gestures/layout';
import { createCameraKeeper } from '../../src/render/cameraKeeper';
import type { Camera } from '../../src/store/appState';

const view = { width: 1000, height: 700 };
const start: Camera = { centre: { x: 0, y: 0 }, pixelsPerMm: 1 };
const laid = (maxX: number) => layOut([{ id: 'a', bounds: { minX: 0, minY: 0, maxX, maxY: 600 }, top: 0, left: 0 }]);

describe('keeping everything in view', () => {
  it('shows a newly opened garment whole at once', () => {
    const keeper = createCameraKeeper(() => true);
    const layout = laid(300);
    const answer = keeper.keep({ camera: start, view, layout, thing: 'g' }, 0);
    expect(answer).toEqual({ camera: fitCamera(layout.pieces, view), more: false });
  });

  it('glides when a commit made something outgrow the view, and ends exactly there', () => {
    const keeper = createCameraKeeper(() => true);
    let camera = keeper.keep({ camera: start, view, layout: laid(300), thing: 'g' }, 0).camera!;
    const layout = laid(2400);
    let time = 1000;
    let frames = 0;
    for (let more = true; more; time += 16) {
      const answer = keeper.keep({ camera, view, layout, thing: 'g' }, time);
      camera = answer.camera ?? camera;
      more = answer.more;
      frames += 1;
    }
    expect(frames).toBeGreaterThan(5);
    expect(camera).toEqual(fitCamera(layout.pieces, view));
  });

  it('stays where it is while everything is still in view', () => {
    const keeper = createCameraKeeper(() => true);
    const { camera } = keeper.keep({ camera: start, view, layout: laid(300), thing: 'g' }, 0);
    const answer = keeper.keep({ camera: camera!, view, layout: laid(340), thing: 'g' }, 16);
    expect(answer).toEqual({ camera: null, more: false });
  });

  it('never moves a camera the maker has set, until asked to show everything', () => {
    const keeper = createCameraKeeper(() => false);
    keeper.keep({ camera: start, view, layout: laid(300), thing: 'g' }, 0);
    const mine: Camera = { centre: { x: 77, y: 5 }, pixelsPerMm: 3 };
    const layout = laid(2400);
    expect(keeper.keep({ camera: mine, view, layout, thing: 'g' }, 16).camera).toBeNull();
    keeper.showAll();
    expect(keeper.keep({ camera: mine, view, layout, thing: 'g' }, 32).camera).toEqual(fitCamera(layout.pieces, view));
  });

  it('follows what grows when the maker, who set the camera, saw all of it before', () => {
    const keeper = createCameraKeeper(() => false);
    keeper.keep({ camera: start, view, layout: laid(300), thing: 'g' }, 0);
    const mine: Camera = { centre: { x: 150, y: 300 }, pixelsPerMm: 0.9 };
    expect(keeper.keep({ camera: mine, view, layout: laid(300), thing: 'g' }, 16).camera).toBeNull();
    const layout = laid(1800);
    expect(keeper.keep({ camera: mine, view, layout, thing: 'g' }, 32).camera).toEqual(fitCamera(layout.pieces, view));
  });

  it('follows again when the room gets smaller than what was seen whole', () => {
    const keeper = createCameraKeeper(() => false);
    const layout = laid(300);
    keeper.keep({ camera: start, view, layout, thing: 'g' }, 0);
    const mine: Camera = { centre: { x: 150, y: 300 }, pixelsPerMm: 0.9 };
    keeper.keep({ camera: mine, view, layout, thing: 'g' }, 16);
    const small = { width: 300, height: 400 };
    expect(keeper.keep({ camera: mine, view: small, layout, thing: 'g' }, 32).camera).toEqual(
      fitCamera(layout.pieces, small),
    );
  });

  it('a hand on the sheet stops a glide', () => {
    const keeper = createCameraKeeper(() => true);
    const { camera } = keeper.keep({ camera: start, view, layout: laid(300), thing: 'g' }, 0);
    const layout = laid(2400);
    expect(keeper.keep({ camera: camera!, view, layout, thing: 'g' }, 16).more).toBe(true);
    const mine: Camera = { centre: { x: 1, y: 2 }, pixelsPerMm: 1.1 };
    expect(keeper.keep({ camera: mine, view, layout, thing: 'g' }, 32)).toEqual({ camera: null, more: false });
    expect(keeper.keep({ camera: mine, view, layout, thing: 'g' }, 48)).toEqual({ camera: null, more: false });
  });
});
