import { useEffect, useState } from 'react';
import { fail, type Outcome } from '../../geometry/outcome';
import type { Garment } from '../../pattern/garment';
import { newId } from '../../store/newId';
import { openFile } from '../bringin/fileDoor';
import { preferredUnit } from '../bringin/preferredUnit';
import { useWorkshop } from '../bringin/readerContext';
import { useDesk } from '../deskContext';
import { downloadText, fileName } from '../download';
import { useAppStore } from '../storeContext';
import { FirstScreen } from './FirstScreen';
import type { RecentGarment } from './RecentList';
import { readSample } from './readSample';
import { type Sample, samples } from './samples';

const nothingKept = fail('nothing-kept', 'Nothing is kept on this device.');

/** The first screen with its doors wired: samples, files, saved garments. */
export function Start({ complaint }: { readonly complaint: string | null }) {
  const store = useAppStore();
  const workshop = useWorkshop();
  const desk = useDesk();
  const [said, setSaid] = useState(complaint);
  const [recent, setRecent] = useState<readonly RecentGarment[]>([]);
  const [samplesRead, setSamplesRead] = useState<readonly (Garment | null)[]>([]);

  useEffect(() => {
    let here = true;
    void desk?.storage.listGarments().then((titles) => {
      if (here && titles.ok) setRecent(titles.value);
    });
    void Promise.all(samples.map((sample) => readSample(sample))).then((read) => {
      if (here) setSamplesRead(read.map((garment) => (garment.ok ? garment.value : null)));
    });
    // Whatever is opened, the table is needed next.
    void import('../bench/Workbench');
    return () => {
      here = false;
    };
  }, [desk]);

  const open = (garment: Outcome<Garment>) => {
    if (garment.ok) store.actions.openGarment(garment.value);
    else setSaid(garment.sentence);
  };

  const openSample = async (sample: Sample) => {
    const garment = await readSample(sample);
    // A sample worked on before stays as it was left; a fresh one hangs beside it.
    const worn = garment.ok && recent.some(({ id }) => id === garment.value.id);
    open(worn ? { ok: true, value: { ...garment.value, id: newId() } } : garment);
  };

  return (
    <FirstScreen
      recent={recent}
      samplesRead={samplesRead}
      complaint={said}
      onSample={(sample) => void openSample(sample)}
      onRecent={(id) =>
        void (async () => {
          open((await desk?.storage.loadGarment(id)) ?? nothingKept);
        })()
      }
      onSaveCopy={(garment) =>
        void (async () => {
          const text = await desk?.storage.savedText(garment.id);
          if (text?.ok) downloadText(fileName(garment.name, 'hingeline.json'), text.value);
          else setSaid(text?.sentence ?? nothingKept.sentence);
        })()
      }
      onDelete={(id) =>
        void (async () => {
          const deleted = await desk?.storage.deleteGarment(id);
          if (deleted?.ok) setRecent((before) => before.filter((garment) => garment.id !== id));
          else setSaid(deleted?.sentence ?? nothingKept.sentence);
        })()
      }
      onFile={(file) =>
        void (async () => {
          setSaid(null);
          const opened = await openFile(file, store, workshop);
          if (!opened.ok && opened.code !== 'cancelled') setSaid(opened.sentence);
        })()
      }
      onEmpty={() => {
        store.commands.newGarment('New garment', preferredUnit());
        store.actions.goTo('bring-in');
        store.actions.pickTool('pen');
      }}
    />
  );
}
