import type { Garment } from '../../pattern/garment';
import { LightSwitch } from '../bench/LightSwitch';
import { OwnFiles } from '../bringin/OwnFiles';
import { useDroppedFile } from '../bringin/useDroppedFile';
import { Working } from '../bringin/Working';
import { Complaint } from '../controls/Complaint';
import { HingeMark, PlusSign } from '../controls/icons';
import { KeptRecords } from './KeptRecords';
import { type RecentGarment, RecentList } from './RecentList';
import { SampleCard } from './SampleCard';
import { type Sample, samples } from './samples';
import './start.css';

interface FirstScreenProps {
  readonly recent: readonly RecentGarment[];
  /** The samples as far as they have been read, in the order of `samples`. */
  readonly samplesRead: readonly (Garment | null)[];
  readonly onSample: (sample: Sample) => void;
  readonly onFile: (file: File) => void;
  readonly onEmpty: () => void;
  readonly onRecent: (id: string) => void;
  readonly onSaveCopy: (garment: RecentGarment) => void;
  readonly onDelete: (id: string) => void;
  /** Why the last try to open something failed. */
  readonly complaint: string | null;
}

/** The bare table: take a sample, a file, an empty sheet, or what was last worked on here. */
export function FirstScreen({
  recent,
  samplesRead,
  onSample,
  onFile,
  onEmpty,
  onRecent,
  onSaveCopy,
  onDelete,
  complaint,
}: FirstScreenProps) {
  const over = useDroppedFile(onFile);

  return (
    <main className={`start ${over ? 'start-over' : ''}`}>
      <div className="start-light">
        <LightSwitch />
      </div>
      <div className="start-words">
        <p className="start-mark">
          <HingeMark size={34} />
          Hingeline
        </p>
        <h1>Give a pattern that fits a new silhouette.</h1>
        <p className="start-lead">
          Swing a piece open along its slash lines, true it, match the back, print it at full size. The pattern you
          start from is never touched, and nothing leaves this device.
        </p>
        {recent.length > 0 && (
          <RecentList recent={recent} onOpen={onRecent} onSaveCopy={onSaveCopy} onDelete={onDelete} />
        )}
        <KeptRecords />
      </div>
      <div className="start-ways">
        <h2 className="quiet">Try one of ours</h2>
        <div className="start-samples">
          {samples.map((sample, index) => (
            <SampleCard
              key={sample.file}
              sample={sample}
              garment={samplesRead[index] ?? null}
              onPick={() => onSample(sample)}
            />
          ))}
        </div>
        <h2 className="quiet">Or begin with your own</h2>
        <div className="start-own">
          <OwnFiles onFile={onFile} />
          <button type="button" className="way" onClick={onEmpty}>
            <PlusSign />
            <span>
              <strong>Empty sheet</strong>
              <span className="quiet">Draw the outline by hand with the pen.</span>
            </span>
          </button>
        </div>
        {complaint !== null && <Complaint>{complaint}</Complaint>}
      </div>
      <Working />
    </main>
  );
}
