import { createHash } from 'node:crypto';
import { signPayload, verifySignature } from '@uploadthing/shared';
import * as Micro from 'effect/Micro';
import * as Redacted from 'effect/Redacted';

interface HostedFile {
  key: string;
  customId: string | null;
  name: string;
  bytes: Buffer;
  acl: string | null;
}
interface Registration {
  metadata: unknown;
  callbackUrl: string;
  callbackSlug: string;
}

const API_KEY = `sk_live_${'7'.repeat(32)}`;
const secret = Redacted.make(API_KEY);
const APP = 'app1';

/** A token of the shape that the service gives out. */
export const HOSTED_TOKEN = Buffer.from(
  JSON.stringify({ apiKey: API_KEY, appId: APP, regions: ['fra1'] }),
).toString('base64');

/** Signs and verifies by the SDK's own code, so that a change of it breaks the contract tests. */
export const sdkSignature = (text: string, key = API_KEY): Promise<string> =>
  Micro.runPromise(signPayload(text, Redacted.make(key)));

/**
 * Stands in for the hosted service: keeps files in memory, checks every address with the SDK's own code, calls back
 * as the service does. `fetch` is given to the code under test and to the sender.
 */
export class HostedStandIn {
  readonly files = new Map<string, HostedFile>();
  readonly registered = new Map<string, Registration>();
  readonly results = new Map<string, unknown>();
  readonly reads: { url: string; range: string | null }[] = [];
  /** Where calls back go: the server under test. */
  deliver: (request: Request) => Promise<Response> = async () => new Response(null, { status: 503 });

  readonly fetch = async (input: RequestInfo | URL, init?: RequestInit): Promise<Response> => {
    const request = new Request(input, init);
    const url = new URL(request.url);
    if (url.host === 'api.uploadthing.com') return this.api(url.pathname, request);
    if (url.host === `${APP}.ufs.sh`) return this.read(url, request);
    if (url.host !== 'fra1.ingest.uploadthing.com') throw new TypeError(`No such host: ${url.host}`);
    return request.method === 'POST' ? this.note(url.pathname, request) : this.ingest(url, request);
  };

  private async note(path: string, request: Request): Promise<Response> {
    if (request.headers.get('x-uploadthing-api-key') !== API_KEY) return new Response(null, { status: 401 });
    const body = (await request.json()) as Registration & {
      fileKeys: string[];
      fileKey: string;
      callbackData: unknown;
    };
    if (path === '/route-metadata') for (const key of body.fileKeys) this.registered.set(key, body);
    else this.results.set(body.fileKey, body.callbackData);
    return Response.json({ ok: true });
  }

  private async isSigned(url: URL): Promise<boolean> {
    const [head = '', signature = ''] = url.href.split('&signature=');
    const isTrue = await Micro.runPromise(verifySignature(head, decodeURIComponent(signature), secret));
    return isTrue && Number(url.searchParams.get('expires')) > Date.now();
  }

  private async ingest(url: URL, request: Request): Promise<Response> {
    if (!(await this.isSigned(url))) return Response.json({ error: 'Invalid signature' }, { status: 403 });
    const key = url.pathname.slice(1);
    if (request.method === 'HEAD') return new Response(null, { headers: { 'x-ut-range-start': '0' } });
    const value = (name: string) => decodeURIComponent(url.searchParams.get(name) ?? '');
    const part = (await request.formData()).get('file') as File;
    const bytes = Buffer.from(await part.arrayBuffer());
    const customId = value('x-ut-custom-id') || null;
    this.files.set(key, {
      key,
      customId,
      bytes,
      name: value('x-ut-file-name'),
      acl: value('x-ut-acl') || null,
    });
    const fileHash = createHash('md5').update(bytes).digest('hex');
    const at = `https://${APP}.ufs.sh/f/${key}`;
    const registered = this.registered.get(key);
    if (registered)
      await this.callBack(registered, {
        key,
        customId,
        name: part.name,
        size: bytes.length,
        type: value('x-ut-file-type'),
        fileHash,
        url: at,
        appUrl: at,
        ufsUrl: at,
      });
    return Response.json({
      url: at,
      appUrl: at,
      ufsUrl: at,
      fileHash,
      serverData: this.results.get(key) ?? null,
    });
  }

  private async callBack(to: Registration, file: Record<string, unknown>): Promise<void> {
    const body = JSON.stringify({
      status: 'uploaded',
      metadata: to.metadata,
      origin: 'https://fra1.ingest.uploadthing.com',
      file,
    });
    const url = new URL(to.callbackUrl);
    url.searchParams.set('slug', to.callbackSlug);
    const headers = {
      'content-type': 'application/json',
      'uploadthing-hook': 'callback',
      'x-uploadthing-signature': await sdkSignature(body),
    };
    await this.deliver(new Request(url, { method: 'POST', body, headers }));
  }

  private async read(url: URL, request: Request): Promise<Response> {
    const range = request.headers.get('range');
    this.reads.push({ url: url.href, range });
    if (!(await this.isSigned(url))) return new Response(null, { status: 403 });
    const file = this.files.get(url.pathname.replace('/f/', ''));
    if (!file) return new Response(null, { status: 404 });
    const parts = /^bytes=(\d+)-(\d+)$/.exec(range ?? '');
    if (!parts) return new Response(new Uint8Array(file.bytes));
    return new Response(new Uint8Array(file.bytes.subarray(Number(parts[1]), Number(parts[2]) + 1)), {
      status: 206,
    });
  }

  private async api(path: string, request: Request): Promise<Response> {
    if (request.headers.get('x-uploadthing-api-key') !== API_KEY) return new Response(null, { status: 401 });
    const body = (await request.json()) as { limit?: number; offset?: number; customIds?: string[] };
    if (path === '/v6/deleteFiles') {
      const gone = [...this.files.values()].filter(
        (file) => file.customId && body.customIds?.includes(file.customId),
      );
      for (const file of gone) this.files.delete(file.key);
      return Response.json({ success: true, deletedCount: gone.length });
    }
    const { offset = 0, limit = 500 } = body;
    const all = [...this.files.values()];
    return Response.json({
      hasMore: offset + limit < all.length,
      files: all.slice(offset, offset + limit).map((file) => ({
        ...{ id: file.key, customId: file.customId, key: file.key, name: file.name, size: file.bytes.length },
        ...{ status: 'Uploaded', uploadedAt: 0 },
      })),
    });
  }
}
