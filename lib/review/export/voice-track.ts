import {
  ALL_FORMATS,
  AudioSampleSink,
  AudioSampleSource,
  type AudioSource,
  BlobSource,
  canEncodeAudio,
  EncodedAudioPacketSource,
  EncodedPacketSink,
  Input,
  type InputAudioTrack,
  Quality,
} from 'mediabunny';
import { CagepostError } from '@/lib/domain/shared/errors';

/** Plenty for one voice. */
const AAC_BITS = 64_000;

export interface VoiceTrack {
  readonly source: AudioSource;
  /** Puts the voice into the file up to `untilMs`. */
  write(untilMs: number, signal?: AbortSignal): Promise<void>;
  dispose(): void;
}

/**
 * A recorded voice as an AAC track of an MP4: copied when it is AAC already, encoded where the browser can, else
 * `asAac` is asked for the same voice as AAC. Rejects with a CagepostError when none of it works.
 */
export async function openVoiceTrack(
  voice: Blob,
  asAac?: (signal?: AbortSignal) => Promise<Blob>,
  signal?: AbortSignal,
): Promise<VoiceTrack> {
  const own = await openVoice(voice);
  if (own.track.codec === 'aac') return copied(own);
  const isDecodable = await own.track.canDecode();
  const { numberOfChannels, sampleRate } = own.track;
  const quality = new Quality({ bitrate: AAC_BITS });
  if (isDecodable && (await canEncodeAudio('aac', { numberOfChannels, sampleRate, quality })))
    return encoded(own, quality);
  own.input.dispose();
  if (!asAac)
    throw new CagepostError(
      'unsupported',
      'This browser cannot write the sound of such a file. The program can make the file instead.',
    );
  return copied(await openVoice(await asAac(signal)));
}

interface OpenVoice {
  input: Input;
  track: InputAudioTrack;
}

async function openVoice(voice: Blob): Promise<OpenVoice> {
  const input = new Input({ source: new BlobSource(voice), formats: ALL_FORMATS });
  const track = await input.getPrimaryAudioTrack().catch(() => null);
  if (track) return { input, track };
  input.dispose();
  throw new CagepostError(
    'invalid',
    'The voice of this breakdown could not be read, so no file was made. The breakdown itself is as it was.',
  );
}

const copied = ({ input, track }: OpenVoice): VoiceTrack => {
  const source = new EncodedAudioPacketSource('aac');
  return {
    source,
    write: async (untilMs, signal) => {
      const decoderConfig = (await track.getDecoderConfig()) ?? undefined;
      for await (const packet of new EncodedPacketSink(track).packets()) {
        signal?.throwIfAborted();
        // Before 0 lies what the encoder needed to start up; it is not heard.
        if (packet.timestamp < 0) continue;
        if (packet.timestamp * 1000 >= untilMs) break;
        await source.add(packet, { decoderConfig });
      }
      source.close();
    },
    dispose: () => input.dispose(),
  };
};

const encoded = ({ input, track }: OpenVoice, quality: Quality): VoiceTrack => {
  const source = new AudioSampleSource({ codec: 'aac', quality });
  return {
    source,
    write: async (untilMs, signal) => {
      for await (const sample of new AudioSampleSink(track).samples(0, untilMs / 1000)) {
        try {
          signal?.throwIfAborted();
          if (sample.timestamp < 0) sample.setTimestamp(0);
          await source.add(sample);
        } finally {
          sample.close();
        }
      }
      source.close();
    },
    dispose: () => input.dispose(),
  };
};
