import { ALL_FORMATS, BlobSource, Input, VideoSampleSink } from 'mediabunny';
import { COUNTER_AREA } from '../frames/phone-clips';
import { readCounter } from '../../support/media/counter';
import type { Stand } from './stand';

const FRAMES_PER_SECOND = 30;

/** The stage as one picture a display frame, recorded with the microphone, as a screen recorder of a page does it. */
export const recordScreen = async (
  stand: Stand,
  videoBitsPerSecond: number,
  work: () => Promise<void>,
): Promise<{ blob: Blob; shown: (number | null)[] }> => {
  const { stage, player } = stand;
  const canvas = document.createElement('canvas');
  canvas.width = stage.clientWidth;
  canvas.height = stage.clientHeight;
  const ctx = canvas.getContext('2d', { alpha: false });
  if (!ctx) throw new Error('No canvas.');
  let isOn = true;
  const draw = () => {
    for (const layer of stage.querySelectorAll('canvas'))
      ctx.drawImage(layer, 0, 0, canvas.width, canvas.height);
    if (isOn) requestAnimationFrame(draw);
  };
  draw();
  const microphone = await navigator.mediaDevices.getUserMedia({ audio: true });
  const stream = canvas.captureStream(FRAMES_PER_SECOND);
  for (const track of microphone.getAudioTracks()) stream.addTrack(track);
  const recorder = new MediaRecorder(stream, {
    mimeType: 'video/webm;codecs=vp8,opus',
    videoBitsPerSecond,
    audioBitsPerSecond: 24_000,
  });
  const parts: Blob[] = [];
  const shown: (number | null)[] = [];
  const stop = player.subscribe(() => shown.push(player.getSnapshot().shownFrame));
  recorder.addEventListener('dataavailable', ({ data }) => parts.push(data));
  recorder.start(1000);
  await work();
  const stopped = new Promise((resolve) => recorder.addEventListener('stop', resolve, { once: true }));
  recorder.stop();
  await stopped;
  stop();
  isOn = false;
  for (const track of [...stream.getTracks(), ...microphone.getTracks()]) track.stop();
  return { blob: new Blob(parts, { type: 'video/webm' }), shown };
};

/** Luma of a picture, one byte a pixel. */
const lumaOf = ({ data }: ImageData): Float32Array => {
  const luma = new Float32Array(data.length / 4);
  for (let at = 0; at < luma.length; at += 1)
    luma[at] =
      0.299 * (data[at * 4] ?? 0) + 0.587 * (data[at * 4 + 1] ?? 0) + 0.114 * (data[at * 4 + 2] ?? 0);
  return luma;
};

/** Peak signal to noise ratio of two pictures of one size, in decibels. */
export const psnr = (a: ImageData, b: ImageData): number => {
  const [one, other] = [lumaOf(a), lumaOf(b)];
  let sum = 0;
  for (let at = 0; at < one.length; at += 1) sum += ((one[at] ?? 0) - (other[at] ?? 0)) ** 2;
  return sum === 0 ? 99 : 10 * Math.log10((255 * 255 * one.length) / sum);
};

/**
 * How well a recording shows one frame that was held for a moment: of all its pictures the one that comes nearest to
 * the true one, in decibels, and whether the number in it can be read.
 */
export const legibility = async (
  blob: Blob,
  truth: ImageBitmap,
): Promise<{ db: number; number: number | null }> => {
  const canvas = document.createElement('canvas');
  canvas.width = truth.width;
  canvas.height = truth.height;
  const ctx = canvas.getContext('2d', { willReadFrequently: true });
  if (!ctx) throw new Error('No canvas.');
  const pixels = () => ctx.getImageData(0, 0, canvas.width, canvas.height);
  ctx.drawImage(truth, 0, 0);
  const real = pixels();
  const input = new Input({ source: new BlobSource(blob), formats: ALL_FORMATS });
  const track = await input.getPrimaryVideoTrack();
  if (!track) throw new Error('The recording has no picture.');
  let best: { db: number; number: number | null } = { db: -Infinity, number: null };
  for await (const sample of new VideoSampleSink(track).samples()) {
    sample.draw(ctx, 0, 0, canvas.width, canvas.height);
    sample.close();
    const now = pixels();
    const db = psnr(now, real);
    if (db > best.db) best = { db, number: readCounter(now, COUNTER_AREA) };
  }
  input.dispose();
  return best;
};
