import type { Readable } from 'node:stream';
import { readDocument } from '@/lib/data/documents.read';
import { documentFile } from '@/lib/domain/billing/documents';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { DocumentId } from '@/lib/domain/shared/ids';
import { renderMoneyDocument } from '@/lib/documents/money-document';
import type { Ports } from './ports';

/**
 * The PDF of a document for one of the payer's family or a lead. It is made from the frozen facts and stored the first
 * time that somebody opens it; two at the same moment make the same file.
 */
export async function openDocument(
  { storage, log }: Pick<Ports, 'storage' | 'log'>,
  viewer: Viewer,
  id: DocumentId,
): Promise<{ name: string; bytes: number; body: Readable }> {
  const document = await readDocument(viewer, id);
  if (!document) throw notFound('document');
  const key = `documents/${document.id}/document.pdf`;
  if ((await storage.size(key)) === null) {
    await storage.put(key, { bytes: await renderMoneyDocument(document) });
    log.info({ documentId: id }, 'a document was made');
  }
  const [bytes, body] = [await storage.size(key), await storage.read(key)];
  if (bytes === null || !body) {
    throw new CagepostError('unavailable', 'The document cannot be read right now. Try again in a moment.');
  }
  return { name: documentFile(document.kind, document.number), bytes, body };
}
