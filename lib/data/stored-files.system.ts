import { subMilliseconds } from 'date-fns';
import { isOriginal, ownerOf, STRAY_AFTER_MS, type FileOwner } from '@/lib/domain/privacy/files';
import type { System } from '@/lib/domain/people/viewer';
import { db } from './client';

const MOST_STRAYS = 10_000;

// What has to go of the storage. A row that lets go of its files writes it down in the same transaction
// (`strip-media.ts`), so that a crash between the rows and the files leaves work to do and never a file that nobody
// knows of.

/** Prefixes that have to go, oldest first, at most `take`. */
export async function listLetGo(_system: System, take: number): Promise<string[]> {
  const rows = await db().fileRemoval.findMany({ orderBy: [{ at: 'asc' }, { prefix: 'asc' }], take });
  return rows.map((row) => row.prefix);
}

/** Notes that everything under the prefix is gone. */
export async function noteGone(_system: System, prefix: string): Promise<void> {
  await db().fileRemoval.deleteMany({ where: { prefix } });
}

const idsOf = (owners: readonly FileOwner[], folder: FileOwner['folder']) => [
  ...new Set(owners.filter((one) => one.folder === folder).map((one) => one.id)),
];

/**
 * Of some keys of the storage those that no row wants: `gone` belong to something that was removed more than a day ago,
 * `stray` to nothing that is known. Keys of a shape that is not known here are wanted.
 */
export async function unwantedOf(
  _system: System,
  keys: readonly string[],
  now: Date,
): Promise<{ gone: string[]; stray: string[] }> {
  const owners = keys.flatMap((key) => {
    const owner = ownerOf(key);
    return owner ? [{ key, ...owner }] : [];
  });
  const whole = (folder: FileOwner['folder']) => ({ where: { id: { in: idsOf(owners, folder) } } });
  const [clips, breakdowns, remarks, documents, exports] = await Promise.all([
    db().clip.findMany({
      ...whole('clips'),
      select: { id: true, state: true, storageKey: true, removedAt: true },
    }),
    db().breakdown.findMany({
      ...whole('breakdowns'),
      select: {
        id: true,
        takes: true,
        removedAt: true,
        exports: { where: { state: { in: ['working', 'ready'] } }, select: { id: true } },
      },
    }),
    db().remark.findMany({ ...whole('remarks'), select: { id: true } }),
    db().billingDocument.findMany({ ...whole('documents'), select: { id: true } }),
    db().personalExport.findMany({
      where: { id: { in: idsOf(owners, 'personal') }, state: { in: ['working', 'ready'] } },
      select: { id: true },
    }),
  ]);
  const long = subMilliseconds(now, STRAY_AFTER_MS);
  const clipOf = new Map(clips.map((row) => [row.id, row]));
  const breakdownOf = new Map(breakdowns.map((row) => [row.id, row]));
  const rest = {
    remarks: new Set(remarks.map((row) => row.id)),
    documents: new Set(documents.map((row) => row.id)),
    personal: new Set(exports.map((row) => row.id)),
  };

  const standing = ({ key, folder, id, file }: (typeof owners)[number]): 'wanted' | 'gone' | 'stray' => {
    if (folder === 'clips') {
      const row = clipOf.get(id);
      if (!row) return 'stray';
      if (row.removedAt) return row.removedAt < long ? 'gone' : 'wanted';
      // Before it is ready an original may lie there that is noted a moment later.
      return row.state === 'ready' && isOriginal(file) && key !== row.storageKey ? 'stray' : 'wanted';
    }
    if (folder === 'breakdowns') {
      const row = breakdownOf.get(id);
      if (!row) return 'stray';
      if (row.removedAt) return row.removedAt < long ? 'gone' : 'wanted';
      const exportId = /^export-(.+)\.mp4$/.exec(file)?.[1];
      return exportId === undefined || row.exports.some((one) => one.id === exportId) ? 'wanted' : 'stray';
    }
    return rest[folder].has(id) ? 'wanted' : 'stray';
  };

  const found = { gone: [] as string[], stray: [] as string[] };
  for (const owner of owners) {
    const how = standing(owner);
    if (how !== 'wanted') found[how].push(owner.key);
  }
  return found;
}

/**
 * Notes the files without a row that were found (all of them, or the first ten thousand) and answers those that were
 * known more than a day before `now`: they may go. A note of a file that has its row by now is forgotten.
 */
export async function ripeStrays(_system: System, keys: readonly string[], now: Date): Promise<string[]> {
  const found = keys.slice(0, MOST_STRAYS);
  if (found.length === keys.length) await db().strayFile.deleteMany({ where: { key: { notIn: found } } });
  await db().strayFile.createMany({
    data: found.map((key) => ({ key, seenAt: now })),
    skipDuplicates: true,
  });
  const ripe = await db().strayFile.findMany({
    where: { key: { in: found }, seenAt: { lte: subMilliseconds(now, STRAY_AFTER_MS) } },
    select: { key: true },
  });
  return ripe.map((row) => row.key);
}
