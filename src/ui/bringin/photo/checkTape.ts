import { fail, type Outcome, succeed } from '../../../geometry/outcome';
import { distance, type Point } from '../../../geometry/point';
import { secondLengthError } from '../../../geometry/tolerance';
import type { PicturePart, Tape } from '../../../store/pictureDraft';

/** mm. Shorter than this a slip of half a dot already looks like a wrong scale. */
const shortestCheck = 20;
const longestCheck = 20_000;

/** mm. Ends this near to the corners of the sheet measure the sheet, which agrees with itself whatever is wrong. */
const onSheet = 5;

/**
 * A second length measured on the straightened picture, against what the maker knows it to be (mm). What agrees to 0.5 %
 * is told with its error; more is refused with what may be wrong.
 */
export function checkTape(part: PicturePart, tape: Tape, known: number): Outcome<string> {
  if (!(known >= shortestCheck && known <= longestCheck)) {
    return fail('check-length-unusable', 'Give a length between 20 mm and 20 m, the longest you can measure.');
  }
  const measured = distance(tape.from, tape.to);
  if (!(measured > 0)) return fail('check-length-missing', 'The two ends are on the same spot. Lay the length again.');
  if (isTheSheet(part, tape)) {
    return fail(
      'check-is-sheet',
      'That is the sheet the picture was straightened by; it agrees with itself. Measure something else, best on the piece.',
    );
  }
  const error = measured / known - 1;
  const off = `${mm(measured)} mm on the picture for ${mm(known)} mm in truth, ${percent(error)} off`;
  if (Math.abs(error) > secondLengthError) {
    return fail(
      'second-length-off',
      `The second length does not agree: ${off}, and ${secondLengthError * 100} % is the most that can pass. ${mayBe(part)}`,
    );
  }
  return succeed(`A second length agrees: ${off}.`);
}

function mayBe({ beside }: PicturePart): string {
  if (beside.kind === 'scan') {
    return 'The scan may have been made at another resolution, or been made smaller since; or the length was laid or typed wrongly.';
  }
  return 'The paper may not lie flat, the sheet may be lifted, not square or of another size, or an end of the length was laid wrongly.';
}

function isTheSheet({ straight }: PicturePart, { from, to }: Tape): boolean {
  const reference = straight?.reference;
  if (reference === undefined || reference.kind === 'scan') return false;
  const { width, height } = reference;
  const corners: readonly Point[] = [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];
  const onCorner = (p: Point) => corners.some((corner) => distance(corner, p) <= onSheet);
  return onCorner(from) && onCorner(to);
}

function mm(length: number): string {
  return String(Math.round(length * 100) / 100);
}

function percent(share: number): string {
  return `${(share * 100).toFixed(2)} %`;
}
