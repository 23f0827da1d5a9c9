import type { LineStyle } from './drawing';

/** Line thickness is a size error, so nothing that is measured is thicker than a hairline. */
const hairline = 0.1;

export const cutStyle: LineStyle = { width: 0.15, dash: [], tone: 'ink' };
export const seamStyle: LineStyle = { width: hairline, dash: [4, 2], tone: 'ink' };
export const foldStyle: LineStyle = { width: 0.15, dash: [12, 2, 1.5, 2], tone: 'ink' };
export const hemFoldStyle: LineStyle = { width: hairline, dash: [8, 1.5, 1, 1.5], tone: 'ink' };
export const markStyle: LineStyle = { width: 0.12, dash: [], tone: 'ink' };
export const grainStyle: LineStyle = { width: 0.12, dash: [], tone: 'ink' };
export const internalStyle: LineStyle = { width: hairline, dash: [1.2, 1.2], tone: 'ink' };
export const measuredStyle: LineStyle = { width: hairline, dash: [], tone: 'ink' };
export const trimStyle: LineStyle = { width: hairline, dash: [10, 2.5], tone: 'soft' };
export const layStyle: LineStyle = { width: hairline, dash: [0.6, 1.8], tone: 'soft' };
export const joinStyle: LineStyle = { width: 0.15, dash: [], tone: 'soft' };
export const ruleStyle: LineStyle = { width: hairline, dash: [], tone: 'faint' };
