import {
  EncodedAudioPacketSource,
  EncodedPacketSink,
  EncodedVideoPacketSource,
  FilePathSource,
  FilePathTarget,
  Input,
  MP4,
  Mp4OutputFormat,
  Output,
  TextSubtitleSource,
} from 'mediabunny';
import { MediaFault } from './media-fault';

/** Copies an MP4 of ours packet by packet and adds a track of captions (WebVTT in ISO/IEC 14496-30). */
export async function addCaptionTrack(from: string, to: string, vtt: string): Promise<void> {
  const input = new Input({ source: new FilePathSource(from), formats: [MP4] });
  const video = await input.getPrimaryVideoTrack();
  const audio = await input.getPrimaryAudioTrack();
  if (!video?.codec) throw new MediaFault('unreadable', 'the film has no pictures');
  const output = new Output({
    format: new Mp4OutputFormat({ fastStart: 'in-memory' }),
    target: new FilePathTarget(to),
  });
  const pictures = new EncodedVideoPacketSource(video.codec);
  output.addVideoTrack(pictures);
  const sound = audio?.codec ? new EncodedAudioPacketSource(audio.codec) : null;
  if (sound) output.addAudioTrack(sound);
  const words = new TextSubtitleSource('webvtt');
  output.addSubtitleTrack(words, { languageCode: 'und' });
  await output.start();
  await words.add(vtt);
  words.close();
  const videoConfig = await video.getDecoderConfig();
  const copyPictures = async () => {
    for await (const packet of new EncodedPacketSink(video).packets())
      await pictures.add(packet, videoConfig ? { decoderConfig: videoConfig } : undefined);
    pictures.close();
  };
  const copySound = async () => {
    if (!sound || !audio) return;
    const config = await audio.getDecoderConfig();
    for await (const packet of new EncodedPacketSink(audio).packets())
      await sound.add(packet, config ? { decoderConfig: config } : undefined);
    sound.close();
  };
  await Promise.all([copyPictures(), copySound()]);
  await output.finalize();
}
