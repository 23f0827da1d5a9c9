/** Something that breaks a rule of the pattern model: a stable code, a sentence for the maker, and where it is. */
export interface Problem {
  readonly code: string;
  readonly sentence: string;
  readonly where: ProblemPlace;
}

/** Ids of what the problem sits on; none for the garment as a whole. */
export interface ProblemPlace {
  readonly piece?: string;
  readonly edge?: string;
  readonly mark?: string;
  readonly version?: string;
  readonly link?: string;
}

export function problem(code: string, sentence: string, where: ProblemPlace = {}): Problem {
  return { code, sentence, where };
}

/** The ids that occur more than once. */
export function repeated(ids: readonly string[]): string[] {
  const seen = new Set<string>();
  return [...new Set(ids.filter((id) => seen.size === seen.add(id).size))];
}

/** Ids are kept in records, so a name every record already has would be mistaken for an entry. */
export function usableId(id: string): boolean {
  return id.length > 0 && id.length <= 100 && !(id in {});
}
