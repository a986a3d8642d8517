import { FilterGraph, FFmpegError, Frame, type FilterContext } from 'node-av/lib';
import { AV_BUFFERSRC_FLAG_KEEP_REF, AVERROR_EAGAIN, AVERROR_EOF } from 'node-av/constants';

/** Frames go in at one end and come out changed at the other. Owner of native memory: `close` it. */
export interface Graph {
  /** Gives a frame in (null: there are no more; the frame stays the caller's) and hands each frame that comes out to `take`, who must not keep it. */
  push(frame: Frame | null, take: (frame: Frame) => void): void;
  close(): void;
}

/**
 * Builds a chain of filters in the engine's own notation. `source` is the argument of the `buffer` or `abuffer`
 * filter that describes what will be pushed. Throws when the chain cannot be built.
 */
export function openGraph(kind: 'video' | 'audio', source: string, chain: string): Graph {
  const prefix = kind === 'video' ? '' : 'a';
  const graph = new FilterGraph();
  graph.alloc();
  // One thread a filter: the box has few cores and the encoder needs them.
  graph.nbThreads = 1;
  const out = new Frame();
  out.alloc();
  const close = () => {
    out.free();
    graph.free();
  };
  let input: FilterContext | null;
  let output: FilterContext | null;
  try {
    FFmpegError.throwIfError(
      graph.parsePtr(`${prefix}buffer@in=${source},${chain},${prefix}buffersink@out`),
      `parse the filters ${source},${chain}`,
    );
    FFmpegError.throwIfError(graph.configSync(), 'join the filters');
    input = graph.getFilter(`${prefix}buffer@in`);
    output = graph.getFilter(`${prefix}buffersink@out`);
    if (!input || !output) throw new Error('The filter chain has no ends.');
  } catch (error) {
    close();
    throw error;
  }
  const [first, last] = [input, output];
  return {
    push(frame, take) {
      FFmpegError.throwIfError(
        first.buffersrcAddFrameSync(frame, AV_BUFFERSRC_FLAG_KEEP_REF),
        'filter a frame',
      );
      for (;;) {
        const answer = last.buffersinkGetFrameSync(out);
        if (answer === AVERROR_EAGAIN || answer === AVERROR_EOF) return;
        FFmpegError.throwIfError(answer, 'take a filtered frame');
        try {
          take(out);
        } finally {
          out.unref();
        }
      }
    },
    close,
  };
}
