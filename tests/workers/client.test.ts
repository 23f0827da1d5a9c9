import { afterEach, describe, expect, it, vi } from 'vitest';
import { fail, type Outcome, succeed } from '../../src/geometry/outcome';
import { helper } from '../../src/workers/client';
import type { Progress, WorkerAnswer, WorkerAsk } from '../../src/workers/messages';

/** A worker that is worked by hand. */
class HandWorker {
  static made: HandWorker[] = [];
  onmessage: ((event: { data: WorkerAnswer<string> }) => void) | null = null;
  onerror: (() => void) | null = null;
  readonly asked: WorkerAsk<string>[] = [];
  ended = false;
  constructor() {
    HandWorker.made.push(this);
  }
  postMessage(message: WorkerAsk<string>): void {
    this.asked.push(message);
  }
  terminate(): void {
    this.ended = true;
  }
  answer(id: number, answer: Outcome<string>): void {
    this.onmessage?.({ data: { id, kind: 'answer', answer } });
  }
}

const begun = (patience?: number) => {
  HandWorker.made = [];
  return helper<string, string>(() => new HandWorker() as unknown as Worker, patience);
};

describe('asking a worker', () => {
  it('starts it with the first question only, and gives each question its own answer', async () => {
    const asked = begun();
    expect(HandWorker.made).toHaveLength(0);
    const first = asked.ask('a');
    const second = asked.ask('b');
    const [worker] = HandWorker.made;
    expect(HandWorker.made).toHaveLength(1);
    expect(worker!.asked.map(({ ask }) => ask)).toEqual(['a', 'b']);
    worker!.answer(2, succeed('B'));
    worker!.answer(1, succeed('A'));
    expect([await first, await second]).toEqual([succeed('A'), succeed('B')]);
  });

  it('hears of progress until the answer comes', async () => {
    const asked = begun();
    const heard: Progress[] = [];
    const answer = asked.ask('a', (progress) => heard.push(progress));
    const [worker] = HandWorker.made;
    const progress = { share: 0.5, doing: 'Reading' };
    worker!.onmessage?.({ data: { id: 1, kind: 'progress', progress } });
    worker!.answer(1, succeed('A'));
    await answer;
    expect(heard).toEqual([progress]);
  });

  it('stopped, it ends the worker, answers that nothing was changed, and can be asked anew', async () => {
    const asked = begun();
    const first = asked.ask('a');
    asked.stop();
    expect(await first).toEqual(fail('cancelled', 'Stopped. Nothing was changed.'));
    expect(HandWorker.made[0]!.ended).toBe(true);
    const again = asked.ask('b');
    HandWorker.made[1]!.answer(2, succeed('B'));
    expect(await again).toEqual(succeed('B'));
  });

  it('a worker that breaks down is a failure for everyone who waits', async () => {
    const asked = begun();
    const waiting = [asked.ask('a'), asked.ask('b')];
    HandWorker.made[0]!.onerror?.();
    for (const answer of await Promise.all(waiting)) expect(answer).toMatchObject({ ok: false, code: 'worker-failed' });
  });

  it('an answer that comes after the stop changes nothing', async () => {
    const asked = begun();
    const first = asked.ask('a');
    asked.stop();
    HandWorker.made[0]!.answer(1, succeed('late'));
    expect(await first).toMatchObject({ code: 'cancelled' });
  });
});

describe('R37 a worker that shows no sign of progress', () => {
  afterEach(() => {
    vi.useRealTimers();
  });

  it('is ended by itself after the time stated, says so, and can be asked anew', async () => {
    vi.useFakeTimers();
    const asked = begun(120_000);
    const answer = asked.ask('a');
    const progress = { share: 0.5, doing: 'Reading' };
    vi.advanceTimersByTime(115_000);
    HandWorker.made[0]!.onmessage?.({ data: { id: 1, kind: 'progress', progress } });
    vi.advanceTimersByTime(115_000);
    expect(HandWorker.made[0]!.ended).toBe(false);
    vi.advanceTimersByTime(10_000);
    expect(HandWorker.made[0]!.ended).toBe(true);
    expect(await answer).toMatchObject({ ok: false, code: 'no-progress' });
    expect((await answer) as unknown).toHaveProperty(
      'sentence',
      expect.stringMatching(/^There was no sign of progress for 2 minutes, .*\.$/),
    );
    const again = asked.ask('b');
    HandWorker.made[1]!.answer(2, succeed('B'));
    expect(await again).toEqual(succeed('B'));
  });

  it('is watched as long as any one thing it was asked is unanswered', async () => {
    vi.useFakeTimers();
    const asked = begun(60_000);
    const [first, second] = [asked.ask('a'), asked.ask('b')];
    HandWorker.made[0]!.answer(1, succeed('A'));
    expect(await first).toEqual(succeed('A'));
    vi.advanceTimersByTime(65_000);
    expect(HandWorker.made[0]!.ended).toBe(true);
    expect(await second).toMatchObject({ ok: false, code: 'no-progress' });
  });

  it('is left alone while it is asked nothing, and where no time is stated', async () => {
    vi.useFakeTimers();
    const asked = begun(60_000);
    const first = asked.ask('a');
    HandWorker.made[0]!.answer(1, succeed('A'));
    await first;
    vi.advanceTimersByTime(600_000);
    expect(HandWorker.made[0]!.ended).toBe(false);
    const patient = begun();
    void patient.ask('a');
    vi.advanceTimersByTime(6_000_000);
    expect(HandWorker.made[0]!.ended).toBe(false);
  });
});
