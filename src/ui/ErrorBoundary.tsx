import { Component, type ReactNode } from 'react';
import { downloadText } from './download';

interface ErrorBoundaryProps {
  readonly children: ReactNode;
  /** Hands out the garment as it was last kept; null when there is none. */
  readonly save: () => { readonly name: string; readonly text: string } | null;
}

interface ErrorBoundaryState {
  readonly failure: Error | null;
}

/** Whatever breaks in drawing the interface, the maker sees a sentence and can carry the work away, never a blank page. */
export class ErrorBoundary extends Component<ErrorBoundaryProps, ErrorBoundaryState> {
  override state: ErrorBoundaryState = { failure: null };

  static getDerivedStateFromError(failure: unknown): ErrorBoundaryState {
    return { failure: failure instanceof Error ? failure : new Error(String(failure)) };
  }

  override render() {
    const { failure } = this.state;
    if (failure === null) return this.props.children;
    const copy = this.props.save();
    return (
      <main className="broken" role="alert">
        <h1>
          <span aria-hidden="true">✕ </span>Something tore.
        </h1>
        <p>
          Hingeline met a fault of its own and stopped drawing. Your garment is kept on this device up to the last
          finished step{copy === null ? '.' : '; save a copy before you go on, to be safe.'}
        </p>
        <div className="broken-actions">
          {copy !== null && (
            <button type="button" className="button button-main" onClick={() => downloadText(copy.name, copy.text)}>
              Save a copy
            </button>
          )}
          <button type="button" className="button" onClick={() => this.setState({ failure: null })}>
            Try again
          </button>
          <button type="button" className="button" onClick={() => location.reload()}>
            Start afresh
          </button>
        </div>
        <p className="quiet">What it said: {failure.message}</p>
      </main>
    );
  }
}
