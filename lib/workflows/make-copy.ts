import { rm } from 'node:fs/promises';
import path from 'node:path';
import { addHours } from 'date-fns';
import { writeSystemAudit } from '@/lib/data/audit.write';
import { gatherEverything } from '@/lib/data/everything.system';
import {
  beginPersonalExport,
  failPersonalExport,
  finishPersonalExport,
  type CopyToMake,
} from '@/lib/data/personal-exports.system';
import { transaction } from '@/lib/data/transaction';
import type { System } from '@/lib/domain/people/viewer';
import type { Everything } from '@/lib/domain/privacy/everything';
import { cutIntoParts, EXPORT_HOURS, type PackedFile } from '@/lib/domain/privacy/export';
import { personalFolder, personalPart } from '@/lib/domain/privacy/files';
import { CagepostError } from '@/lib/domain/shared/errors';
import { everythingPage } from '@/lib/documents/everything-page';
import type { MediaEngine } from '@/lib/platform/media/engine';
import { findFiles } from './find-files';
import type { Ports, ZipEntry } from './ports';
import { tell } from './tell';

export type CopyPorts = Pick<Ports, 'clock' | 'log' | 'storage' | 'queue'> & {
  engine: Pick<MediaEngine, 'workspace'>;
  /** Writes an archive to a new file of this machine; answers its size in bytes. */
  writeZip: (file: string, entries: AsyncIterable<ZipEntry>) => Promise<number>;
};

const KEPT = 'Everything itself is as it was. Ask for it once more, or ask your program.';

/**
 * Makes the file with everything about somebody: a page in plain words, the same as JSON, and every clip, voice,
 * timeline, caption and bill as it is, in archives of at most 3 GB. It can be fetched for a day. May be killed at any
 * point and run again. Throws `unavailable` where another try may help, so that the queue tries again.
 */
export async function makeCopy(
  ports: CopyPorts,
  system: System,
  id: string,
): Promise<'ready' | 'failed' | 'nothing-to-do'> {
  const wanted = await beginPersonalExport(system, id);
  if (!wanted) return 'nothing-to-do';
  const workspace = await ports.engine.workspace(id);
  try {
    return await makeIn(workspace.folder, ports, system, id, wanted);
  } catch (error) {
    ports.log.warn({ copyId: id, err: error }, 'a copy of everything could not be made');
    if (!(error instanceof CagepostError) || error.fault === 'unavailable') throw error;
    await failPersonalExport(system, id, `${error.forPeople} ${KEPT}`);
    return 'failed';
  } finally {
    await workspace.release();
  }
}

async function makeIn(
  folder: string,
  ports: CopyPorts,
  system: System,
  id: string,
  wanted: CopyToMake,
): Promise<'ready' | 'nothing-to-do'> {
  const { clock, storage, writeZip, queue } = ports;
  const { programId, personId, by } = wanted;
  const now = clock.now();
  const isOwn = by.personId === personId;
  const all = await gatherEverything(system, { programId, personId, isOwn }, now);
  const files = await findFiles(ports, all);
  const json = new TextEncoder().encode(jsonOf(all));
  // The page says how many parts there are, which hangs on its own size: it is far from a gigabyte.
  const parts = cutIntoParts(files, json.length * 2);
  const page = new TextEncoder().encode(everythingPage(all, parts.length));
  const pages: ZipEntry[] = [
    { name: 'index.html', at: now, isPacked: false, body: [page] },
    { name: 'everything.json', at: now, isPacked: false, body: [json] },
    ...all.lessons.flatMap((lesson) =>
      lesson.breakdowns.flatMap(({ captions, files: [first] }) =>
        captions && first
          ? [
              {
                name: `${path.posix.dirname(first.file)}/captions.vtt`,
                ...{ at: now, isPacked: false, body: [new TextEncoder().encode(captions)] },
              },
            ]
          : [],
      ),
    ),
  ];
  let sizeBytes = 0;
  for (const [at, part] of parts.entries()) {
    const file = path.join(folder, `part-${at + 1}.zip`);
    sizeBytes += await writeZip(file, entriesOf(ports, at === 0 ? pages : [], part, now));
    await storage.put(personalPart(id, at + 1), { path: file });
    await rm(file);
  }
  const isWanted = await transaction(system, async (tx) => {
    const facts = { parts: parts.length, sizeBytes, readyAt: clock.now() };
    const expiresAt = addHours(facts.readyAt, EXPORT_HOURS);
    if (!(await finishPersonalExport(system, tx, id, { ...facts, expiresAt }))) return false;
    await writeSystemAudit(system, tx, programId, {
      action: 'copy.made',
      subject: `person:${personId}`,
      data: { copy: id, bytes: sizeBytes },
    });
    if (by.email) {
      const data = {
        programName: all.program.name,
        personName: all.person.name,
        path: `/everything/${personId}`,
      };
      const to = [{ personId: by.personId, email: by.email, at: facts.readyAt }];
      await tell(
        system,
        tx,
        { kind: 'copy-ready', data },
        {
          ...{ programId, to, now: facts.readyAt, once: id },
          playerId: all.person.roles.includes('player') ? personId : null,
        },
      );
      await queue.drainOutbox(tx);
    }
    return true;
  });
  if (isWanted) return 'ready';
  await storage.remove(personalFolder(id));
  return 'nothing-to-do';
}

/** Storage keys are nobody's business: of a file only its name in the copy is written. */
const jsonOf = (all: Everything): string =>
  JSON.stringify(
    all,
    (_name, value: unknown) =>
      typeof value === 'object' && value !== null && 'file' in value && 'key' in value
        ? { file: value.file }
        : value,
    2,
  );

async function* entriesOf(
  { storage, log }: Pick<Ports, 'storage' | 'log'>,
  pages: readonly ZipEntry[],
  files: readonly PackedFile[],
  at: Date,
): AsyncIterable<ZipEntry> {
  yield* pages;
  for (const { name, key } of files) {
    const body = await storage.read(key);
    // Something may have been deleted since the list was made: the copy is of what is kept now.
    if (body) yield { name, at, isPacked: !name.endsWith('.json'), body };
    else log.warn({ key }, 'a file went while it was to be copied');
  }
}
