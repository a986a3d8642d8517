import type { Stand } from './stand';

/** What a recorder of a page asks for where nobody says otherwise. */
const LIVE_FRAMES_PER_SECOND = 30;

/**
 * The stage as one picture a display frame, in the device pixels in which it is drawn and replayed. `onPicture` sees
 * each when it was drawn.
 */
export const composite = (
  { stage }: Stand,
  onPicture?: (ctx: CanvasRenderingContext2D) => void,
): { canvas: HTMLCanvasElement; stop: () => void } => {
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
    if (!isOn) return after.port1.close();
    for (const layer of layers) ctx.drawImage(layer, 0, 0, canvas.width, canvas.height);
    onPicture?.(ctx);
    requestAnimationFrame(next);
  };
  const next = () => after.port2.postMessage(null);
  next();
  const stop = () => {
    isOn = false;
  };
  return { canvas, stop };
};

/** The stage recorded live with the microphone, as a screen recorder of a page does it. Answers its bytes. */
export const recordScreen = async (
  stand: Stand,
  videoBitsPerSecond: number,
  work: () => Promise<void>,
): Promise<number> => {
  const screen = composite(stand);
  const microphone = await navigator.mediaDevices.getUserMedia({ audio: true });
  const stream = screen.canvas.captureStream(LIVE_FRAMES_PER_SECOND);
  for (const track of microphone.getAudioTracks()) stream.addTrack(track);
  const recorder = new MediaRecorder(stream, {
    mimeType: 'video/webm;codecs=vp8,opus',
    videoBitsPerSecond,
    audioBitsPerSecond: 24_000,
  });
  let bytes = 0;
  recorder.addEventListener('dataavailable', ({ data }) => {
    bytes += data.size;
  });
  recorder.start(1000);
  await work();
  const stopped = new Promise((resolve) => recorder.addEventListener('stop', resolve, { once: true }));
  recorder.stop();
  await stopped;
  screen.stop();
  for (const track of [...stream.getTracks(), ...microphone.getTracks()]) track.stop();
  return bytes;
};
