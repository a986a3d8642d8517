import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { Cue } from '@/lib/domain/captions/cue';
import { removeCue, setText } from '@/lib/domain/captions/edit-cues';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import {
  type CaptionsAnswer,
  CaptionsKeeper,
  type SaveCaptions,
} from '@/lib/review/captions/captions-keeper';

const cues: Cue[] = [
  { fromMs: 0, toMs: 1000, text: 'Land with your foot closed' },
  { fromMs: 1000, toMs: 2500, text: 'and the hips wait' },
];

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const keeping = (answers: (CaptionsAnswer | Error)[] = []) => {
  const sent: Parameters<SaveCaptions>[0][] = [];
  const keeper = new CaptionsKeeper({ cues, isReady: false, revision: 3 }, async (list) => {
    sent.push(list);
    const answer = answers.shift() ?? { kind: 'kept', revision: list.baseRevision + 1 };
    if (answer instanceof Error) throw answer;
    return answer;
  });
  return { keeper, sent, now: keeper.getSnapshot };
};

describe('captions that are being written', () => {
  test('are saved by themselves, several edits at once, each save on the revision before', async () => {
    const { keeper, sent, now } = keeping();
    keeper.edit((list) => setText(list, 0, 'Land closed'));
    keeper.edit((list) => setText(list, 1, 'hips wait'));
    expect(now().state).toBe('changed');
    await vi.advanceTimersByTimeAsync(1000);
    expect(now().state).toBe('kept');
    keeper.edit((list) => removeCue(list, 1));
    await vi.advanceTimersByTimeAsync(1000);
    expect(sent.map(({ baseRevision }) => baseRevision)).toEqual([3, 4]);
    expect(parseVtt(sent[0]!.vtt).cues.map(({ text }) => text)).toEqual(['Land closed', 'hips wait']);
    expect(parseVtt(sent[1]!.vtt).cues).toHaveLength(1);
  });

  test('an edit while one is being saved is saved after it', async () => {
    let finish: (answer: CaptionsAnswer) => void = () => {};
    const sent: string[] = [];
    const keeper = new CaptionsKeeper({ cues, isReady: false, revision: 0 }, (list) => {
      sent.push(list.vtt);
      return new Promise((resolve) => (finish = resolve));
    });
    keeper.edit((list) => setText(list, 0, 'one'));
    await vi.advanceTimersByTimeAsync(1000);
    keeper.edit((list) => setText(list, 0, 'two'));
    finish({ kind: 'kept', revision: 1 });
    await vi.advanceTimersByTimeAsync(1000);
    expect(sent).toHaveLength(2);
    expect(sent[1]).toContain('two');
  });

  test('a lost connection is tried again until it is kept', async () => {
    const { keeper, sent, now } = keeping([new TypeError('offline'), new TypeError('offline')]);
    keeper.setReady(true);
    await vi.advanceTimersByTimeAsync(1000);
    expect(now().state).toBe('lost');
    await vi.advanceTimersByTimeAsync(4000);
    await vi.advanceTimersByTimeAsync(4000);
    expect(now().state).toBe('kept');
    expect(sent.map(({ isReady }) => isReady)).toEqual([true, true, true]);
  });

  test('an edit that cannot be is refused with its sentence and changes nothing', () => {
    const { keeper, now } = keeping();
    expect(keeper.edit((list) => setText(list, 0, '   '))).toBe(false);
    expect(now()).toMatchObject({ cues, state: 'kept', refusal: expect.stringContaining('needs words') });
  });

  test('what a save refuses is said and stays here', async () => {
    const { keeper, now } = keeping([{ kind: 'refused', sentence: 'This breakdown was removed.' }]);
    keeper.edit((list) => removeCue(list, 0));
    await vi.advanceTimersByTimeAsync(1000);
    expect(now()).toMatchObject({ state: 'refused', refusal: 'This breakdown was removed.' });
    expect(now().cues).toHaveLength(1);
  });

  test('undo brings back the list before, and saves that', async () => {
    const { keeper, sent, now } = keeping();
    keeper.edit((list) => removeCue(list, 0));
    keeper.undo();
    expect(now()).toMatchObject({ cues, canUndo: false });
    await vi.advanceTimersByTimeAsync(1000);
    expect(parseVtt(sent.at(-1)!.vtt).cues).toEqual(cues);
  });

  describe('somebody else saved in between', () => {
    const theirs = {
      kind: 'conflict',
      vtt: 'WEBVTT\n\n00:00.000 --> 00:01.000\ntheirs\n',
      revision: 9,
    } as const;

    test('nothing is sent over it until one is chosen; mine goes on their revision', async () => {
      const { keeper, sent, now } = keeping([theirs]);
      keeper.edit((list) => removeCue(list, 0));
      await vi.advanceTimersByTimeAsync(1000);
      expect(now()).toMatchObject({ state: 'conflict', theirs: theirs.vtt });
      keeper.edit((list) => setText(list, 0, 'still mine'));
      await vi.advanceTimersByTimeAsync(10_000);
      expect(sent).toHaveLength(1);
      keeper.settle({ keep: 'mine' });
      await vi.advanceTimersByTimeAsync(1000);
      expect(sent.at(-1)).toMatchObject({ baseRevision: 9, vtt: expect.stringContaining('still mine') });
      expect(now().state).toBe('kept');
    });

    test('theirs is taken without a save, and mine can be brought back', async () => {
      const { keeper, sent, now } = keeping([theirs]);
      keeper.edit((list) => setText(list, 0, 'mine'));
      await vi.advanceTimersByTimeAsync(1000);
      keeper.settle({ keep: 'theirs', cues: parseVtt(theirs.vtt).cues });
      expect(now()).toMatchObject({ state: 'kept', cues: [{ text: 'theirs' }] });
      await vi.advanceTimersByTimeAsync(10_000);
      expect(sent).toHaveLength(1);
      keeper.undo();
      await vi.advanceTimersByTimeAsync(1000);
      expect(sent.at(-1)).toMatchObject({ baseRevision: 9, vtt: expect.stringContaining('mine') });
    });
  });
});
