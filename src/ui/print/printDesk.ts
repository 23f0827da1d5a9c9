import { useState } from 'react';

/** What is chosen for printing; lengths in mm. It is no part of the document and survives going to another place. */
export interface PrintChoice {
  readonly paper: string;
  readonly landscape: boolean;
  readonly margin: number;
  readonly overlap: number;
  /** Ids of the pieces left out. */
  readonly leftOut: readonly string[];
  /** Ids of the pieces on the fold that are printed opened out. */
  readonly opened: readonly string[];
  /** Index of the page looked at closely; null for all of them. */
  readonly page: number | null;
}

export interface PrintDesk {
  readonly choice: PrintChoice;
  choose(change: Partial<PrintChoice>): void;
}

const paperKeptUnder = 'hingeline-paper';

/** The print choices of this sitting; the paper is remembered on the device, since a printer seldom changes. */
export function usePrintDesk(): PrintDesk {
  const [choice, setChoice] = useState<PrintChoice>(() => ({
    paper: keptPaper(),
    landscape: false,
    margin: 10,
    overlap: 10,
    leftOut: [],
    opened: [],
    page: null,
  }));
  return {
    choice,
    choose(change) {
      setChoice((before) => ({ ...before, ...change }));
      if (change.paper !== undefined) keepPaper(change.paper);
    },
  };
}

/** What a home printer most likely holds, by the language of the device. */
function usualPaper(): string {
  return /^en-(US|CA)$/.test(navigator.language) ? 'Letter' : 'A4';
}

function keptPaper(): string {
  try {
    return localStorage.getItem(paperKeptUnder) ?? usualPaper();
  } catch {
    return usualPaper();
  }
}

function keepPaper(paper: string): void {
  try {
    localStorage.setItem(paperKeptUnder, paper);
  } catch {
    // Asked again next time; nothing is lost by it.
  }
}
