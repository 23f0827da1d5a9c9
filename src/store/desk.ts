import { writeProject } from '../exchange/project/projectFile';
import type { Garment } from '../pattern/garment';

/** One garment on the table, with what is known of its saved state. */
export interface Desk {
  readonly id: string;
  latest: Garment;
  /** The document as this tab first saw it, or as it last agreed with what is stored. */
  agreed: Garment;
  /** What is stored; null when unknown or nothing is. */
  saved: Garment | null;
  /** false while another tab has the garment. */
  mayWrite: boolean;
  /** false until it is known what is stored: nothing is written over it before. */
  known: boolean;
}

/** The desk in use; jobs that were begun for an earlier one find out by it. */
export interface DeskNow {
  desk: Desk | null;
}

/** Whether two garments would be the same project file, however an earlier program laid it out. */
export function sameDocument(a: Garment, b: Garment): boolean {
  return a === b || writeProject(a) === writeProject(b);
}
