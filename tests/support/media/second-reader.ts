import { ALL_FORMATS, EncodedPacketSink, FilePathSource, Input } from 'mediabunny';

/** What another library than the engine reads in a media file: the outside check of what the engine wrote. */
export async function readWithSecondLibrary(path: string) {
  const input = new Input({ formats: ALL_FORMATS, source: new FilePathSource(path) });
  try {
    const video = await input.getPrimaryVideoTrack();
    const audio = await input.getPrimaryAudioTrack();
    if (!video) throw new Error('no picture');
    const sink = new EncodedPacketSink(video);
    const packets: { seconds: number; isKey: boolean }[] = [];
    for await (const packet of sink.packets(undefined, undefined, { metadataOnly: true }))
      packets.push({ seconds: packet.timestamp, isKey: packet.type === 'key' });
    return {
      codec: video.codec,
      rotation: video.rotation,
      width: video.displayWidth,
      height: video.displayHeight,
      packets,
      soundCodec: audio?.codec ?? null,
      soundChannels: audio?.numberOfChannels ?? 0,
      tags: await input.getMetadataTags(),
    };
  } finally {
    input.dispose();
  }
}
