import type { EncodedPacket, EncodedPacketSink } from 'mediabunny';
import type { FrameTable } from '@/lib/domain/clips/frame-table';
import { CagepostError } from '@/lib/domain/shared/errors';
import { nearestFrame } from './frame-lookup';

/** Decoders may hand a timestamp back rounded through another time base; frames are much further apart than this. */
const DECODER_ROUNDING_US = 20;

export interface IndexedPacket {
  /** Without its data. */
  packet: EncodedPacket;
  isKey: boolean;
  /** -1 for edit-list pre-roll: decoded, never shown. */
  display: number;
}

/** Every packet of a clip in decode order and the way between display index and decode position. */
export class PacketIndex {
  private readonly positionOf: number[];
  private readonly shownUs: number[];

  constructor(readonly packets: readonly IndexedPacket[]) {
    this.positionOf = [];
    this.shownUs = [];
    packets.forEach(({ display, packet }, position) => {
      if (display < 0) return;
      this.positionOf[display] = position;
      this.shownUs[display] = packet.microsecondTimestamp;
    });
  }

  /** Decode position of the frame with this display index. */
  position(display: number): number {
    return this.positionOf[display] ?? 0;
  }

  /**
   * Where decoding must start to get this frame: the last key packet decoded before it that is also shown before
   * it. The second half matters for open groups, whose leading frames need the group before.
   */
  startFor(display: number): number {
    const wanted = this.shownUs[display] ?? 0;
    for (let at = this.position(display); at > 0; at--) {
      const packet = this.packets[at];
      if (packet?.isKey && packet.packet.microsecondTimestamp <= wanted) return at;
    }
    return 0;
  }

  /** Display index of a decoded timestamp, or -1 when it belongs to no shown frame. */
  displayOf(timestampUs: number): number {
    const display = nearestFrame(this.shownUs, timestampUs);
    return Math.abs((this.shownUs[display] ?? Infinity) - timestampUs) <= DECODER_ROUNDING_US ? display : -1;
  }

  get timestampsUs(): readonly number[] {
    return this.shownUs;
  }
}

/** Reads the whole index of a track without its picture data (for a faststart file that is its header only). */
export async function readPacketIndex(sink: EncodedPacketSink, signal?: AbortSignal): Promise<PacketIndex> {
  const packets: EncodedPacket[] = [];
  for await (const packet of sink.packets(undefined, undefined, { metadataOnly: true })) {
    signal?.throwIfAborted();
    packets.push(packet);
  }
  const shown = packets.filter((packet) => packet.microsecondTimestamp >= 0);
  shown.sort((a, b) => a.timestamp - b.timestamp);
  const display = new Map(shown.map((packet, index) => [packet, index]));
  return new PacketIndex(
    packets.map((packet) => ({ packet, isKey: packet.type === 'key', display: display.get(packet) ?? -1 })),
  );
}

/**
 * Refuses a file whose frames are not those of the stored table, because every mark, pin and reply is hung on an
 * index into that table. Timestamps may differ by a quarter of the shortest frame at most (time bases round).
 */
export function assertFitsTable(
  table: FrameTable,
  file: { width: number; height: number; timestampsUs: readonly number[] },
): void {
  const refuse = (detail: Record<string, unknown>) => {
    throw new CagepostError(
      'conflict',
      'This clip does not match its list of frames, so no frame could be named safely. Nothing is lost. Ask for the clip to be prepared again.',
      detail,
    );
  };
  if (file.width !== table.width || file.height !== table.height)
    refuse({ file: [file.width, file.height], table: [table.width, table.height] });
  if (file.timestampsUs.length !== table.ptsUs.length)
    refuse({ fileFrames: file.timestampsUs.length, tableFrames: table.ptsUs.length });

  const shortest = table.ptsUs.reduce(
    (least, us, at) => Math.min(least, us - (table.ptsUs[at - 1] ?? -Infinity)),
    Infinity,
  );
  const tolerance = Math.min(2_000, shortest / 4);
  const wrong = table.ptsUs.findIndex(
    (us, at) => !(Math.abs(us - (file.timestampsUs[at] ?? NaN)) <= tolerance),
  );
  if (wrong >= 0) refuse({ frame: wrong, fileUs: file.timestampsUs[wrong], tableUs: table.ptsUs[wrong] });
}
