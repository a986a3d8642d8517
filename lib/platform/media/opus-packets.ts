/** Opus counts its time at 48 kHz, whatever it was made from (RFC 6716, section 2). */
export const OPUS_RATE = 48_000;

// Samples at 48 kHz of one frame by the configuration in the first byte (RFC 6716, section 3.1, table 2).
const SILK = [480, 960, 1920, 2880];
const HYBRID = [480, 960];
const CELT = [120, 240, 480, 960];

const frameSamples = (config: number): number => {
  if (config < 12) return SILK[config % 4] ?? 0;
  return (config < 16 ? HYBRID[config % 2] : CELT[config % 4]) ?? 0;
};

/** How long a packet of Opus is, in samples at 48 kHz, by its own first bytes (RFC 6716, section 3.1 and 3.2); 0 for no packet. */
export const opusSamples = (packet: Uint8Array): number => {
  const [first, second] = packet;
  if (first === undefined) return 0;
  const size = frameSamples(first >> 3);
  const code = first & 3;
  if (code < 3) return code === 0 ? size : 2 * size;
  const samples = ((second ?? 0) & 63) * size;
  // More than 120 ms is not allowed (section 3.2.5).
  return samples <= 5760 ? samples : 0;
};

/** Packets of silence, longest first: full-band mono CELT frames whose first symbol says silence. */
const SILENCE = [
  { samples: 960, bytes: Buffer.from([0xf8, 0xff, 0xfe]) },
  { samples: 480, bytes: Buffer.from([0xf0, 0xff, 0xfe]) },
  { samples: 240, bytes: Buffer.from([0xe8, 0xff, 0xfe]) },
  { samples: 120, bytes: Buffer.from([0xe0, 0xff, 0xfe]) },
];

/** Silent packets for so many samples at 48 kHz, short of it by less than 2.5 ms. */
export const silentPackets = (samples: number): { samples: number; bytes: Buffer }[] => {
  const packets: { samples: number; bytes: Buffer }[] = [];
  let left = samples;
  for (const one of SILENCE)
    while (left >= one.samples) {
      packets.push(one);
      left -= one.samples;
    }
  return packets;
};
