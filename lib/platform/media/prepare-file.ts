import { createHash } from 'node:crypto';
import { createReadStream, writeFileSync } from 'node:fs';
import path from 'node:path';
import { frameTableSchema, type FrameTable } from '@/lib/domain/clips/frame-table';
import type { PreparedFacts } from '@/lib/domain/clips/prepared';
import { taggedFocal } from '@/lib/domain/clips/lens-tag';
import { captureRate, medianRate } from '@/lib/domain/clips/rendition';
import { inspectFile } from './intake';
import { MediaFault } from './media-fault';
import type { OriginalFacts, PrepareMessage } from './messages';
import { render } from './render';
import { metadataOf, openSource, readPackets } from './source';
import { wipeLocation } from './wipe-location';

/** A clip may be this much longer than the limit: phones round, and the last picture has a length too. */
const GRACE_US = 1_000_000;
const WIPED_FILE = 'original-wiped';

export interface Listener {
  /** Called often; `percent` never falls. */
  alive(percent: number): Promise<void>;
  /** Called once, before the rendition is made. */
  original(facts: OriginalFacts): void;
}

/**
 * Makes everything that is derived from one original, in the folder of the job. Runs in the child process only, since
 * a file may bring the engine down. Throws a MediaFault, or whatever the engine throws at a file it cannot read.
 */
export async function prepareFile(job: PrepareMessage, listener: Listener): Promise<PreparedFacts> {
  const family = await inspectFile(job.original, job.declaredType, job.maxBytes);
  const beat = () => listener.alive(0);

  const first = openSource(job.original, family);
  let facts;
  let tags;
  let told;
  try {
    tags = metadataOf(first);
    told = Number(first.file.duration);
    if (told > job.maxSeconds * 1e6 + GRACE_US)
      throw new MediaFault('too-long', `${Math.round(told / 1e6)} s by the file's own account`);
    facts = await readPackets(first, beat);
  } finally {
    first.close();
  }
  const last = facts.ptsUs.at(-1) ?? 0;
  if (last > job.maxSeconds * 1e6 + GRACE_US)
    throw new MediaFault('too-long', `pictures up to ${Math.round(last / 1e6)} s`);

  const fileRate = medianRate(facts.ptsUs);
  const tagged = captureRate(tags, fileRate);
  const wiped = path.join(job.folder, WIPED_FILE);
  const original = wipeLocation(job.original, family, wiped);
  const notes = { taggedRate: tagged.isSure ? tagged.rate : null, focal35mm: taggedFocal(tags) };
  listener.original(
    original === 'wiped'
      ? { original, ...notes, wipedFile: WIPED_FILE, md5: await md5Of(wiped, beat) }
      : { original, ...notes },
  );
  const taken = job.knownRate === null ? tagged : { rate: job.knownRate, isSure: true };

  const source = openSource(job.original, family);
  let rendered;
  try {
    const { folder, isSilent } = job;
    rendered = await render(source, facts, { folder, isSilent }, (percent) => listener.alive(percent));
  } finally {
    source.close();
  }
  const made = await readRendition(path.join(job.folder, 'review.mp4'), beat);
  if (made.ptsUs.length !== rendered.frames)
    throw new MediaFault('frames-lost', `${rendered.frames} written, ${made.ptsUs.length} in the file`);

  const table: FrameTable = {
    version: 1,
    width: rendered.width,
    height: rendered.height,
    ptsUs: made.ptsUs,
    fileRate: medianRate(made.ptsUs),
    captureRate: taken.rate,
  };
  frameTableSchema.parse(table);
  writeFileSync(path.join(job.folder, 'frames.json'), JSON.stringify(table));
  return {
    width: rendered.width,
    height: rendered.height,
    frameCount: made.ptsUs.length,
    durationUs: made.durationUs,
    fileRate: table.fileRate,
    captureRate: taken.rate,
    rateIsSure: taken.isSure,
    hasSound: rendered.hasSound,
    original,
  };
}

async function md5Of(file: string, alive: () => Promise<void>): Promise<string> {
  const hash = createHash('md5');
  for await (const chunk of createReadStream(file, { highWaterMark: 1 << 20 })) {
    hash.update(chunk as Buffer);
    await alive();
  }
  return hash.digest('hex');
}

/** Reads the rendition back as a player would and tells its frames. Throws when two share an address. */
async function readRendition(file: string, alive: () => Promise<void>) {
  const source = openSource(file, 'iso');
  try {
    const { ptsUs } = await readPackets(source, alive);
    for (const [index, pts] of ptsUs.entries())
      if (index > 0 && pts <= (ptsUs[index - 1] ?? 0))
        throw new MediaFault('frames-lost', `frame ${index} has the timestamp of the one before`);
    const last = ptsUs.at(-1) ?? 0;
    const step = last - (ptsUs.at(-2) ?? last);
    return { ptsUs, durationUs: last + step };
  } finally {
    source.close();
  }
}
