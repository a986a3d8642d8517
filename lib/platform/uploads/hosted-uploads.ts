import { createRouteHandler } from 'uploadthing/server';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Storage } from '@/lib/workflows/ports';
import { handOn } from './completion';
import { sendJson } from './node-http';
import { ClipRefusal, UploadRefusal } from './refusal';
import { createUploadRouter, type UploadAnswer, type UploadMetadata } from './upload-router';
import type { UploadSorts } from './upload-sort';
import type { UploadSettings, Uploads } from './uploads';

const headOf = async (storage: Storage, key: string, bytes: number): Promise<Buffer> => {
  const stream = await storage.read(key, { start: 0, end: bytes - 1 });
  if (!stream)
    throw new CagepostError('unavailable', 'The file is not at its place yet. It is looked for again.');
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
};

/**
 * Uploads over the hosted service. The bytes never pass this server, so what the embedded ingest checks while they
 * arrive (size, first bytes) is checked when the service calls back; what is refused is removed there at once.
 */
export const createHostedUploads = (
  settings: UploadSettings,
  storage: Storage,
  token: string,
  sorts: UploadSorts,
): Uploads => {
  const { log } = settings;

  const refuse = async (metadata: UploadMetadata, error: UploadRefusal): Promise<UploadAnswer> => {
    const { id, slug, subject, personId, storageKey } = metadata;
    const refusal = sorts[slug].inItsWords(error);
    await storage.remove(storageKey);
    log.warn({ upload: id, ...refusal.detail, fault: refusal.reason }, 'upload turned away');
    await sorts[slug].refused(subject, personId, refusal);
    return { id, ...subject, fault: refusal.reason, message: refusal.forPeople };
  };

  const complete = async (
    metadata: UploadMetadata,
    file: { size: number; fileHash: string },
  ): Promise<UploadAnswer> => {
    try {
      if (file.size !== metadata.sizeBytes)
        throw new ClipRefusal(file.size < metadata.sizeBytes ? 'cut-off' : 'too-large', { found: file.size });
      const { slug, subject, storageKey, declaredType } = metadata;
      const sort = sorts[slug];
      const head = await headOf(storage, storageKey, Math.min(sort.headBytes, file.size));
      const type = await sort.sniff(subject, head, declaredType);
      return await handOn({ ...metadata, md5: file.fileHash, type }, { sort, storage, log });
    } catch (error) {
      if (error instanceof UploadRefusal) return refuse(metadata, error);
      throw error;
    }
  };

  const handler = createRouteHandler({
    router: createUploadRouter({ sorts, acl: 'private', admit: async () => {}, complete }),
    config: {
      token,
      logLevel: 'Error',
      ...(settings.publicOrigin && { callbackUrl: `${settings.publicOrigin}/api/uploadthing` }),
      ...(settings.fetch && { fetch: settings.fetch }),
    },
  });

  return {
    host: 'hosted',
    handle: handler,
    async ingest(_request, response) {
      sendJson(response, 404, { error: 'There is nothing here.' });
    },
    // Nothing of an upload is kept here, and the service tries its own calls again.
    sweep: async () => ({ completed: [], abandoned: [], postponed: [] }),
  };
};
