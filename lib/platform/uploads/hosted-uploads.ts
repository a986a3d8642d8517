import { createRouteHandler } from 'uploadthing/server';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Storage } from '@/lib/workflows/ports';
import type { StoredClip } from './claims';
import { createClipRouter, type ClipAnswer, type ClipMetadata } from './clip-router';
import { handOn } from './completion';
import { sendJson } from './node-http';
import { ClipRefusal } from './refusal';
import { sniffType, SNIFF_BYTES } from './sniff-type';
import type { UploadSettings, Uploads } from './uploads';

const headOf = async (storage: Storage, key: string, sizeBytes: number): Promise<Buffer> => {
  const stream = await storage.read(key, { start: 0, end: Math.min(SNIFF_BYTES, sizeBytes) - 1 });
  if (!stream)
    throw new CagepostError('unavailable', 'The clip is not at its place yet. It is looked for again.');
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
};

/**
 * Uploads over the hosted service. The bytes never pass this server, so what the embedded ingest checks while they
 * arrive (size, first bytes) is checked when the service calls back; what is refused is removed there at once.
 */
export const createHostedUploads = (settings: UploadSettings, storage: Storage, token: string): Uploads => {
  const { claims, log, limits } = settings;

  const refuse = async (metadata: ClipMetadata, refusal: ClipRefusal): Promise<ClipAnswer> => {
    const { clipId, personId, storageKey } = metadata;
    await storage.remove(storageKey);
    log.warn({ clipId, fault: refusal.clipFault, ...refusal.detail }, 'clip turned away');
    await claims.refused({ clipId, personId, fault: refusal.clipFault });
    return { clipId, fault: refusal.clipFault, message: refusal.forPeople };
  };

  const complete = async (
    metadata: ClipMetadata,
    file: { size: number; fileHash: string },
  ): Promise<ClipAnswer> => {
    try {
      if (file.size !== metadata.sizeBytes)
        throw new ClipRefusal(file.size < metadata.sizeBytes ? 'cut-off' : 'too-large', { found: file.size });
      const head = await headOf(storage, metadata.storageKey, file.size);
      const { clipId, personId, storageKey, sizeBytes, declaredType } = metadata;
      const type = await sniffType(head, declaredType);
      const clip: StoredClip = { clipId, personId, storageKey, sizeBytes, md5: file.fileHash, type };
      return await handOn(clip, { claims, storage, log });
    } catch (error) {
      if (error instanceof ClipRefusal) return refuse(metadata, error);
      throw error;
    }
  };

  const handler = createRouteHandler({
    router: createClipRouter({ claims, limits, acl: 'private', admit: async () => {}, complete }),
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
