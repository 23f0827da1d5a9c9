import { accuracyLimits, isAnnounced, isSilent, shortfalls } from '../support/photo/accuracyLimits';
import type { Measured } from '../support/photo/measurePhoto';
import type { SetPhoto } from '../support/photo/photoSet';

export interface TableRow {
  readonly photo: SetPhoto;
  readonly measured: Measured;
}

const heads = [
  'no.',
  'MP',
  'tilt',
  'table',
  'piece',
  'sheet',
  'light',
  'things',
  'lens',
  'blur, noise, JPEG',
  'mm a dot',
  '95 %',
  'worst',
  'redrawn',
  'lengths',
  'announced',
  'falls short',
];

/** The rows as a Markdown table, lengths in mm. */
export function readingTable(rows: readonly TableRow[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return [
    line(heads),
    line(heads.map(() => '---')),
    ...rows.map(({ photo, measured }) => line([...conditions(photo), ...outcome(measured)])),
  ].join('\n');
}

function conditions({
  id,
  megapixels,
  tilt,
  scene,
  sheetName,
  lightName,
  clutterName,
  camera,
  options,
}: SetPhoto): string[] {
  const look = scene.piece!.look;
  const { blur, noise, jpeg, sharpen } = options.optics;
  return [
    id,
    String(megapixels),
    `${tilt}°`,
    scene.table,
    look.kind === 'pen' ? `pen ${short(look.lineWidth)} mm` : look.kind,
    sheetName,
    lightName,
    clutterName,
    short(camera.lens),
    `${short(blur)}, ${short(noise)}, ${jpeg}${sharpen > 0 ? ', sharpened' : ''}`,
    (camera.distance / camera.focal).toFixed(2),
  ];
}

/** Without the digits that binary fractions leave. */
function short(value: number): string {
  return String(Number(value.toFixed(3)));
}

function outcome(m: Measured): string[] {
  if (m.refused !== null) return ['', '', '', '', 'refused', `${m.refused.step}: ${m.refused.code}`];
  return [
    m.p95.toFixed(3),
    m.worst.toFixed(2),
    `${m.drawnSegments}, ${m.drawnWorst.toFixed(2)}`,
    Number.isNaN(m.lengths) ? '' : `${(100 * m.lengths).toFixed(3)} %`,
    `${m.expected.toFixed(2)}${isAnnounced(m) ? ', warned' : ''}`,
    shortfalls(m).join('; '),
  ];
}

/** How many of them reach each limit. */
export function summary(rows: readonly TableRow[]): string {
  const read = rows.map(({ measured }) => measured).filter(({ refused }) => refused === null);
  const count = (keep: (m: Measured) => boolean) => read.filter(keep).length;
  const median = (values: readonly number[]) =>
    [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
  const { p95, silent, lengths } = accuracyLimits;
  const total = (part: (m: Measured) => number) => read.reduce((sum, m) => sum + part(m), 0);
  const near = (100 * total((m) => m.pointsNear)) / total((m) => m.points);
  const worse = count((m) => m.worst > silent);
  const unsaid = count(isSilent);
  return [
    `Of ${rows.length} photographs ${rows.length - read.length} were refused.`,
    `Of all points of the ${read.length} read, ${near.toFixed(1)} % lie within ${p95} mm.`,
    `Of these photographs, ${count((m) => m.p95 <= p95)} each have 95 % of their points within ${p95} mm;`,
    `${worse} have a point more than ${silent} mm off, ${worse - unsaid} of these with a warning at that place and ${unsaid} without;`,
    `${count((m) => m.lengths <= lengths)} have their lengths within ${100 * lengths} %.`,
    `The median photograph has 95 % of its points within ${median(read.map((m) => m.p95)).toFixed(3)} mm and its worst at ${median(read.map((m) => m.worst)).toFixed(2)} mm.`,
    `A warning came with ${count(isAnnounced)} of those read, ${count((m) => isAnnounced(m) && m.worst <= silent)} of them needlessly.`,
  ].join(' ');
}
