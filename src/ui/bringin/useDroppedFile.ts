import { useEffect, useRef, useState } from 'react';

/** Takes a file dropped anywhere on the page; answers whether one is being held over it. */
export function useDroppedFile(onFile: (file: File) => void): boolean {
  const [over, setOver] = useState(false);
  const take = useRef(onFile);
  useEffect(() => {
    take.current = onFile;
  });
  useEffect(() => {
    const hover = (event: globalThis.DragEvent) => {
      if (!event.dataTransfer?.types.includes('Files')) return;
      event.preventDefault();
      setOver(true);
    };
    const leave = (event: globalThis.DragEvent) => {
      // Leaving for another element of the page is no leaving.
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: globalThis.DragEvent) => {
      event.preventDefault();
      setOver(false);
      const file = event.dataTransfer?.files[0];
      if (file !== undefined) take.current(file);
    };
    window.addEventListener('dragover', hover);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', hover);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, []);
  return over;
}
