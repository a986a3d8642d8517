import type { Readable } from 'node:stream';
import { writeAudit } from '@/lib/data/audit.write';
import { readReadyExport } from '@/lib/data/subjects.read';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import { downloadName } from '@/lib/domain/privacy/export';
import { personalPart } from '@/lib/domain/privacy/files';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/**
 * One part (counted from 1) of a copy of everything, for whoever asked for it, until it expires. Each opening is in the
 * audit.
 */
export async function openCopy(
  { clock, storage }: Pick<Ports, 'clock' | 'storage'>,
  viewer: Viewer,
  id: string,
  part: number,
): Promise<{ name: string; bytes: number; body: Readable }> {
  const copy = await readReadyExport(viewer, id, clock.now());
  if (!copy || part < 1 || part > copy.parts) throw notFound('file');
  const key = personalPart(id, part);
  const [bytes, body] = [await storage.size(key), await storage.read(key)];
  if (bytes === null || !body)
    throw new CagepostError('unavailable', 'The file cannot be read right now. Try again in a moment.');
  await transaction(viewer, (tx) =>
    writeAudit(viewer, tx, {
      action: 'copy.opened',
      subject: `person:${copy.personId}`,
      data: { copy: id, part },
    }),
  );
  return { name: downloadName(copy.personName, part, copy.parts), bytes, body };
}
