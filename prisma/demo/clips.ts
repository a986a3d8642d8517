import { cpus } from 'node:os';
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { readyRow } from '../../lib/data/ready-row';
import { DERIVED_FILES, type PreparedFacts } from '../../lib/domain/clips/prepared';
import { env } from '../../lib/platform/env';
import { createMediaEngine } from '../../lib/platform/media/engine';
import { createStorage } from '../../lib/platform/storage';

const FOLDER = path.resolve(import.meta.dirname, 'clips');

interface Manifest {
  clips: { file: string; captureRate: number; checkpoints: Record<string, number> }[];
}

/** A shipped clip of the demo: its file, the rate it was taken at and the frames of its checkpoints. */
export interface ShippedClip {
  path: string;
  type: 'video/mp4' | 'video/quicktime';
  extension: string;
  captureRate: number;
  checkpoints: Record<string, number>;
}

/** The shipped clips by name. */
export async function shippedClips(): Promise<Map<string, ShippedClip>> {
  const manifest = JSON.parse(await readFile(path.join(FOLDER, 'manifest.json'), 'utf8')) as Manifest;
  return new Map(
    manifest.clips.map(({ file, captureRate, checkpoints }) => {
      const { name, ext } = path.parse(file);
      const type = ext === '.mov' ? 'video/quicktime' : 'video/mp4';
      return [name, { path: path.join(FOLDER, file), type, extension: ext, captureRate, checkpoints }];
    }),
  );
}

/** A prepared clip: what is known of it, and of its original. */
export interface PreparedClip {
  facts: PreparedFacts;
  storageKeys: Map<string, string>;
  sizeBytes: number;
  md5: string;
}

export interface DemoClips {
  shipped: ReadonlyMap<string, ShippedClip>;
  prepared: ReadonlyMap<string, PreparedClip>;
}

/** What a row of a ready clip says of itself: the shipped clip of that name under this id. */
export function readyClip({ shipped, prepared }: DemoClips, name: string, clipId: string) {
  const [source, made] = [shipped.get(name), prepared.get(name)];
  if (!source || !made) throw new Error(`the clip ${name} was not prepared`);
  return {
    id: clipId,
    ...readyRow(made.facts),
    declaredType: source.type,
    sizeBytes: BigInt(made.sizeBytes),
    md5: made.md5,
    storageKey: made.storageKeys.get(clipId) ?? null,
    captureRate: source.captureRate,
    rateIsSure: true,
  };
}

/**
 * Prepares each shipped clip once, by the same engine that prepares what players send, and puts its files under every
 * clip id that shows it. `wanted`: clip ids by the name of the shipped clip.
 */
export async function prepareShipped(
  wanted: ReadonlyMap<string, readonly string[]>,
  say: (line: string) => void,
): Promise<Map<string, PreparedClip>> {
  const shipped = await shippedClips();
  const storage = createStorage({ dataFolder: env.DATA_DIR, uploadthingToken: env.UPLOADTHING_TOKEN });
  const engine = createMediaEngine({
    scratch: path.join(env.DATA_DIR, 'scratch'),
    maxBytes: env.CLIP_MAX_BYTES,
    maxSeconds: env.CLIP_MAX_SECONDS,
    children: Math.max(1, Math.min(2, cpus().length)),
    filesPerChild: wanted.size,
  });
  let done = 0;
  try {
    const prepared = await Promise.all(
      [...wanted].map(async ([name, clipIds]) => {
        const source = shipped.get(name);
        if (!source) throw new Error(`the demo has no clip called ${name}`);
        const result = await prepareOne(name, source, clipIds);
        say(`demo clips ${++done} of ${wanted.size}`);
        return [name, result] as const;
      }),
    );
    return new Map(prepared);
  } finally {
    await engine.close();
  }

  async function prepareOne(
    name: string,
    source: ShippedClip,
    clipIds: readonly string[],
  ): Promise<PreparedClip> {
    const { folder, release } = await engine.workspace(`demo-${name}`);
    try {
      const outcome = await engine.prepare({
        original: source.path,
        folder,
        declaredType: source.type,
        knownRate: source.captureRate,
        isSilent: false,
      });
      if (!outcome.ok) throw new Error(`${name}: ${outcome.fault} ${outcome.detail}`);
      const bytes = await readFile(source.path);
      const storageKeys = new Map<string, string>();
      for (const id of clipIds) {
        const key = `clips/${id}/original${source.extension}`;
        await storage.put(key, { bytes });
        for (const file of DERIVED_FILES)
          await storage.put(`clips/${id}/${file}`, { path: path.join(folder, file) });
        storageKeys.set(id, key);
      }
      const md5 = createHash('md5').update(bytes).digest('hex');
      return { facts: outcome.facts, storageKeys, sizeBytes: bytes.length, md5 };
    } finally {
      await release();
    }
  }
}
