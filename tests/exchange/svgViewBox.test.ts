import { describe, expect, it } from 'vitest';
import { readAspectRule, readViewBox, viewBoxMap } from '../../src/exchange/svg/viewBox';
import { pathBounds } from '../../src/geometry/bounds';
import { pathsIn } from './svgFixture';

describe('view boxes', () => {
  // Worked examples of a correction to the specification: W3C bug 29751, "equivalent transform of an SVG viewport".
  it.each([
    ['none', -77, -65, 7, 5],
    ['xMinYMin meet', -55, -65, 5, 5],
    ['xMidYMid meet', -52, -65, 5, 5],
    ['xMaxYMax meet', -49, -65, 5, 5],
    ['xMinYMin slice', -77, -91, 7, 7],
    ['xMidYMid slice', -77, -93, 7, 7],
    ['xMaxYMax slice', -77, -95, 7, 7],
  ])('11 13 3 2 shown in 21 by 10 with %s is translate(%f %f) scale(%f %f)', (aspect, e, f, a, d) => {
    const map = viewBoxMap(readViewBox('11 13 3 2')!, { x: 0, y: 0, width: 21, height: 10 }, readAspectRule(aspect));
    expect(map).toEqual({ a, b: 0, c: 0, d, e, f });
  });

  it.each(['1 2 3', '1 2 3 4 5', '1 2 0 4', '1 2 3 -4', '1 2 a 4', '1e999 2 3 4', ' '.repeat(300)])(
    'cannot read %j',
    (text) => {
      expect(readViewBox(text)).toBeNull();
    },
  );

  it('takes anything it does not know for xMidYMid meet', () => {
    const usual = { stretch: false, alignX: 0.5, alignY: 0.5, slice: false };
    for (const text of [undefined, '', 'meet', 'xmidymid', 'xMidYMid', ' xMidYMid meet ']) {
      expect(readAspectRule(text)).toEqual(usual);
    }
  });

  it('an inner drawing and a symbol without a view box are only moved; percentages inside count their own area', () => {
    const [inner, symbol] = pathsIn(
      `<svg x="100" y="10%" width="200" height="50"><rect width="50%" height="100%"/></svg>
       <symbol id="s"><rect width="10%" height="4"/></symbol><use href="#s" x="7" y="8" width="300"/>`,
    );
    expect(pathBounds(inner!)).toEqual({ minX: 100, maxX: 200, minY: 100, maxY: 150 });
    expect(pathBounds(symbol!)).toEqual({ minX: 7, maxX: 37, minY: 8, maxY: 12 });
  });
});
