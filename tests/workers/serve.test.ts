import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Outcome, succeed } from '../../src/geometry/outcome';
import type { Report, WorkerAnswer } from '../../src/workers/messages';
import { serve } from '../../src/workers/serve';

interface Scope {
  onmessage: ((event: { data: unknown }) => void) | null;
  postMessage(message: WorkerAnswer<string>): void;
}

let sent: WorkerAnswer<string>[] = [];
let scope: Scope;

beforeEach(() => {
  sent = [];
  scope = { onmessage: null, postMessage: (message) => sent.push(message) };
  (globalThis as { self?: unknown }).self = scope;
});
afterEach(() => {
  delete (globalThis as { self?: unknown }).self;
});

const ask = (id: number, text: string) => scope.onmessage?.({ data: { id, ask: text } });
const settled = () => new Promise((resolve) => setTimeout(resolve, 0));

describe('a worker', () => {
  it('answers one question after the other, with progress on the way', async () => {
    const order: string[] = [];
    serve<string, string>(async (text, report: Report): Promise<Outcome<string>> => {
      order.push(`begin ${text}`);
      report({ share: 0.5, doing: text });
      await Promise.resolve();
      order.push(`end ${text}`);
      return succeed(text.toUpperCase());
    });
    ask(1, 'a');
    ask(2, 'b');
    await settled();
    expect(order).toEqual(['begin a', 'end a', 'begin b', 'end b']);
    expect(sent).toEqual([
      { id: 1, kind: 'progress', progress: { share: 0.5, doing: 'a' } },
      { id: 1, kind: 'answer', answer: succeed('A') },
      { id: 2, kind: 'progress', progress: { share: 0.5, doing: 'b' } },
      { id: 2, kind: 'answer', answer: succeed('B') },
    ]);
  });

  it('turns what is thrown into a sentence, and goes on', async () => {
    serve<string, string>((text) => {
      if (text === 'memory') throw new RangeError('Array buffer allocation failed');
      if (text === 'bug') throw new TypeError('x is undefined');
      return succeed(text);
    });
    ask(1, 'memory');
    ask(2, 'bug');
    ask(3, 'fine');
    await settled();
    expect(sent).toMatchObject([
      { answer: { code: 'work-broke-off', sentence: expect.stringContaining('not enough memory') } },
      { answer: { code: 'work-broke-off', sentence: expect.stringContaining('Save it anew') } },
      { answer: succeed('fine') },
    ]);
  });
});
