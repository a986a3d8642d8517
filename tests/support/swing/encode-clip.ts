import { createCanvas, loadImage } from '@napi-rs/canvas';
import {
  BufferTarget,
  EncodedAudioPacketSource,
  EncodedPacket,
  EncodedVideoPacketSource,
  MovOutputFormat,
  Mp4OutputFormat,
  Output,
} from 'mediabunny';
import { Encoder, FilterAPI } from 'node-av/api';
import {
  AV_CHANNEL_ORDER_NATIVE,
  AV_PIX_FMT_RGBA,
  AV_SAMPLE_FMT_FLTP,
  FF_ENCODER_AAC,
  FF_ENCODER_LIBX264,
} from 'node-av/constants';
import { Frame, Rational, type Packet } from 'node-av/lib';
import { stampOf, frameCount, type DemoClip } from './demo-clips';
import { swingSound, SOUND_RATE } from './swing-sound';

const MICROSECONDS = { num: 1, den: 1_000_000 };
/** AudioSpecificConfig of AAC-LC, 48,000 Hz, one channel (ISO/IEC 14496-3, 1.6.2.1). */
const AAC_CONFIG = new Uint8Array([0x11, 0x88]);

/** Takes the pictures of a clip one by one in display order and gives the file a phone would have written. */
export class ClipEncoder {
  private encoder: Encoder | undefined;
  private readonly filter: FilterAPI;
  private readonly packets: Packet[] = [];
  private next = 0;

  constructor(
    private readonly clip: DemoClip,
    private readonly quality: number,
  ) {
    this.filter = FilterAPI.create('scale=out_color_matrix=bt709:out_range=tv,format=yuv420p', {
      threads: 1,
    });
  }

  async add(jpeg: Buffer): Promise<void> {
    const { width, height } = this.clip.camera;
    const picture = await loadImage(jpeg);
    const [w, h] = this.clip.turned === 90 ? [height, width] : [width, height];
    const canvas = createCanvas(w, h);
    const g = canvas.getContext('2d');
    if (this.clip.turned === 90) {
      // Shown turned clockwise by 90 degrees, so stored turned back.
      g.translate(0, h);
      g.rotate(-Math.PI / 2);
    }
    g.drawImage(picture, 0, 0);
    const frame = Frame.fromVideoBuffer(Buffer.from(g.getImageData(0, 0, w, h).data.buffer), {
      width: w,
      height: h,
      format: AV_PIX_FMT_RGBA,
      timeBase: MICROSECONDS,
      pts: BigInt(stampOf(this.clip, this.next)),
    });
    this.next += 1;
    this.encoder ??= await Encoder.create(FF_ENCODER_LIBX264, {
      gopSize: this.clip.longGroups ? 90 : 30,
      maxBFrames: this.clip.longGroups ? 2 : 0,
      threadCount: 1,
      context: { framerate: new Rational(this.clip.fileRate, 1) },
      options: { preset: 'medium', crf: this.quality },
    });
    for (const ready of await this.filter.processAll(frame)) {
      this.packets.push(...(await this.encoder.encodeAll(ready)));
      ready.free();
    }
    frame.free();
  }

  /** The finished file. Fails when a picture was lost on the way. */
  async finish(): Promise<Uint8Array> {
    if (!this.encoder) throw new Error(`${this.clip.name} has no pictures.`);
    await this.encoder.flush();
    for await (const packet of this.encoder.packets(null)) if (packet) this.packets.push(packet);
    if (this.packets.length !== frameCount(this.clip)) {
      throw new Error(`${this.clip.name}: ${this.packets.length} pictures of ${frameCount(this.clip)}.`);
    }
    const target = new BufferTarget();
    const output = new Output({
      format:
        this.clip.container === 'mov'
          ? new MovOutputFormat()
          : new Mp4OutputFormat({ fastStart: 'in-memory' }),
      target,
    });
    const video = new EncodedVideoPacketSource('avc');
    output.addVideoTrack(video, { rotation: this.clip.turned });
    const audio = this.clip.sound ? new EncodedAudioPacketSource('aac') : null;
    if (audio) output.addAudioTrack(audio);
    await output.start();
    await this.writePictures(video);
    if (audio) await writeSound(audio, this.clip);
    await output.finalize();
    if (!target.buffer) throw new Error(`${this.clip.name} was not written.`);
    return new Uint8Array(target.buffer);
  }

  private async writePictures(video: EncodedVideoPacketSource): Promise<void> {
    const stored =
      this.clip.turned === 90
        ? { codedWidth: this.clip.camera.height, codedHeight: this.clip.camera.width }
        : { codedWidth: this.clip.camera.width, codedHeight: this.clip.camera.height };
    const colorSpace = { primaries: 'bt709', transfer: 'bt709', matrix: 'bt709', fullRange: false } as const;
    const decoderConfig = { codec: 'avc1.640028', ...stored, colorSpace };
    const last = frameCount(this.clip) - 1;
    for (const packet of this.packets) {
      const stamp = Number(packet.pts);
      const index = this.stamps().indexOf(stamp);
      const until =
        index < last ? stampOf(this.clip, index + 1) : stamp + Math.round(1e6 / this.clip.fileRate);
      const encoded = new EncodedPacket(
        new Uint8Array(packet.data ?? []),
        packet.isKeyframe ? 'key' : 'delta',
        stamp / 1e6,
        (until - stamp) / 1e6,
      );
      await video.add(encoded, { decoderConfig });
      packet.free();
    }
  }

  private stamps(): number[] {
    return Array.from({ length: frameCount(this.clip) }, (_, i) => stampOf(this.clip, i));
  }
}

async function writeSound(audio: EncodedAudioPacketSource, clip: DemoClip): Promise<void> {
  const samples = swingSound(clip);
  const encoder = await Encoder.create(FF_ENCODER_AAC, { context: { bitRate: 64_000 } });
  const packets: Packet[] = [];
  for (let at = 0; at + 1024 <= samples.length; at += 1024) {
    const part = samples.slice(at, at + 1024);
    const frame = Frame.fromAudioBuffer(Buffer.from(part.buffer), {
      nbSamples: 1024,
      format: AV_SAMPLE_FMT_FLTP,
      sampleRate: SOUND_RATE,
      channelLayout: { nbChannels: 1, order: AV_CHANNEL_ORDER_NATIVE, mask: 4n },
      timeBase: { num: 1, den: SOUND_RATE },
      pts: BigInt(at),
    });
    packets.push(...(await encoder.encodeAll(frame)));
    frame.free();
  }
  await encoder.flush();
  for await (const packet of encoder.packets(null)) if (packet) packets.push(packet);
  const decoderConfig = {
    codec: 'mp4a.40.2',
    sampleRate: SOUND_RATE,
    numberOfChannels: 1,
    description: AAC_CONFIG,
  };
  for (const packet of packets) {
    const at = Number(packet.pts) / SOUND_RATE;
    // The encoder's lead-in falls before the first picture.
    if (at < 0) continue;
    await audio.add(new EncodedPacket(new Uint8Array(packet.data ?? []), 'key', at, 1024 / SOUND_RATE), {
      decoderConfig,
    });
    packet.free();
  }
}
