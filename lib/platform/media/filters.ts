import {
  AVCOL_SPC_UNSPECIFIED,
  AVCOL_TRC_ARIB_STD_B67,
  AVCOL_TRC_SMPTE2084,
  type AVColorTransferCharacteristic,
} from 'node-av/constants';
import type { Frame } from 'node-av/lib';

const HDR_CURVES = new Map<AVColorTransferCharacteristic, string>([
  [AVCOL_TRC_ARIB_STD_B67, 'arib-std-b67'],
  [AVCOL_TRC_SMPTE2084, 'smpte2084'],
]);

// 203 cd/m2 is the reference white of HDR (ITU-R BT.2408); Hable's curve keeps highlights of a sunlit field apart.
const TONE_MAP =
  'zscale=t=linear:npl=203,format=gbrpf32le,zscale=p=bt709,tonemap=tonemap=hable:desat=0,' +
  'zscale=t=bt709:m=bt709:r=tv,format=yuv420p';

export interface Shape {
  /** Size of the rendition. */
  width: number;
  height: number;
  uprightFilters: readonly string[];
  isQuarterTurn: boolean;
}

/** What has to be equal for two frames to go through the same graph. */
export const frameKind = (frame: Frame): string =>
  [frame.width, frame.height, frame.format, frame.colorSpace, frame.colorRange, frame.colorTrc].join(' ');

/** The argument of the graph's source for frames like this one. */
export const pictureSource = (frame: Frame, timeBase: { num: number; den: number }): string =>
  `video_size=${frame.width}x${frame.height}:pix_fmt=${frame.format}:time_base=${timeBase.num}/${timeBase.den}` +
  `:pixel_aspect=1/1:colorspace=${frame.colorSpace}:range=${frame.colorRange}`;

/** Filters from a decoded frame to one of the rendition: scaled first (cheapest), then tone-mapped, then turned upright. */
export function pictureChain(frame: Frame, shape: Shape): string {
  const [width, height] = shape.isQuarterTurn ? [shape.height, shape.width] : [shape.width, shape.height];
  const curve = HDR_CURVES.get(frame.colorTrc);
  const scale = `scale=w=${width}:h=${height}:flags=bicubic`;
  // Untagged pictures are BT.709 from HD upwards and BT.601 below, as players take them (common practice).
  const matrix = frame.colorSpace === AVCOL_SPC_UNSPECIFIED && frame.height >= 720 ? 'bt709' : 'auto';
  const colours = curve
    ? [scale, `setparams=color_primaries=bt2020:color_trc=${curve}:colorspace=bt2020nc`, TONE_MAP]
    : [`${scale}:in_color_matrix=${matrix}:out_color_matrix=bt709:out_range=limited`, 'format=yuv420p'];
  return [
    ...colours,
    ...shape.uprightFilters,
    'setsar=1',
    'setparams=range=limited:color_primaries=bt709:color_trc=bt709:colorspace=bt709',
  ].join(',');
}

/** Filters from any decoded sound to what the rendition carries: mono, gaps filled, beginning with the first picture. */
export const SOUND_CHAIN =
  'aresample=48000:async=1:first_pts=0,aformat=sample_fmts=fltp:sample_rates=48000:channel_layouts=mono,' +
  'asetnsamples=n=1024:p=0';
