import type { ReactNode } from 'react';

interface FoldProps {
  readonly label: string;
  readonly children: ReactNode;
  readonly open?: boolean;
}

/** Controls that are needed seldom, folded away under a line that says what they are. */
export function Fold({ label, children, open = false }: FoldProps) {
  return (
    <details className="fold" open={open}>
      <summary>{label}</summary>
      <div className="fold-body">{children}</div>
    </details>
  );
}
