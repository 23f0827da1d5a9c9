/** The few drawn signs, one stroke weight, all on a 20 x 20 field. They never stand without a name beside them. */

interface SignProps {
  readonly d: string;
  readonly dashed?: boolean;
}

function Sign({ d, dashed = false }: SignProps) {
  return (
    <svg width="20" height="20" viewBox="0 0 20 20" fill="none" aria-hidden="true" focusable="false">
      <path
        d={d}
        stroke="currentColor"
        strokeWidth="1.6"
        strokeLinecap="round"
        strokeLinejoin="round"
        strokeDasharray={dashed ? '2.2 2.6' : undefined}
      />
    </svg>
  );
}

export const UndoSign = () => <Sign d="M4 8h8.2a4 4 0 0 1 0 8H9M4 8l3.6-3.6M4 8l3.6 3.6" />;
export const RedoSign = () => <Sign d="M16 8H7.8a4 4 0 0 0 0 8H11M16 8l-3.6-3.6M16 8l-3.6 3.6" />;
export const DownSign = () => <Sign d="M6 8.5l4 4 4-4" />;
export const SunSign = () => (
  <Sign d="M10 6.8a3.2 3.2 0 1 1 0 6.4 3.2 3.2 0 0 1 0-6.4ZM10 2.6v1M10 16.4v1M2.6 10h1M16.4 10h1M4.8 4.8l.7.7M14.5 14.5l.7.7M4.8 15.2l.7-.7M14.5 5.5l.7-.7" />
);
export const MoonSign = () => <Sign d="M15.8 12.1A6.4 6.4 0 0 1 7.9 4.2a6.4 6.4 0 1 0 7.9 7.9Z" />;
export const GhostSign = () => <Sign d="M5 3.5h6.5l3.5 13H3.5Z" dashed />;
export const MoreSign = () => <Sign d="M5 10h.01M10 10h.01M15 10h.01" />;
export const CloseSign = () => <Sign d="M5.5 5.5l9 9M14.5 5.5l-9 9" />;
export const PlusSign = () => <Sign d="M10 4.5v11M4.5 10h11" />;
export const FitSign = () => <Sign d="M3.5 7V3.5H7M13 3.5h3.5V7M16.5 13v3.5H13M7 16.5H3.5V13" />;
export const TapeSign = () => <Sign d="M3 7.5h14v5H3ZM6 7.5v2.4M9 7.5v2.4M12 7.5v2.4M15 7.5v2.4" />;
export const CameraSign = () => (
  <Sign d="M3 6.5h3.2l1.3-2h5l1.3 2H17v9H3ZM10 8.2a2.7 2.7 0 1 1 0 5.4 2.7 2.7 0 0 1 0-5.4Z" />
);
export const FileSign = () => <Sign d="M5.5 2.8h6l3.5 3.6v10.8h-9.5ZM11.3 2.9v3.7h3.6" />;

/** The mark: three strips swung open about one hinge. */
export function HingeMark({ size = 26 }: { readonly size?: number }) {
  return (
    <svg width={size} height={size} viewBox="0 0 32 32" fill="none" aria-hidden="true" focusable="false">
      <path d="M16 6 L27.5 23.5 A21 21 0 0 1 20.6 26.9 Z" fill="currentColor" opacity="0.45" />
      <path d="M16 6 L18.2 27.4 A21 21 0 0 1 10.6 26.6 Z" fill="currentColor" opacity="0.7" />
      <path d="M16 6 L8.3 25.8 A21 21 0 0 1 3 22.4 Z" fill="currentColor" />
      <circle cx="16" cy="6" r="3.2" fill="currentColor" />
    </svg>
  );
}
