import type { ReactNode, Ref } from 'react';

interface ComplaintProps {
  /** What is wrong and what to do about it. */
  readonly children: ReactNode;
  /** For the field that names it as its description. */
  readonly id?: string;
  readonly ref?: Ref<HTMLParagraphElement>;
}

/** A refusal beside what it is about: spoken at once, and never told by colour alone. */
export function Complaint({ children, id, ref }: ComplaintProps) {
  return (
    <p ref={ref} className="complaint" id={id} role="alert">
      <span aria-hidden="true">✕ </span>
      {children}
    </p>
  );
}
