export interface Healthy {
  name: string;
  bytes: Buffer;
  declaredType: string;
}

export interface Corrupted {
  name: string;
  bytes: Buffer;
  declaredType: string;
}

/** Mulberry32, a small generator with a known sequence (from memory): the same seed makes the same files. */
function randomFrom(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 4294967296) * below);
  };
}

type Damage = (clip: Healthy, other: Healthy, random: (below: number) => number) => Omit<Corrupted, 'name'>;

const flip = (bytes: Buffer, from: number, to: number, bits: number, random: (below: number) => number) => {
  const copy = Buffer.from(bytes);
  for (let i = 0; i < bits; i++) {
    const at = from + random(Math.max(1, to - from));
    if (at < copy.length) copy.writeUInt8((copy[at] ?? 0) ^ (1 << random(8)), at);
  }
  return copy;
};

/** Where the index of an MP4 or MOV lies, or the head of another file: the bytes that decide most. */
function vitals(bytes: Buffer): [number, number] {
  const at = bytes.indexOf('moov');
  return at > 0 ? [at, bytes.length] : [0, Math.min(bytes.length, 600)];
}

const DAMAGES: Record<string, Damage> = {
  cut: ({ bytes, declaredType }, _, random) => ({
    bytes: bytes.subarray(0, random(bytes.length)),
    declaredType,
  }),
  'cut-near-the-end': ({ bytes, declaredType }, _, random) => ({
    bytes: bytes.subarray(0, bytes.length - 1 - random(200)),
    declaredType,
  }),
  'head-missing': ({ bytes, declaredType }, _, random) => ({
    bytes: bytes.subarray(1 + random(bytes.length)),
    declaredType,
  }),
  'one-bit': ({ bytes, declaredType }, _, random) => ({
    bytes: flip(bytes, 0, bytes.length, 1, random),
    declaredType,
  }),
  'many-bits': ({ bytes, declaredType }, _, random) => ({
    bytes: flip(bytes, 0, bytes.length, 2 + random(200), random),
    declaredType,
  }),
  'bits-of-the-index': ({ bytes, declaredType }, _, random) => ({
    bytes: flip(bytes, ...vitals(bytes), 1 + random(12), random),
    declaredType,
  }),
  'numbers-of-the-index': ({ bytes, declaredType }, _, random) => {
    const copy = Buffer.from(bytes);
    const [from, to] = vitals(bytes);
    const at = Math.min(copy.length - 4, from + random(Math.max(1, to - from - 4)));
    copy.writeUInt32BE([0, 1, 0x7fffffff, 0xffffffff, 0x80000000, random(0xffffffff)][random(6)] ?? 0, at);
    return { bytes: copy, declaredType };
  },
  'block-of-noise': ({ bytes, declaredType }, _, random) => {
    const copy = Buffer.from(bytes);
    const at = random(copy.length);
    for (let i = at; i < Math.min(copy.length, at + 1 + random(2000)); i++) copy[i] = random(256);
    return { bytes: copy, declaredType };
  },
  'block-of-zeros': ({ bytes, declaredType }, _, random) => {
    const copy = Buffer.from(bytes);
    const at = random(copy.length);
    copy.fill(0, at, Math.min(copy.length, at + 1 + random(4000)));
    return { bytes: copy, declaredType };
  },
  hole: ({ bytes, declaredType }, _, random) => {
    const at = random(bytes.length);
    return {
      bytes: Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + 1 + random(2000))]),
      declaredType,
    };
  },
  spliced: ({ bytes, declaredType }, other, random) => ({
    bytes: Buffer.concat([
      bytes.subarray(0, random(bytes.length)),
      other.bytes.subarray(random(other.bytes.length)),
    ]),
    declaredType,
  }),
  'two-in-one': ({ bytes, declaredType }, other) => ({
    bytes: Buffer.concat([bytes, other.bytes]),
    declaredType,
  }),
  'lying-type': ({ bytes }, _, random) => ({
    bytes,
    declaredType: ['video/webm', 'video/mp4', 'text/html', 'image/jpeg', 'video/x-msvideo'][random(5)] ?? '',
  }),
  'lying-head': ({ bytes, declaredType }, _, random) => {
    const text = [
      '<!doctype html><script>alert(1)</script>',
      '#EXTM3U\n#EXTINF:1,\nfile:///etc/hostname\n',
      'ffconcat version 1.0\nfile /etc/hostname\n',
      '%PDF-1.7\n',
      '\u0000\u0000\u0000\u0018ftypmp42',
    ][random(5)];
    return {
      bytes: Buffer.concat([Buffer.from(text ?? '', 'latin1'), bytes.subarray(random(64))]),
      declaredType,
    };
  },
  'only-a-head': ({ bytes, declaredType }, _, random) => ({
    bytes: Buffer.concat([bytes.subarray(0, 16 + random(48)), Buffer.alloc(random(5000), random(256))]),
    declaredType,
  }),
};

/** `count` damaged files, every kind of damage over every healthy file in turn, the same for the same seed. */
export function* corruptions(healthy: readonly Healthy[], count: number, seed: number): Generator<Corrupted> {
  const random = randomFrom(seed);
  const kinds = Object.entries(DAMAGES);
  for (let index = 0; index < count; index++) {
    const [kind, damage] = kinds[index % kinds.length] ?? [];
    const clip = healthy[Math.floor(index / kinds.length) % healthy.length];
    const other = healthy[random(healthy.length)];
    if (!kind || !damage || !clip || !other) return;
    yield { name: `${String(index).padStart(4, '0')}-${kind}-${clip.name}`, ...damage(clip, other, random) };
  }
}
