import {
  AV_CODEC_FLAG_QSCALE,
  AV_PIX_FMT_RGB24,
  AV_PIX_FMT_YUVJ420P,
  AVCOL_RANGE_JPEG,
} from 'node-av/constants';
import { Codec, CodecContext, FFmpegError, Frame, Packet, Rational } from 'node-av/lib';
import { spreadFrames, type Strip } from '@/lib/domain/clips/strip';
import { openGraph, type Graph } from './filter-graph';

const TILES_AT_MOST = 40;
const COLUMNS = 10;
const TILE_LONG_SIDE = 160;
/** The engine's quality scale of JPEG: 2 is best, 31 worst. */
const JPEG_SCALE = 4;

const sourceOf = (frame: Frame) =>
  `video_size=${frame.width}x${frame.height}:pix_fmt=${frame.format}:time_base=1/1:pixel_aspect=1/1` +
  `:colorspace=${frame.colorSpace}:range=${frame.colorRange}`;

function encodeJpeg(frame: Frame): Buffer {
  const codec = Codec.findEncoderByName('mjpeg' as Parameters<typeof Codec.findEncoderByName>[0]);
  if (!codec) throw new Error('this engine lacks JPEG');
  const encoder = new CodecContext();
  const packet = new Packet();
  packet.alloc();
  let graph: Graph | undefined;
  try {
    encoder.allocContext3(codec);
    encoder.width = frame.width;
    encoder.height = frame.height;
    encoder.pixelFormat = AV_PIX_FMT_YUVJ420P;
    encoder.colorRange = AVCOL_RANGE_JPEG;
    encoder.timeBase = new Rational(1, 1);
    encoder.setFlags(AV_CODEC_FLAG_QSCALE);
    encoder.globalQuality = JPEG_SCALE * 118;
    FFmpegError.throwIfError(encoder.open2Sync(codec, null), 'open JPEG');
    graph = openGraph(
      'video',
      sourceOf(frame),
      'scale=out_range=full:out_color_matrix=bt601,format=yuvj420p',
    );
    graph.push(frame, (full) => {
      full.quality = JPEG_SCALE * 118;
      FFmpegError.throwIfError(encoder.sendFrameSync(full), 'encode JPEG');
    });
    encoder.sendFrameSync(null);
    FFmpegError.throwIfError(encoder.receivePacketSync(packet), 'take JPEG');
    return Buffer.from(packet.data ?? []);
  } finally {
    graph?.close();
    packet.free();
    encoder.freeContext();
  }
}

export interface StillPictures {
  /** Shows a frame of the rendition to the collector, in display order. */
  see(index: number, frame: Frame): void;
  /** The poster (the middle frame), and the strip with its geometry. */
  finish(): { poster: Buffer; strip: Buffer; geometry: Strip };
  close(): void;
}

/** Collects the poster and the tiles of the strip while the rendition of `expected` frames is made. */
export function collectStills(expected: number, width: number, height: number): StillPictures {
  const wanted = new Set(spreadFrames(expected, TILES_AT_MOST));
  const posterIndex = Math.floor(expected / 2);
  const scale = Math.min(1, TILE_LONG_SIDE / Math.max(width, height));
  const side = (pixels: number) => Math.max(2, Math.round((pixels * scale) / 2) * 2);
  const tileWidth = side(width);
  const tileHeight = side(height);
  const tiles: { frame: number; pixels: Buffer }[] = [];
  let poster: Buffer | undefined;
  let graph: Graph | undefined;

  return {
    see(index, frame) {
      if (index === posterIndex || index === 0) poster = encodeJpeg(frame);
      if (!wanted.has(index)) return;
      graph ??= openGraph(
        'video',
        sourceOf(frame),
        `scale=w=${tileWidth}:h=${tileHeight}:flags=area,format=rgb24`,
      );
      graph.push(frame, (tile) => tiles.push({ frame: index, pixels: tile.toBuffer() }));
    },
    finish() {
      if (!poster || tiles.length === 0) throw new Error('no frame was seen');
      const cols = Math.min(COLUMNS, tiles.length);
      const rows = Math.ceil(tiles.length / cols);
      const sheet = Buffer.alloc(cols * tileWidth * rows * tileHeight * 3);
      const rowBytes = tileWidth * 3;
      tiles.forEach(({ pixels }, place) => {
        const left = (place % cols) * rowBytes;
        const top = Math.floor(place / cols) * tileHeight;
        for (let y = 0; y < tileHeight; y++)
          pixels.copy(sheet, (top + y) * cols * rowBytes + left, y * rowBytes, (y + 1) * rowBytes);
      });
      const frame = Frame.fromVideoBuffer(sheet, {
        width: cols * tileWidth,
        height: rows * tileHeight,
        format: AV_PIX_FMT_RGB24,
        pts: 0n,
      });
      try {
        return {
          poster,
          strip: encodeJpeg(frame),
          geometry: {
            version: 1,
            cols,
            rows,
            tileWidth,
            tileHeight,
            frames: tiles.map((tile) => tile.frame),
          },
        };
      } finally {
        frame.free();
      }
    },
    close: () => graph?.close(),
  };
}
