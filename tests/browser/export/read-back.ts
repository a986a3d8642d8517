import { ALL_FORMATS, BlobSource, EncodedPacketSink, Input, VideoSampleSink } from 'mediabunny';

/** One picture of a finished file: when it begins, how long it lasts (milliseconds) and its pixels. */
export interface FilePicture {
  atMs: number;
  lastsMs: number;
  canvas: HTMLCanvasElement;
}

/** Everything a finished MP4 says about itself, read by the library's own reader. */
export async function readBack(file: Blob) {
  const input = new Input({ source: new BlobSource(file), formats: ALL_FORMATS });
  const video = (await input.getPrimaryVideoTrack())!;
  const audio = await input.getPrimaryAudioTrack();
  const pictures: FilePicture[] = [];
  for await (const sample of new VideoSampleSink(video).samples()) {
    const canvas = document.createElement('canvas');
    canvas.width = sample.displayWidth;
    canvas.height = sample.displayHeight;
    sample.draw(canvas.getContext('2d', { willReadFrequently: true })!, 0, 0);
    pictures.push({
      atMs: Math.round(sample.timestamp * 1000),
      lastsMs: Math.round(sample.duration * 1000),
      canvas,
    });
    sample.close();
  }
  let soundPackets = 0;
  if (audio) for await (const _packet of new EncodedPacketSink(audio).packets()) soundPackets += 1;
  const facts = {
    videoCodec: video.codec,
    audioCodec: audio?.codec ?? null,
    soundPackets,
    durationMs: Math.round((await input.computeDuration()) * 1000),
    soundMs: audio ? Math.round((await audio.computeDuration()) * 1000) : 0,
    pictures,
  };
  input.dispose();
  return facts;
}

/** The picture that a player would show at a moment. */
export const pictureAt = (pictures: readonly FilePicture[], ms: number) =>
  pictures.findLast((picture) => picture.atMs <= ms)!;

/** The colour at a place, in fractions of the picture. */
export function colourAt({ canvas }: FilePicture, x: number, y: number): [number, number, number] {
  const context = canvas.getContext('2d')!;
  const { data } = context.getImageData(
    Math.round(x * (canvas.width - 1)),
    Math.round(y * (canvas.height - 1)),
    1,
    1,
  );
  return [data[0]!, data[1]!, data[2]!];
}
