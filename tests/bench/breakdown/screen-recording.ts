import type { Stand } from './stand';

export const FRAMES_PER_SECOND = 30;

/** A recording, and when its recorder was started, in milliseconds of `performance.now()`. */
export interface ScreenRecording {
  readonly blob: Blob;
  readonly startedAt: number;
}

/**
 * The stage as one picture a display frame, in the device pixels in which it is drawn and replayed, recorded with the
 * microphone, as a screen recorder of a page does it. `onPicture` sees each picture when it was drawn.
 */
export const recordScreen = async (
  { stage }: Stand,
  videoBitsPerSecond: number,
  work: () => Promise<void>,
  onPicture?: (ctx: CanvasRenderingContext2D) => void,
): Promise<ScreenRecording> => {
  const layers = [...stage.querySelectorAll('canvas')];
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(...layers.map((layer) => layer.width));
  canvas.height = Math.max(...layers.map((layer) => layer.height));
  const ctx = canvas.getContext('2d', { alpha: false, willReadFrequently: onPicture !== undefined });
  if (!ctx) throw new Error('No canvas.');
  let isOn = true;
  // In a turn of its own after those that paint the layers before this display frame.
  const after = new MessageChannel();
  after.port1.onmessage = () => {
    for (const layer of layers) ctx.drawImage(layer, 0, 0, canvas.width, canvas.height);
    onPicture?.(ctx);
    if (isOn) requestAnimationFrame(next);
    else after.port1.close();
  };
  const next = () => after.port2.postMessage(null);
  next();
  const microphone = await navigator.mediaDevices.getUserMedia({ audio: true });
  const stream = canvas.captureStream(FRAMES_PER_SECOND);
  for (const track of microphone.getAudioTracks()) stream.addTrack(track);
  const recorder = new MediaRecorder(stream, {
    mimeType: 'video/webm;codecs=vp8,opus',
    videoBitsPerSecond,
    audioBitsPerSecond: 24_000,
  });
  const parts: Blob[] = [];
  recorder.addEventListener('dataavailable', ({ data }) => parts.push(data));
  const startedAt = performance.now();
  recorder.start(1000);
  await work();
  const stopped = new Promise((resolve) => recorder.addEventListener('stop', resolve, { once: true }));
  recorder.stop();
  await stopped;
  isOn = false;
  for (const track of [...stream.getTracks(), ...microphone.getTracks()]) track.stop();
  return { blob: new Blob(parts, { type: 'video/webm' }), startedAt };
};
