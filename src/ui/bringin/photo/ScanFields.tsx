import { fail, type Outcome, succeed } from '../../../geometry/outcome';
import type { Beside, PicturePart } from '../../../store/pictureDraft';
import { parseNumber } from '../../../units/numberText';
import { TypedField } from '../../controls/TypedField';

type Scan = Extract<Beside, { kind: 'scan' }>;

interface ScanFieldsProps {
  readonly part: PicturePart;
  readonly beside: Scan;
  readonly onChange: (changed: (part: PicturePart) => PicturePart) => void;
}

const mmPerInch = 25.4;

/** How finely a scan was made, both ways; what the file says is offered and never taken by itself. */
export function ScanFields({ part, beside, onChange }: ScanFieldsProps) {
  const set = (scan: Scan) => onChange((now) => ({ ...now, beside: scan }));
  const field = (label: string, name: 'across' | 'down') => {
    const keep = (dpi: number): Outcome<null> => {
      set({ ...beside, [name]: dpi / mmPerInch });
      return succeed(null);
    };
    return (
      <TypedField
        label={label}
        value={beside[name] * mmPerInch}
        read={readDensity}
        write={(dpi) => (dpi > 0 ? String(Math.round(dpi * 100) / 100) : '')}
        nudged={(from, direction, large) => Math.max(1, Math.round(from) + direction * (large ? 10 : 1))}
        onPreview={keep}
        onCommit={keep}
      />
    );
  };
  const { stated } = part;
  return (
    <div className="stack">
      <p className="tray-note">Dots to the inch, as the scanner was set. The two may differ a little.</p>
      <div className="pair">
        {field('Across', 'across')}
        {field('Down', 'down')}
      </div>
      {stated === null ? (
        <p className="tray-note">The file does not say; look in the settings of the scanner.</p>
      ) : (
        <button
          type="button"
          className="button"
          onClick={() => set({ kind: 'scan', across: stated.x, down: stated.y })}
        >
          The file says {inches(stated.x)} by {inches(stated.y)}
        </button>
      )}
    </div>
  );
}

function inches(dotsPerMm: number): number {
  return Math.round(dotsPerMm * mmPerInch * 100) / 100;
}

function readDensity(text: string): Outcome<number> {
  const dpi = parseNumber(text);
  if (!dpi.ok) return dpi;
  return dpi.value >= 25 && dpi.value <= 5000
    ? dpi
    : fail('scan-density', 'Scanners make between 25 and 5,000 dots to the inch.');
}
