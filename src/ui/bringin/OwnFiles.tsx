import { type ReactNode, useRef } from 'react';
import { CameraSign, FileSign } from '../controls/icons';
import { drawingsAndGarments, pictures } from './fileDoor';

/** The ways in for what the maker has: paper, and files. Dropping either on the page works as well. */
export function OwnFiles({ onFile }: { readonly onFile: (file: File) => void }) {
  return (
    <>
      {isHandHeld() && (
        <FileWay
          sign={<CameraSign />}
          name="Take a photograph"
          hint="With this device’s camera, from straight above."
          accept="image/*"
          camera
          onFile={onFile}
        />
      )}
      <FileWay
        sign={<CameraSign />}
        name="Photograph or scan"
        hint="Lay a sheet of paper beside the piece."
        accept={pictures}
        onFile={onFile}
      />
      <FileWay
        sign={<FileSign />}
        name="Open a file"
        hint="A garment saved here, PDF, SVG or DXF."
        accept={drawingsAndGarments}
        onFile={onFile}
      />
    </>
  );
}

/** Devices worked by finger have a camera that can be held over a table. */
function isHandHeld(): boolean {
  return window.matchMedia('(pointer: coarse)').matches;
}

interface FileWayProps {
  readonly sign: ReactNode;
  readonly name: string;
  readonly hint: string;
  readonly accept: string;
  /** Goes straight to the camera instead of to the files. */
  readonly camera?: boolean;
  readonly onFile: (file: File) => void;
}

function FileWay({ sign, name, hint, accept, camera = false, onFile }: FileWayProps) {
  const picker = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" className="way" onClick={() => picker.current?.click()}>
        {sign}
        <span>
          <strong>{name}</strong>
          <span className="quiet">{hint}</span>
        </span>
      </button>
      <input
        ref={picker}
        type="file"
        hidden
        accept={accept}
        capture={camera ? 'environment' : undefined}
        onChange={(event) => {
          const file = event.target.files?.[0];
          event.target.value = '';
          if (file !== undefined) onFile(file);
        }}
      />
    </>
  );
}
