import type { ReactNode } from 'react';

/** Something to mind before hands or fabric come to harm: sign and word, never colour alone. */
export function Caution({ children }: { readonly children: ReactNode }) {
  return (
    <p className="tray-caution">
      <span aria-hidden="true" className="slip-sign">
        !
      </span>
      <span>
        <strong>Mind.</strong> {children}
      </span>
    </p>
  );
}
