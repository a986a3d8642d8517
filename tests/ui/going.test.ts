import { describe, expect, it } from 'vitest';
import { goingOf } from '@/app/lessons/new/_send/going-of';
import { togetherOf } from '@/app/lessons/new/_send/together-of';
import { goingOfEntry } from '@/app/lessons/new/_send/queue-sender';
import type { ClipHere, Going } from '@/app/lessons/new/_send/send-types';
import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import type { ClipId } from '@/lib/domain/shared/ids';
import type { UploadEntry } from '@/lib/review/upload/upload-entry';

const here = (change: Partial<ClipHere> = {}): ClipHere => ({
  name: 'swing.mov',
  sizeBytes: 18_000_000,
  seconds: 8,
  fileRate: 30,
  isRateOpen: true,
  isRateUnknown: false,
  isHeld: false,
  isTooLong: false,
  ...change,
});
const stored = (change: Partial<ClipFacts>): ClipFacts => ({
  id: 'c' as ClipId,
  position: 0,
  view: null,
  state: 'expected',
  progress: 0,
  fault: null,
  width: null,
  height: null,
  frameCount: null,
  fileRate: null,
  captureRate: null,
  rateIsSure: false,
  focal35mm: null,
  isZoomed: null,
  sizeBytes: 0,
  ...change,
});
const sending = (sentBytes: number, secondsLeft: number | null): Going => ({
  kind: 'sending',
  sentBytes,
  totalBytes: 100,
  secondsLeft,
  note: null,
});

describe('where a clip is on its way', () => {
  const known = { here: here(), queued: undefined, stored: undefined, hasFile: true };
  it('waits for the cut before anything else', () => {
    const queued = sending(1, null);
    expect(goingOf({ ...known, here: here({ isHeld: true }), queued })).toEqual({ kind: 'held' });
  });
  it('believes this browser’s queue before what the program said when the page was opened', () => {
    expect(goingOf({ ...known, queued: sending(5, 3), stored: stored({ state: 'expected' }) }).kind).toBe(
      'sending',
    );
  });
  it.each(['uploaded', 'preparing', 'ready'] as const)('is there when the program has it %s', (state) => {
    expect(goingOf({ ...known, hasFile: false, stored: stored({ state }) })).toEqual({ kind: 'stored' });
  });
  it('tells the program’s reason for a failed clip', () => {
    const going = goingOf({
      ...known,
      hasFile: false,
      stored: stored({ state: 'failed', fault: 'no-picture' }),
    });
    expect(going).toMatchObject({ kind: 'failed', canRetry: false });
    expect(going.kind === 'failed' && going.reason).toContain('no picture');
  });
  it('is on another device when nobody here has the file', () => {
    expect(goingOf({ ...known, hasFile: false, stored: stored({ state: 'uploading' }) })).toEqual({
      kind: 'elsewhere',
    });
  });
});

describe('all clips as one journey', () => {
  it('adds bytes and waiting times', () => {
    expect(togetherOf([sending(40, 10), sending(20, 20)])).toEqual({
      kind: 'sending',
      sentBytes: 60,
      totalBytes: 200,
      secondsLeft: 30,
      note: null,
    });
  });
  it('does not guess a time that one of them cannot tell', () => {
    expect(togetherOf([sending(40, 10), sending(0, null)])).toMatchObject({ secondsLeft: null });
  });
  it('shows a failure first, so that it is not overlooked behind a moving bar', () => {
    const failed: Going = { kind: 'failed', reason: 'No.', canRetry: false, needsFile: false };
    expect(togetherOf([sending(1, 1), failed])).toBe(failed);
  });
  it('is there only when all are', () => {
    expect(togetherOf([{ kind: 'stored' }, { kind: 'stored' }])).toEqual({ kind: 'stored' });
    expect(togetherOf([{ kind: 'stored' }, { kind: 'waiting' }])).toEqual({ kind: 'waiting' });
  });
  it('is nothing without clips', () => expect(togetherOf([])).toBeNull());
});

describe('an entry of the queue', () => {
  const entry: UploadEntry = {
    clipId: 'c',
    lessonId: 'l',
    fileName: 'swing.mov',
    sizeBytes: 100,
    state: 'uploading',
    sentBytes: 40,
    bytesPerSecond: 10,
    secondsLeft: 6,
    fault: null,
    sentence: null,
    canRetry: false,
    safetyCopy: 'kept',
    rateHint: null,
  };
  it('warns while the browser has no room for a copy', () => {
    expect(goingOfEntry(entry)).toMatchObject({ kind: 'sending', note: null });
    expect(goingOfEntry({ ...entry, safetyCopy: 'full' })).toMatchObject({
      note: expect.stringContaining('open'),
    });
  });
  it('asks for the file again when the phone took it back', () => {
    const gone = goingOfEntry({
      ...entry,
      state: 'failed',
      fault: 'file-gone',
      sentence: 'Gone.',
      canRetry: true,
    });
    expect(gone).toEqual({ kind: 'failed', reason: 'Gone.', canRetry: true, needsFile: true });
  });
});
