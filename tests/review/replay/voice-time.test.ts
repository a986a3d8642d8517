import { expect, test, vi } from 'vitest';
import { VoiceTime } from '@/lib/review/replay/voice-time';

/** An audio element whose place and clock are moved by hand. */
const handVoice = () => {
  let now = 0;
  const audio = Object.assign(new EventTarget(), {
    currentTime: 0,
    duration: 10,
    readyState: 4,
    HAVE_METADATA: 1,
    HAVE_FUTURE_DATA: 3,
    paused: true,
    ended: false,
    seeking: false,
    error: null as MediaError | null,
    playbackRate: 1,
    defaultPlaybackRate: 1,
    preservesPitch: false,
    play: () => {
      audio.paused = false;
      return Promise.resolve();
    },
    pause: () => {
      audio.paused = true;
    },
  });
  const events = { onReady: vi.fn(), onBroken: vi.fn(), onOutside: vi.fn() };
  const time = new VoiceTime(audio as unknown as HTMLAudioElement, { now: () => now }, 12_000, events);
  return { audio, time, events, pass: (ms: number) => (now += ms) };
};

test('is smooth between the places that a browser tells, and never far ahead of them', () => {
  const { audio, time, pass } = handVoice();
  void time.play();
  const told: number[] = [];
  // Told every 60 ms only, as some browsers do.
  for (let ms = 0; ms <= 480; ms += 10) {
    if (ms % 60 === 0) audio.currentTime = ms / 1000;
    told.push(time.now() - ms);
    pass(10);
  }
  expect(Math.max(...told.map(Math.abs))).toBeLessThan(1);
  // The sound stalls and says nothing: the guess stops soon.
  pass(5000);
  expect(time.now()).toBeLessThan(480 + 200);
});

test('does not go back for a hair’s breadth, but does for more', () => {
  const { audio, time, pass } = handVoice();
  void time.play();
  audio.currentTime = 1;
  time.now();
  pass(50);
  expect(time.now()).toBe(1050);
  audio.currentTime = 1.01;
  expect(time.now()).toBe(1050);
  audio.currentTime = 0.5;
  expect(time.now()).toBe(500);
});

test('runs at the speed it was told, and stands still while sound is not there', () => {
  const { audio, time, pass } = handVoice();
  time.setSpeed(2);
  void time.play();
  audio.currentTime = 1;
  time.now();
  pass(40);
  expect(time.now()).toBe(1080);
  audio.readyState = 2;
  expect(time.isWaiting()).toBe(true);
  pass(100);
  expect(time.now()).toBe(1000);
});

test('says where it was sent until it has arrived; the last of two sendings counts', () => {
  const { audio, time } = handVoice();
  audio.seeking = true;
  time.seek(4000);
  time.seek(7000);
  audio.currentTime = 4;
  audio.dispatchEvent(new Event('seeked'));
  expect(time.now()).toBe(7000);
  audio.currentTime = 7;
  audio.seeking = false;
  audio.dispatchEvent(new Event('seeked'));
  audio.currentTime = 7.02;
  expect(time.now()).toBe(7020);
});

test('goes on behind the end of the voice, and back into it', () => {
  const { audio, time, pass } = handVoice();
  void time.play();
  audio.currentTime = 10;
  audio.ended = true;
  audio.dispatchEvent(new Event('ended'));
  pass(700);
  expect(time.now()).toBe(10_700);
  pass(5000);
  expect(time.now()).toBe(12_000);
  time.seek(11_000);
  pass(100);
  expect(time.now()).toBe(11_100);
  audio.ended = false;
  time.seek(3000);
  expect(audio.currentTime).toBe(3);
  expect(audio.paused).toBe(false);
});
