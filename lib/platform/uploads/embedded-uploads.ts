import path from 'node:path';
import { createRouteHandler } from 'uploadthing/server';
import * as z from 'zod';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { LocalStorage } from '../storage-local';
import { handOn } from './completion';
import { createIngest, type IngestSettings } from './ingest';
import { sendJson, sendRefusal } from './node-http';
import { deriveKey, isSameSecret, signText } from './signatures';
import type { EmbeddedHost } from './signed-address';
import { sweepUploads } from './sweep';
import { createUploadRecords, type UploadRecord } from './upload-records';
import { createUploadRouter, uploadMetadataSchema, type UploadMetadata } from './upload-router';
import { UPLOAD_ID, type UploadSorts } from './upload-sort';
import type { UploadSettings, Uploads } from './uploads';

/** Stands for this server wherever the protocol wants an absolute address. Never contacted (RFC 2606). */
const ORIGIN = 'http://embedded.invalid';
const INGEST_PATH = '/api/ingest';

const registrationSchema = z.object({
  fileKeys: z.array(z.string()).length(1),
  metadata: uploadMetadataSchema,
  callbackUrl: z.string(),
});
const resultSchema = z.object({ callbackData: z.looseObject({ id: z.string().regex(UPLOAD_ID) }) });
const presignedSchema = z.array(z.looseObject({ url: z.string() }));

const hostOf = (secret: string): EmbeddedHost => ({
  apiKey: `sk_live_${deriveKey(secret, 'uploads/key')}`,
  appId: deriveKey(secret, 'uploads/app').slice(0, 10),
  ingestUrl: `${ORIGIN}${INGEST_PATH}`,
});

/** Addresses without an origin: they fit whatever name the browser knows this server by. */
const withoutOrigin = async (answer: Response): Promise<Response> => {
  if (!answer.ok) return answer;
  const parsed = presignedSchema.safeParse(await answer.clone().json());
  if (!parsed.success) return answer;
  const body = parsed.data.map((one) => ({ ...one, url: one.url.replace(ORIGIN, '') }));
  return Response.json(body, { headers: { 'cache-control': 'no-store' } });
};

const sameOrigin = (site: string | undefined) => {
  if (site !== undefined && site !== 'same-origin' && site !== 'none') throw notFound('upload');
};

/** Uploads over the ingest inside this server: the SDK's protocol on the same origin, files on this machine's disk. */
export const createEmbeddedUploads = (
  settings: UploadSettings & Partial<Pick<IngestSettings, 'freeBytes'>>,
  storage: LocalStorage,
  sorts: UploadSorts,
): Uploads => {
  const { log } = settings;
  const now = settings.now ?? (() => new Date());
  const folder = path.join(/*turbopackIgnore: true*/ settings.dataFolder, 'uploads');
  const host = hostOf(settings.secret);
  const records = createUploadRecords(folder);

  /** The completion hook over the SDK's own handler, signed as the service would sign it. */
  const complete = async (record: UploadRecord) => {
    const url = `${host.ingestUrl}/${record.fileKey}`;
    const { storageKey, sizeBytes, declaredType, slug } = record.metadata;
    const body = JSON.stringify({
      status: 'uploaded',
      origin: host.ingestUrl,
      metadata: record.metadata,
      file: {
        key: record.fileKey,
        customId: storageKey,
        name: path.basename(storageKey),
        size: sizeBytes,
        type: record.foundType ?? declaredType,
        fileHash: record.md5 ?? '',
        url,
        appUrl: url,
        ufsUrl: url,
      },
    });
    const callback = new URL(record.callbackUrl);
    callback.searchParams.set('slug', slug);
    const answer = await handler(
      new Request(callback, {
        method: 'POST',
        body,
        headers: {
          'content-type': 'application/json',
          'uploadthing-hook': 'callback',
          'x-uploadthing-signature': signText(body, host.apiKey),
        },
      }),
    );
    if (!answer.ok) log.error({ upload: record.id, status: answer.status }, 'completion hook refused');
  };

  const ingest = createIngest({ ...settings, sorts, folder, host, records, storage, complete });

  const register = async (body: unknown) => {
    const { fileKeys, metadata, callbackUrl } = registrationSchema.parse(body);
    if (await records.load(metadata.id)) return Response.json({ ok: true });
    await records.save({
      version: 2,
      id: metadata.id,
      fileKey: fileKeys[0] ?? '',
      metadata,
      callbackUrl,
      state: 'receiving',
      answer: null,
    });
    return Response.json({ ok: true });
  };

  const noteResult = async (body: unknown) => {
    const { callbackData } = resultSchema.parse(body);
    const record = await records.load(callbackData.id);
    if (!record) return Response.json({ ok: false }, { status: 404 });
    await records.save({ ...record, state: 'done', answer: callbackData });
    return Response.json({ ok: true });
  };

  /** What the SDK's server side sends to its ingest; it never leaves this process. */
  const reach = async (input: RequestInfo | URL, init?: RequestInit): Promise<Response> => {
    const request = new Request(input, init);
    if (!request.url.startsWith(`${host.ingestUrl}/`))
      throw new TypeError(`Uploads never call ${request.url}`);
    if (!isSameSecret(request.headers.get('x-uploadthing-api-key') ?? '', host.apiKey))
      return Response.json({ ok: false }, { status: 401 });
    const body: unknown = await request.json();
    if (request.url.endsWith('/route-metadata')) return register(body);
    if (request.url.endsWith('/callback-result')) return noteResult(body);
    return Response.json({ ok: false }, { status: 404 });
  };

  const admit = async (metadata: UploadMetadata, isStored: boolean) => {
    const record = await records.load(metadata.id);
    if (!record) return;
    const { personId, storageKey, sizeBytes, print } = record.metadata;
    if (personId !== metadata.personId) throw notFound('upload');
    const isSame =
      sizeBytes === metadata.sizeBytes &&
      storageKey === metadata.storageKey &&
      (print === undefined || metadata.print === undefined || print === metadata.print);
    const { isMadeAnew } = sorts[metadata.slug];
    if (!isSame && isMadeAnew) return isStored ? undefined : ingest.forget(record.id);
    if (!isSame)
      throw new CagepostError(
        'conflict',
        'Another file is on its way under this name. Remove it and add this file as a new one.',
        { upload: metadata.id },
      );
    if (isStored || record.state !== 'done') return;
    // Claimed anew after it was done: its preparing failed and it is tried again. The hook runs once more for what is
    // still there; what is not has to be sent again.
    if ((await storage.size(storageKey)) === sizeBytes) await records.save({ ...record, state: 'stored' });
    else await records.drop(record.id);
  };

  const router = createUploadRouter({
    sorts,
    admit,
    complete: async (metadata, file) => {
      const record = await records.load(metadata.id);
      const type = record?.foundType ?? metadata.declaredType;
      const sort = sorts[metadata.slug];
      return handOn({ ...metadata, md5: file.fileHash, type }, { sort, storage, log });
    },
  });
  const handler = createRouteHandler({
    router,
    config: {
      token: Buffer.from(
        JSON.stringify({
          apiKey: host.apiKey,
          appId: host.appId,
          regions: ['embedded'],
          ingestHost: 'embedded.invalid',
        }),
      ).toString('base64'),
      ingestUrl: host.ingestUrl,
      callbackUrl: `${ORIGIN}/api/uploadthing`,
      isDev: false,
      // The SDK's default level prints signed addresses.
      logLevel: 'Error',
      fetch: reach,
    },
  });

  return {
    host: 'embedded',
    handle: async (request) => withoutOrigin(await handler(request)),

    async ingest(request, response) {
      try {
        sameOrigin(request.headers['sec-fetch-site'] as string | undefined);
        if (request.method === 'HEAD') {
          const offset = await ingest.offset(request);
          // The PUT is to go over a connection of its own: after a reset Chromium repeats by itself only what went
          // over a used one.
          const headers = {
            'x-ut-range-start': String(offset),
            'cache-control': 'no-store',
            connection: 'close',
          };
          response.writeHead(200, headers);
          response.end();
          return;
        }
        if (request.method !== 'PUT') {
          sendJson(response, 405, { error: 'Only HEAD and PUT.' }, { allow: 'HEAD, PUT' });
          return;
        }
        const { record, isRepeat } = await ingest.take(request);
        const url = `${INGEST_PATH}/${record.fileKey}`;
        const body = { url, appUrl: url, ufsUrl: url, fileHash: record.md5, serverData: record.answer };
        // The body of a repeat is not wanted: the connection ends with the answer.
        sendJson(response, 200, body, isRepeat ? { connection: 'close' } : {});
      } catch (error) {
        if (!(error instanceof CagepostError)) log.error({ err: error }, 'ingest failed');
        sendRefusal(request, response, error);
      }
    },

    sweep: () => sweepUploads({ records, ingest, sorts, log, now: now(), isShared: settings.isShared }),
  };
};
