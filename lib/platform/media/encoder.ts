import { AV_CODEC_FLAG_GLOBAL_HEADER, AV_OPT_SEARCH_CHILDREN, AV_OPT_TYPE_STRING } from 'node-av/constants';
import { Codec, CodecContext, FFmpegError } from 'node-av/lib';

const ok = (code: number, what: string) => FFmpegError.throwIfError(code, what);

type EncoderName = Parameters<typeof Codec.findEncoderByName>[0];

/** Opens an encoder by the engine's name for it, with these options. Throws when this engine has none. */
export function openEncoder(
  name: string,
  set: (encoder: CodecContext) => void,
  options: Record<string, string>,
) {
  const codec = Codec.findEncoderByName(name as EncoderName);
  if (!codec) throw new Error(`this engine lacks ${name}`);
  const encoder = new CodecContext();
  encoder.allocContext3(codec);
  try {
    set(encoder);
    encoder.setFlags(AV_CODEC_FLAG_GLOBAL_HEADER);
    // One by one and not as a dictionary for `open2Sync`: node-av 6.1.1 frees that twice.
    for (const [key, value] of Object.entries(options))
      ok(encoder.setOption(key, value, AV_OPT_TYPE_STRING, AV_OPT_SEARCH_CHILDREN), `set ${key}`);
    ok(encoder.open2Sync(codec, null), `open ${name}`);
    return encoder;
  } catch (error) {
    encoder.freeContext();
    throw error;
  }
}
