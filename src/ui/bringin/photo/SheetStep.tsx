import { useEffect, useState } from 'react';
import { stayPut } from '../../../geometry/rigidMove';
import { type PictureDraft, type PicturePart, pagesWaiting, partNow, withPart } from '../../../store/pictureDraft';
import { ChoiceGroup } from '../../controls/ChoiceGroup';
import { Complaint } from '../../controls/Complaint';
import { Tray } from '../../places/Tray';
import { useActions, useApp, useBringInStore } from '../../storeContext';
import { useWorkshop } from '../readerContext';
import { askPhotos, layFlat } from './askPhotos';
import { type BesideKind, lyingAsSeen, referenceOf, sheetSizes, withBeside } from './beside';
import { layPage } from './nextPage';
import { PutPictureAway } from './PutPictureAway';
import { useDarkroom } from './photoContext';
import { fileOf } from './pictureFiles';
import { ScanFields } from './ScanFields';
import { SideFields } from './SideFields';

const kinds: readonly { readonly value: BesideKind; readonly label: string }[] = [
  { value: 'a4', label: 'an A4 sheet' },
  { value: 'letter', label: 'a Letter sheet' },
  { value: 'other', label: 'another sheet or card' },
  { value: 'mat', label: 'a ruled mat' },
  { value: 'scan', label: 'nothing: it is a scan' },
];

/** What of known size lies beside the piece, and where: by that the picture is laid flat. */
export function SheetStep({ picture }: { readonly picture: PictureDraft }) {
  const part = partNow(picture);
  const unit = useApp((state) => state.garment?.unit ?? 'cm');
  const { pickTool } = useActions();
  const { actions } = useBringInStore();
  const darkroom = useDarkroom();
  const workshop = useWorkshop();
  const [complaint, setComplaint] = useState<string | null>(null);
  /** Whether the maker has said which way the sheet lies. */
  const [turned, setTurned] = useState(() => lyingAsSeen(part) !== part);

  useEffect(() => pickTool('hand'), [pickTool]);

  const change = (changed: (part: PicturePart) => PicturePart) => {
    setComplaint(null);
    actions.changePicture((now) => withPart(now, changed));
  };

  // While the corners are moved, the long side follows the longer way they lie.
  const lying = turned ? part : lyingAsSeen(part);
  useEffect(() => {
    if (lying !== part) actions.changePicture((now) => withPart(now, lyingAsSeen));
  }, [lying, part, actions]);

  const straighten = async () => {
    const reference = referenceOf(part);
    if (!reference.ok) {
      setComplaint(reference.sentence);
      return;
    }
    setComplaint(null);
    const { id } = part;
    const answer = await askPhotos<'straighten'>(
      { kind: 'straighten', picture: { id, file: fileOf(id) }, reference: reference.value },
      darkroom,
    );
    if (!answer.ok) {
      setComplaint(answer.sentence);
      return;
    }
    const { straightened, flat } = answer.value;
    const laid = layFlat(flat);
    actions.changePicture((now) => ({
      ...withPart(now, (same) => ({
        ...same,
        corners: reference.value.kind === 'scan' ? same.corners : straightened.corners,
        straight: { reference: reference.value, straightened, flat: laid, move: stayPut, checks: [] },
      })),
      stage: 'check',
      tape: null,
      chosen: null,
    }));
  };

  const [otherPage] = part.page === undefined ? [] : pagesWaiting(picture);
  const takePage = async (page: number) => {
    const laid = await layPage(picture, page, 'instead', darkroom, workshop);
    if (!laid.ok) setComplaint(laid.sentence);
  };

  const { beside, sheets } = part;
  return (
    <Tray
      next={nextFor(part)}
      onward={
        <button type="button" className="button button-main button-wide" onClick={() => void straighten()}>
          {beside.kind === 'scan' ? 'Lay it at this size' : 'Straighten'}
        </button>
      }
    >
      <ChoiceGroup<BesideKind>
        label="What lies flat beside the piece?"
        shape="list"
        choices={kinds}
        value={beside.kind}
        onChoose={(kind) => {
          setTurned(false);
          change((now) => withBeside(now, kind));
        }}
      />
      {beside.kind === 'scan' && <ScanFields part={part} beside={beside} onChange={change} />}
      {beside.kind !== 'scan' && (
        <SideFields
          beside={beside}
          unit={unit}
          known={beside.kind === 'a4' || beside.kind === 'letter' ? sheetSizes[beside.kind] : null}
          onChange={(next) => {
            setTurned(true);
            change((now) => ({ ...now, beside: next }));
          }}
        />
      )}
      {complaint !== null && <Complaint>{complaint}</Complaint>}
      {beside.kind !== 'scan' && beside.kind !== 'mat' && sheets.length > 1 && (
        <button type="button" className="button" onClick={() => change(nextSheet)}>
          Another shape that was found
        </button>
      )}
      {beside.kind === 'mat' && part.corners.length > 0 && (
        <button
          type="button"
          className="button"
          onClick={() => change((now) => ({ ...now, corners: now.corners.slice(0, -1) }))}
        >
          Back one crossing
        </button>
      )}
      {beside.kind !== 'scan' && (
        <p className="tray-note">
          Drag a {beside.kind === 'mat' ? 'crossing' : 'corner'}, or press Tab on the table and move it with the arrow
          keys, one dot at a time; with Shift ten. Zoom in to be sure.
        </p>
      )}
      {otherPage !== undefined && (
        <button type="button" className="button" onClick={() => void takePage(otherPage)}>
          Take page {otherPage} instead of page {part.page}
        </button>
      )}
      <PutPictureAway picture={picture} />
    </Tray>
  );
}

function nextFor({ beside, corners, sheets }: PicturePart): string {
  switch (beside.kind) {
    case 'scan':
      return 'Say how finely it was scanned, in both directions.';
    case 'mat':
      return corners.length < 4
        ? 'Click four crossings of the mat that make a large rectangle, in order round it.'
        : 'Type how far apart the crossings are, then straighten.';
    default:
      return sheets.length > 0
        ? 'See that the four corners sit on the sheet, then straighten.'
        : 'No sheet was found. Drag the four corners onto it, or say what else gives the size.';
  }
}

/** The corners of the next thing that may be the sheet, round and round. */
function nextSheet(part: PicturePart): PicturePart {
  const at = part.sheets.findIndex(({ corners }) => corners[0] === part.corners[0]);
  const next = part.sheets[(at + 1) % part.sheets.length]!;
  return withBeside({ ...part, corners: next.corners }, part.beside.kind);
}
