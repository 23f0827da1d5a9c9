/** Everything that only an SVG needs, so that it is loaded with the first one. */
export { readSvg } from '../../exchange/svg/readSvg';
export { draftFromSvg } from './draftFromSvg';
